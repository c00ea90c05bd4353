"""One job on the desk: the events so far, the state they give, and the way back.

Both fronts change a job only through `Desk.tell` and `Desk.undo`, so a journal needs to listen
at one place only. An event may be refused; then it is written down; then the state changes.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Protocol

from faultkit.job.events import (
    Closed,
    ConditionChanged,
    Event,
    ReadingTaken,
    ReadingWithdrawn,
    SymptomTold,
    SymptomWithdrawn,
)
from faultkit.job.named import named_test
from faultkit.job.permit import refuse
from faultkit.job.procedure import ProcedureStep, needed, procedure
from faultkit.job.records import Assessment, JobState, Suggestion
from faultkit.terminal.taking_back import counter_of, taken_back, why_not
from faultkit.vocabulary.diagnosis import Test
from faultkit.vocabulary.machine import Machine

KEPT = 8
"""Assessments kept, so that what was previewed is at hand when it is confirmed."""


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


class Happened(Protocol):
    """An event that a journal kept."""

    @property
    def event(self) -> Event:
        """The event itself."""
        ...


@dataclass(frozen=True, slots=True)
class Change:
    """The way into another condition: steps to acknowledge one by one, and what they make true."""

    condition: str
    dead: bool
    steps: tuple[ProcedureStep, ...]
    minutes: float

    @property
    def event(self) -> ConditionChanged:
        """What to tell once every step is acknowledged."""
        return ConditionChanged(self.condition, self.dead, tuple(one.id for one in self.steps))


def ignore(_event: Event) -> None:
    """Stand where a journal would listen."""


class Desk:
    """A job in the making.

    Parameters
    ----------
    engine : Engine
    heard : callable
        Called with every event that may happen, before anything changes. What it raises (a
        FaultkitError) goes to whoever told the event, and then nothing has happened.
    noted : iterable
        What happened in this job before, from a journal, in order; it is not heard again.
    """

    def __init__(
        self, engine: Engine, heard: Callable[[Event], object] = ignore,
        noted: Iterable[Happened] = (),
    ) -> None:
        self.engine = engine
        self.machine = engine.machine
        self.state = JobState(machine=engine.machine.id)
        self.events: list[Event] = []
        self._heard = heard
        self._done: list[tuple[Event, JobState]] = []
        self._renumbered: dict[int, int] = {}
        self._assessed: dict[JobState, Assessment] = {}
        for one in noted:
            before = self.state
            self._accept(one.event, self.engine.step(before, one.event))
            self._remember(one.event, before)

    @property
    def cured(self) -> bool:
        """Whether the last repair cured the machine."""
        return bool(self.state.repaired) and self.state.repaired[-1].cured

    @property
    def condition(self) -> str | None:
        """Condition the machine was last put into; None when nothing was done yet."""
        for event in reversed(self.events):
            if isinstance(event, ConditionChanged):
                return event.condition
            if isinstance(event, ReadingTaken):
                return self.test(event.test).condition
        return None

    def tell(self, event: Event) -> None:
        """Let something happen. FaultkitError where it cannot; then nothing has changed."""
        before = self.state
        self._happen(event, self._after(event))
        self._remember(event, before)

    def undo(self) -> str:
        """Take the last change back, by the event that undoes it. Gives a sentence.

        What cannot be taken back is passed over with the reason.
        """
        if not self._done:
            return "There is nothing to take back."
        event, before = self._done[-1]
        counter = counter_of(event, before, self._number)
        if counter is None:
            self._done.pop()
            return why_not(event)
        if isinstance(counter, Closed):
            after = self._after(counter)
        else:
            after = self.engine.step(self.state, counter)
        self._happen(counter, after)
        self._done.pop()
        if isinstance(event, ReadingWithdrawn):
            self._renumbered[event.number] = self.state.taken
        return taken_back(event, self.machine, self.test)

    def assess(self) -> Assessment:
        """Work out what follows from the state now; at once where it was worked out before."""
        return self._assess(self.state)

    def preview(self, event: Event) -> tuple[Assessment, Assessment]:
        """Work out what follows now, and what would follow if this happened.

        FaultkitError where it cannot happen. Nothing changes.
        """
        after = self._after(event)
        return self.assess(), self._assess(after)

    def needed(self, test: str) -> Change | None:
        """Give what must be gone through before a test may be made; None for nothing."""
        to_dead = needed(self.state, self.machine, test)
        return None if to_dead is None else self.change(self.test(test).condition)

    def change(self, condition: str) -> Change:
        """Give the way into a condition, dead or live as that is."""
        dead = self.machine.conditions[condition].dead
        steps = procedure(self.machine, self.state, dead, condition)
        return Change(condition, dead, steps.steps, steps.minutes)

    def change_to(self, *, dead: bool) -> Change | None:
        """Give the way into the first dead, or live, condition; None where the machine is so."""
        first = next((c.id for c in self.machine.conditions.values() if c.dead == dead), None)
        return None if first is None or self.state.dead == dead else self.change(first)

    def test(self, name: str) -> Test:
        """Give a test by its id, free ones included; UsageError where there is none."""
        return named_test(self.machine, name)

    def reading_of(self, test: str) -> int:
        """Give the number of the last reading of a test in this state; 0 for none."""
        return max((e.number for e in self.state.entries if e.test == test), default=0)

    def _after(self, event: Event) -> JobState:
        refuse(self.state, event, self.machine)
        return self.engine.step(self.state, event)

    def _happen(self, event: Event, after: JobState) -> None:
        self._heard(event)
        self._accept(event, after)

    def _accept(self, event: Event, after: JobState) -> None:
        self.state = after
        self.events.append(event)

    def _remember(self, event: Event, before: JobState) -> None:
        if self.state != before:
            self._done.append((event, before))

    def _number(self, number: int) -> int:
        while number in self._renumbered:
            number = self._renumbered[number]
        return number

    def _assess(self, state: JobState) -> Assessment:
        found = self._assessed.pop(state, None) or self.engine.assess(state)
        self._assessed[state] = found
        while len(self._assessed) > KEPT:
            self._assessed.pop(next(iter(self._assessed)), None)
        return found


def tell_differences(desk: Desk, wanted: dict[str, bool]) -> None:
    """Bring what is told about symptoms into line with `wanted` (symptom -> shows)."""
    for event in differences(desk.state, wanted):
        desk.tell(event)


def differences(state: JobState, wanted: dict[str, bool]) -> list[SymptomTold | SymptomWithdrawn]:
    """Events that bring what is told about symptoms into line with `wanted`."""
    told = {t.symptom: t.shows for t in state.told}
    return [*(SymptomWithdrawn(symptom) for symptom in told if symptom not in wanted),
            *(SymptomTold(symptom, shows) for symptom, shows in wanted.items()
              if told.get(symptom) is not shows)]
