"""The course of a job: its events with the states between, and what was to be thought in each."""

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import cached_property
from itertools import pairwise
from typing import Protocol, TypeVar

from faultkit.errors import CircuitError, UsageError
from faultkit.job.assess import assess, suspected
from faultkit.job.events import (
    Event,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Repaired,
    RepairWithdrawn,
)
from faultkit.job.knowledge import Knowledge
from faultkit.job.probe import is_probe
from faultkit.job.records import Assessment, Entry, JobState, Suspect
from faultkit.job.step import step
from faultkit.reports.words import Clock
from faultkit.vocabulary.diagnosis import Reading, Test
from faultkit.vocabulary.machine import Machine

Kind = TypeVar("Kind", bound=Event)


class NotedLike(Protocol):
    """An event with its time, as a journal gives it."""

    @property
    def when(self) -> datetime:
        """When it happened, with its zone."""
        ...

    @property
    def event(self) -> Event:
        """What happened."""
        ...


@dataclass(frozen=True, slots=True)
class Happening:
    """An event between two states."""

    when: datetime
    event: Event
    before: JobState
    after: JobState


@dataclass(slots=True)
class Life:
    """What became of one reading."""

    number: int
    test: str
    taken: datetime
    first: Reading
    changes: list[tuple[datetime, Reading, Reading]] = field(default_factory=list)
    """When, from what, to what."""
    withdrawn: datetime | None = None

    @property
    def reading(self) -> Reading:
        """As it stands now."""
        return self.changes[-1][2] if self.changes else self.first


@dataclass(frozen=True, slots=True)
class Search:
    """The readings up to a repair that did not cure, or to the end."""

    number: int
    state: JobState
    """All that was known at its end, before the repair."""
    repair: Happening | None
    """The repair that ended it, cured or not; None while no repair was made."""
    done: bool
    """Its readings count no more."""


class Course:
    """One job, event by event.

    Parameters
    ----------
    knowledge : Knowledge
    noted : sequence
        Events with their times, in order; at least one.
    clock : Clock
    """

    def __init__(self, knowledge: Knowledge, noted: Sequence[NotedLike], clock: Clock) -> None:
        self.knowledge = knowledge = _with_free_entries(knowledge, noted)
        self.machine: Machine = knowledge.machine
        """With the free entries of this job among its tests."""
        self.clock = clock
        self.happenings: list[Happening] = []
        state = JobState(machine=knowledge.machine.id)
        for one in noted:
            after = step(state, one.event)
            self.happenings.append(Happening(one.when, one.event, state, after))
            state = after
        self.state = state
        self.lives = _lives(self.happenings)
        self._views: dict[JobState, Assessment] = {}
        self._weighed: dict[JobState, tuple[tuple[Suspect, ...], float]] = {}

    @property
    def begun(self) -> datetime:
        """Time of the first event."""
        return self.happenings[0].when

    @property
    def last(self) -> datetime:
        """Time of the last event."""
        return self.happenings[-1].when

    def of(self, kind: type[Kind]) -> "list[tuple[Happening, Kind]]":
        """All events of one kind."""
        return [(h, h.event) for h in self.happenings if isinstance(h.event, kind)]

    def test(self, name: str) -> Test | None:
        """A test by its id; None for one that the machine does not have any more."""
        return self.machine.tests.get(name)

    def view(self, state: JobState) -> Assessment:
        """What was to be thought in a state; computed once for each."""
        known = self.weighed(state)
        if known not in self._views:
            self._views[known] = assess(known, self.knowledge)
        return self._views[known]

    def suspects(self, state: JobState) -> tuple[tuple[Suspect, ...], float]:
        """Suspects in a state, and the probability of an unknown fault; as in `view`."""
        known = self.weighed(state)
        if known not in self._weighed:
            self._weighed[known] = suspected(known, self.knowledge)
        return self._weighed[known]

    def weighed(self, state: JobState) -> JobState:
        """The part of a state that the suspects depend on, and that the machine still describes."""
        machine = self.machine
        return JobState(
            machine=state.machine,
            told=tuple(t for t in state.told if t.symptom in machine.symptoms),
            entries=tuple(e for e in state.entries if self.readable(e)),
            taken=state.taken,
            repaired=tuple(replace(r, set_aside=(), repeated="", reading=None, note="")
                           for r in state.repaired if r.remedy in machine.remedies),
        )

    def readable(self, entry: Entry) -> bool:
        """Whether a reading fits its test as it is described today."""
        test = self.test(entry.test)
        return test is not None and (entry.reading.value is None) == (test.meter == "words")

    @cached_property
    def searches(self) -> tuple[Search, ...]:
        """The job in parts: each repair that stands, and what is open after it."""
        standing: list[Happening] = []
        for one in self.happenings:
            if isinstance(one.event, Repaired):
                standing.append(one)
            elif isinstance(one.event, RepairWithdrawn):
                standing.pop()
        made, number = [], 1
        for one in standing:
            assert isinstance(one.event, Repaired)
            made.append(Search(number, self._as_ended(one), one, done=not one.event.cured))
            number += not one.event.cured
        seen = {e.number for one in made for e in one.state.entries}
        if not made or made[-1].done or any(e.number not in seen for e in self.state.entries):
            number += bool(made) and not made[-1].done
            made.append(Search(number, self.state, None, done=False))
        return tuple(made)

    @cached_property
    def places(self) -> dict[int, tuple[Search, int]]:
        """Number of a reading that counts or counted -> its search, and its position in it."""
        found: dict[int, tuple[Search, int]] = {}
        for search in self.searches:
            for position, entry in enumerate(search.state.entries):
                found.setdefault(entry.number, (search, position))
        return found

    def _as_ended(self, repair: Happening) -> JobState:
        """State before a repair, with its readings as they are known now."""
        entries = []
        for entry in repair.before.entries:
            life = self.lives[entry.number]
            if life.withdrawn is None:
                entries.append(replace(entry, reading=life.reading))
        return replace(repair.before, entries=tuple(entries))

    def after(self, search: Search, count: int) -> JobState:
        """State of a search after its first readings, everything else as known at its end."""
        return replace(search.state, entries=search.state.entries[:count])


def _with_free_entries(knowledge: Knowledge, noted: Sequence[NotedLike]) -> Knowledge:
    """Predict what was measured freely; what cannot be predicted any more is left out."""
    names = {one.event.test for one in noted if isinstance(one.event, ReadingTaken)}
    for name in sorted(filter(is_probe, names)):
        with suppress(UsageError, CircuitError):
            knowledge = knowledge.with_probe(name)
    return knowledge


def _lives(happenings: Sequence[Happening]) -> dict[int, Life]:
    lives: dict[int, Life] = {}
    for one in happenings:
        match one.event:
            case ReadingTaken(test=test, reading=reading):
                lives[one.after.taken] = Life(one.after.taken, test, one.when, reading)
            case ReadingChanged(number=number, reading=reading):
                life = lives[number]
                life.changes.append((one.when, life.reading, reading))
            case ReadingWithdrawn(number=number):
                lives[number].withdrawn = one.when
            case _:
                pass
    return lives


def longest_pause(happenings: Sequence[Happening]) -> "tuple[Happening, Happening] | None":
    """The two neighbours with the most time between them."""
    return max(pairwise(happenings), key=lambda p: p[1].when - p[0].when, default=None)


def first_of(happenings: Sequence[Happening],
             wanted: Callable[[Event], bool]) -> Happening | None:
    """The first event of a sort."""
    return next((one for one in happenings if wanted(one.event)), None)


def need(noted: Sequence[NotedLike]) -> None:
    """Refuse an empty job.

    Raises
    ------
    UsageError
        There is nothing to report.
    """
    if not noted:
        raise UsageError("Nothing has happened in this job yet.", "Take a reading first.")
