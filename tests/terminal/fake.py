"""A library of one machine, and the answers that a faulty machine gives."""

from collections.abc import Callable
from dataclasses import dataclass, field

from textual.pilot import Pilot

from faultkit.commands.opening import JobEngine
from faultkit.job.events import CalledOut, Event, ReadingTaken, SymptomTold
from faultkit.job.records import Assessment, JobState, Suggestion
from faultkit.terminal.desk import Desk
from faultkit.terminal.library import Offer
from faultkit.terminal.screens.bench.entry import ReadingEntry
from faultkit.terminal.wording.asking import understood
from faultkit.terminal.wording.complaint import grouped
from faultkit.vocabulary.machine import Machine
from tests.jobs.electrician import as_typed, symptoms_of
from tests.terminal.books import MemoryJobs
from tests.terminal.hands import settled


@dataclass
class Listening:
    """An engine that writes down every event it is given."""

    inner: JobEngine
    heard: list[Event] = field(default_factory=list)

    @property
    def machine(self) -> Machine:
        return self.inner.machine

    @property
    def doing(self) -> str:
        return self.inner.doing

    def step(self, state: JobState, event: Event) -> JobState:
        after = self.inner.step(state, event)
        self.heard.append(event)
        return after

    def assess(self, state: JobState) -> Assessment:
        return self.inner.assess(state)

    def consider(self, state: JobState, test: str) -> Suggestion:
        return self.inner.consider(state, test)


@dataclass
class OneMachine(MemoryJobs):
    """A library that holds one machine, opened before, and jobs in memory."""

    engine: Listening

    def offers(self) -> tuple[Offer, ...]:
        machine = self.engine.machine
        return (Offer(machine.id, machine.title, machine.says),)

    def open(self, name: str, say: Callable[[str], None]) -> Listening:
        say(f"Opening {name}.")
        return self.engine

    def close(self) -> None:
        """Nothing goes on."""


@dataclass(frozen=True)
class Script:
    """One job as it is told and measured."""

    shows: tuple[int, ...]
    """Numbers of the symptoms that show, in list order."""
    works: tuple[int, ...]
    lines: tuple[str, ...]
    """Readings as they are typed."""
    tests: tuple[str, ...]
    """Their tests."""
    events: tuple[Event, ...]
    """The same as events, the way into each state of the machine included."""


def job_for(engine: JobEngine, cause: str) -> Script:
    """Answers that a machine with this cause gives to every proposed test, up to the finding."""
    shows, works = symptoms_of(engine, cause)
    names = [s.id for _, group in grouped(engine.machine) for s in group]
    desk = Desk(engine)
    desk.tell(CalledOut(load="none"))
    for number in (*shows, *works):
        desk.tell(SymptomTold(names[number - 1], number in shows))
    lines: list[str] = []
    tests: list[str] = []
    for _ in range(20):
        found = desk.assess()
        if found.finding is not None:
            assert found.finding.remedies[0] == engine.machine.causes[cause].remedy
            return Script(shows, works, tuple(lines), tuple(tests), tuple(desk.events))
        test = found.next[0].test
        change = desk.needed(test)
        if change is not None:
            desk.tell(change.event)
        lines.append(as_typed(engine, cause, test))
        tests.append(test)
        desk.tell(ReadingTaken(test, understood(desk.test(test), lines[-1])))
    raise AssertionError(f"{cause} is never found")


async def type_line(pilot: "Pilot[int]", line: str) -> None:
    """Type a letter, or type and enter a reading, as a person at the bench would."""
    if len(line) == 1 and line.isalpha():
        await pilot.press(line)
    else:
        pilot.app.screen.query_one(ReadingEntry).insert_text_at_cursor(line)
        await pilot.press("enter")
    await settled(pilot)
