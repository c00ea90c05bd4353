"""Events, jobs and stores for the tests of the journal."""

from collections.abc import Callable, Iterator
from dataclasses import fields
from datetime import UTC, datetime, timedelta
from pathlib import Path
from types import UnionType
from typing import Literal, get_args, get_origin, get_type_hints

from hypothesis import settings
from hypothesis import strategies as st

from faultkit.job.events import (
    EVENTS,
    CalledOut,
    Closed,
    Event,
    ProofMade,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Repaired,
    RepairWithdrawn,
    SymptomTold,
)
from faultkit.job.records import JobState
from faultkit.job.step import step
from faultkit.journal.ledger import Ledger
from faultkit.journal.records import Noted
from faultkit.journal.sqlite import SqliteBank
from faultkit.vocabulary.diagnosis import Reading

LAW = settings(max_examples=60, deadline=None)
"""The disk takes the time it takes."""

TEXTS = st.text(st.characters(), max_size=12) | st.sampled_from(
    ["", "\0", "\ud800", "'; DROP TABLE event; --", "[bold]", "\x1b[2J", "-Q3", "UP does nothing"])
"""Halves of characters, NUL and the languages of others included."""
READINGS = st.builds(
    Reading, st.floats(allow_nan=False).filter(lambda value: value != float("-inf")),
) | st.builds(Reading, st.none(), TEXTS)


def values(hint: object) -> st.SearchStrategy[object]:
    """Anything a field of that type may hold."""
    origin, inner = get_origin(hint), get_args(hint)
    if origin is Literal:
        return st.sampled_from(inner)
    if origin is UnionType:
        return st.one_of(*(values(one) for one in inner))
    if origin is tuple:
        return st.lists(values(inner[0]), max_size=4).map(tuple)
    plain: dict[object, st.SearchStrategy[object]] = {
        str: TEXTS, int: st.integers(0, 10**6), bool: st.booleans(), Reading: READINGS,
        type(None): st.none()}
    return plain[hint]


def any_of(kind: type[Event]) -> st.SearchStrategy[Event]:
    """Any event of one kind."""
    hints = get_type_hints(kind)
    return st.builds(kind, **{one.name: values(hints[one.name]) for one in fields(kind)})


ANY_EVENT: st.SearchStrategy[Event] = st.one_of(*(any_of(kind) for kind in EVENTS))


@st.composite
def happenings(draw: st.DrawFn, *, most: int = 12) -> list[Event]:
    """Events that may follow each other."""
    state, told = JobState("m"), []
    for _ in range(draw(st.integers(0, most))):
        event = draw(ANY_EVENT)
        if isinstance(event, ReadingChanged | ReadingWithdrawn):
            if not state.entries:
                continue
            number = draw(st.sampled_from(state.entries)).number
            event = (ReadingChanged(number, event.reading) if isinstance(event, ReadingChanged)
                     else ReadingWithdrawn(number))
        if isinstance(event, RepairWithdrawn) and not state.repaired:
            continue
        state = step(state, event)
        told.append(event)
    return told


def replayed(events: Iterator[Event] | list[Event]) -> JobState:
    """State after events."""
    state = JobState("m")
    for event in events:
        state = step(state, event)
    return state


def events_of(noted: tuple[Noted, ...]) -> list[Event]:
    """Events without number and time."""
    return [one.event for one in noted]


def ticking(start: datetime = datetime(2025, 3, 1, 12, tzinfo=UTC),
            minutes: float = 1.0) -> Callable[[], datetime]:
    """Make a clock that goes on by itself whenever it is read."""
    count = 0

    def clock() -> datetime:
        nonlocal count
        count += 1
        return start + timedelta(minutes=minutes * count)

    return clock


def ledger(path: Path | None = None, clock: Callable[[], datetime] | None = None) -> Ledger:
    """A store without anything that guards it."""
    return Ledger(SqliteBank(path), clock or ticking())


A_JOB: tuple[Event, ...] = (
    CalledOut(who="A. Person", asset="H-12", site="bay 3", complaint="UP does nothing"),
    SymptomTold("no-up", shows=True),
    ReadingTaken("up-coil", Reading(0.0)),
    ReadingTaken("dead-up", Reading(float("inf"))),
    ReadingTaken("look-k1", Reading(None, "in")),
    Repaired("Q3.replace", cured=True),
    ProofMade("emergency stop", passed=True, who="A. Person"),
    Closed("fit for use", "A. Person"),
)
