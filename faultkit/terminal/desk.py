"""One job on the desk: the events so far, the state they give, and the way back.

Both fronts change a job only through `Desk.tell` and `Desk.undo`, so a journal needs to listen
at one place only.
"""

from collections.abc import Callable
from typing import Protocol

from faultkit.errors import UsageError
from faultkit.job.events import (
    Event,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Repaired,
    RepairWithdrawn,
    SymptomTold,
    SymptomWithdrawn,
    TestOffered,
    TestSkipped,
)
from faultkit.job.records import Assessment, JobState, Suggestion
from faultkit.vocabulary.machine import Machine


class Engine(Protocol):
    """What a job is worked out with: one machine and everything computed from it."""

    @property
    def machine(self) -> Machine:
        """The machine, complete and checked."""
        ...

    @property
    def doing(self) -> str:
        """A sentence on work that still goes on in the background; empty when ready."""
        ...

    def step(self, state: JobState, event: Event) -> JobState:
        """Give the state after an event; FaultkitError where it cannot be."""
        ...

    def assess(self, state: JobState) -> Assessment:
        """Work out suspects, next tests and finding. May take seconds."""
        ...

    def consider(self, state: JobState, test: str) -> Suggestion:
        """Tell what one named test costs and gains, proposed or not."""
        ...


def ignore(_event: Event) -> None:
    """Stand where a journal would listen."""


class Desk:
    """A job in the making.

    Parameters
    ----------
    engine : Engine
    heard : callable
        Called with every event after it was accepted and before anything is shown.
    """

    def __init__(self, engine: Engine, heard: Callable[[Event], None] = ignore) -> None:
        self.engine = engine
        self.machine = engine.machine
        self.state = JobState(machine=engine.machine.id)
        self.events: list[Event] = []
        self._heard = heard
        self._done: list[tuple[Event, JobState]] = []
        self._renumbered: dict[int, int] = {}

    @property
    def cured(self) -> bool:
        """Whether the last repair cured the machine."""
        return bool(self.state.repaired) and self.state.repaired[-1].cured

    def tell(self, event: Event) -> None:
        """Let something happen. FaultkitError where it cannot; then nothing has changed."""
        before = self.state
        self._happen(event)
        if self.state != before:
            self._done.append((event, before))

    def undo(self) -> str:
        """Take the last change back, by the event that undoes it. Gives a sentence."""
        if not self._done:
            return "There is nothing to take back."
        event, before = self._done[-1]
        counter = self._counter(event, before)
        self._done.pop()
        self._happen(counter)
        if isinstance(event, ReadingWithdrawn):
            self._renumbered[event.number] = self.state.taken
        return _undone(event, self.machine)

    def reading_of(self, test: str) -> int:
        """Give the number of the last reading of a test in this state; 0 for none."""
        return max((e.number for e in self.state.entries if e.test == test), default=0)

    def _happen(self, event: Event) -> None:
        self.state = self.engine.step(self.state, event)
        self.events.append(event)
        self._heard(event)

    def _number(self, number: int) -> int:
        while number in self._renumbered:
            number = self._renumbered[number]
        return number

    def _counter(self, event: Event, before: JobState) -> Event:
        """The event that leads back to the state before."""
        if isinstance(event, SymptomTold | SymptomWithdrawn):
            told = [t for t in before.told if t.symptom == event.symptom]
            return told[-1] if told else SymptomWithdrawn(event.symptom)
        if isinstance(event, ReadingTaken):
            return ReadingWithdrawn(self._number(before.taken + 1))
        if isinstance(event, ReadingChanged | ReadingWithdrawn):
            entry = next(e for e in before.entries if e.number == event.number)
            if isinstance(event, ReadingWithdrawn):
                return ReadingTaken(entry.test, entry.reading)
            return ReadingChanged(self._number(event.number), entry.reading)
        if isinstance(event, TestSkipped):
            return TestOffered(event.test)
        if isinstance(event, TestOffered):
            return TestSkipped(event.test)
        if isinstance(event, Repaired):
            return RepairWithdrawn()
        raise UsageError("This cannot be taken back. Go on from here.")


def tell_differences(desk: Desk, wanted: dict[str, bool]) -> None:
    """Bring what is told about symptoms into line with `wanted` (symptom -> shows)."""
    told = {t.symptom: t.shows for t in desk.state.told}
    for symptom in told:
        if symptom not in wanted:
            desk.tell(SymptomWithdrawn(symptom))
    for symptom, shows in wanted.items():
        if told.get(symptom) is not shows:
            desk.tell(SymptomTold(symptom, shows))


def _undone(event: Event, machine: Machine) -> str:
    """What was taken back, in words."""
    does = machine.tests[event.test].does.rstrip(".") if isinstance(
        event, ReadingTaken | TestSkipped | TestOffered) else ""
    ends = "" if does.endswith("?") else "."
    if isinstance(event, ReadingTaken):
        return f"Reading taken back: {does}{ends}"
    if isinstance(event, ReadingChanged):
        return f"Reading {event.number} is again as it was."
    if isinstance(event, ReadingWithdrawn):
        return f"Reading {event.number} is back."
    if isinstance(event, TestSkipped):
        return f"Can be proposed again: {does}{ends}"
    if isinstance(event, TestOffered):
        return f"Left out again: {does}{ends}"
    if isinstance(event, Repaired):
        says = machine.remedies[event.remedy].says
        return f"Repair taken back, its readings count again: {says}."
    return "What was told about the complaint is as it was."
