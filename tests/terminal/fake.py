"""A fake faulty machine, and the same job typed on both fronts."""

import math
from collections.abc import Callable
from dataclasses import dataclass, field

from textual.pilot import Pilot

from faultkit.commands.opening import JobEngine
from faultkit.job.events import Event, SymptomTold
from faultkit.job.records import Assessment, JobState, Suggestion
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.library import Offer
from faultkit.terminal.plain.plain import run_plain
from faultkit.vocabulary.diagnosis import Reading
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.quantities import show_reading
from tests.terminal.books import MemoryJobs


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
    """One job as it is typed: marks on the complaint, then lines at the bench.

    A line of one letter is a command; anything else is typed and entered.
    """

    shows: tuple[int, ...]
    works: tuple[int, ...]
    lines: tuple[str, ...]
    tests: tuple[str, ...]
    """The tests whose readings are typed, in order."""


def as_typed(engine: JobEngine, cause: str, test: str) -> str:
    """What a machine with this cause would show at a test, as a person would type it."""
    table = engine.knowledge.prediction
    row = next(v for v in range(len(table.owner))
               if table.owner[v] >= 0 and table.causes[table.owner[v]].id == cause)
    column = [one.id for one in table.tests].index(test)
    if table.words[column]:
        likeliest = int(table.word_p[row, column].argmax())
        return str(likeliest + 1)
    value = float(table.value[row, column])
    if math.isinf(value):
        return "OL"
    return show_reading(Reading(float(f"{value:.3g}")), table.tests[column].meter)


def symptoms_of(engine: JobEngine, cause: str) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Numbers of the symptoms that show under a cause, and of the others, in list order."""
    from faultkit.terminal.wording.complaint import grouped

    table = engine.knowledge.prediction
    row = next(v for v in range(len(table.owner))
               if table.owner[v] >= 0 and table.causes[table.owner[v]].id == cause)
    names = [s.id for _, group in grouped(engine.machine) for s in group]
    shows = [table.symptom_p[row, table.symptoms.index(name)] > 0.5 for name in names]
    return (tuple(n for n, yes in enumerate(shows, 1) if yes),
            tuple(n for n, yes in enumerate(shows, 1) if not yes))


def job_for(engine: JobEngine, cause: str, detours: bool = False) -> Script:
    """Answers that a machine with this cause gives to every proposed test, up to the cure.

    With `detours` the first reading is mistyped, taken back and typed again, and one test is
    left out and offered again.
    """
    from faultkit.job.events import ReadingTaken
    from faultkit.terminal.wording.asking import understood
    from faultkit.terminal.wording.complaint import grouped

    shows, works = symptoms_of(engine, cause)
    names = [s.id for _, group in grouped(engine.machine) for s in group]
    state = JobState(machine=engine.machine.id)
    for number in shows:
        state = engine.step(state, SymptomTold(names[number - 1], shows=True))
    for number in works:
        state = engine.step(state, SymptomTold(names[number - 1], shows=False))
    lines: list[str] = []
    tests: list[str] = []
    for _ in range(20):
        found = engine.assess(state)
        if found.finding is not None:
            assert found.finding.remedies[0] == engine.machine.causes[cause].remedy
            return Script(shows, works, (*lines, "finding:1"), tuple(tests))
        test = found.next[0].test
        typed = as_typed(engine, cause, test)
        if detours and not lines:
            lines += ["s", "u", typed, "u"]
        lines.append(typed)
        tests.append(test)
        reading = understood(engine.machine.tests[test], typed)
        state = engine.step(state, ReadingTaken(test, reading))
    raise AssertionError(f"{cause} is never found")


def typed_lines(script: Script) -> list[str]:
    """A job as lines for the line-by-line mode."""
    return [" ".join(str(number) for number in script.shows),
            *(f"w{number}" for number in script.works), "0",
            *(line.removeprefix("finding:") for line in script.lines)]


def on_lines(engine: JobEngine, script: Script) -> tuple[list[Event], str]:
    """Do a job line by line; the events, and everything that was said."""
    heard = Listening(engine)
    said: list[str] = []
    answers = iter(typed_lines(script))

    def ask(prompt: str) -> str:
        said.append(prompt)
        answer = next(answers, None)
        if answer is None:
            raise EOFError
        return answer

    assert run_plain(OneMachine(heard), engine.machine.id, ask, said.append) == 0
    return heard.heard, "\n".join(said)


async def on_screens(
    engine: JobEngine, script: Script, size: tuple[int, int] = (80, 24),
) -> tuple[list[Event], str]:
    """Do a job on screens; the events, and the name of the last screen."""
    heard = Listening(engine)
    app = FaultkitApp(OneMachine(heard), engine.machine.id)
    async with app.run_test(size=size) as pilot:
        await settled(pilot)
        await pilot.press("enter")
        for number in script.shows:
            await pilot.press(str(number))
        for number in script.works:
            await pilot.press(str(number), str(number))
        await pilot.press("0")
        await settled(pilot)
        for line in script.lines:
            await type_line(pilot, line)
        return heard.heard, type(app.screen).__name__


async def type_line(pilot: "Pilot[int]", line: str) -> None:
    """Type one line of a script as a person at the bench would."""
    if line.startswith("finding:"):
        digit = line.removeprefix("finding:")
        await pilot.press(digit, digit)
    elif len(line) == 1 and line.isalpha():
        await pilot.press(line)
    else:
        from faultkit.terminal.screens.bench.entry import ReadingEntry

        pilot.app.screen.query_one(ReadingEntry).insert_text_at_cursor(line)
        await pilot.press("enter")
    await settled(pilot)


async def settled(pilot: "Pilot[int]") -> None:
    """Wait until nothing is being worked out and everything is drawn."""
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()
