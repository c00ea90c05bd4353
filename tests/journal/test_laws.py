"""Laws of a journal, for random jobs."""

from dataclasses import replace
from io import StringIO
from pathlib import Path
from tempfile import TemporaryDirectory

from hypothesis import given
from hypothesis import strategies as st

from faultkit.job.events import (
    Event,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Repaired,
    RepairWithdrawn,
    SymptomTold,
    SymptomWithdrawn,
)
from faultkit.job.records import JobState
from faultkit.job.step import step
from faultkit.journal import open_store
from faultkit.journal.ledger import Ledger
from faultkit.journal.store import Store
from faultkit.vocabulary.diagnosis import Reading
from tests.journal.making import LAW, READINGS, TEXTS, events_of, happenings, ledger, replayed

REFERRING = (ReadingChanged, ReadingWithdrawn, Repaired, RepairWithdrawn)
"""Events that name a reading, or set it aside."""


def keep(store: Store | Ledger, events: list[Event]) -> str:
    job = store.begin("m", "1")
    for number, event in enumerate(events, start=1):
        store.note(job, number, event)
    return job


def exported(store: Store | Ledger) -> list[str]:
    out = StringIO()
    store.export(out)
    return out.getvalue().splitlines()


def ways(store: Store | Ledger) -> set[tuple[object, ...]]:
    """Everything that happened, whatever the ids under which it is kept."""
    return {(head.machine, head.begun, store.read(head.id)) for head in store.heads()}


@LAW
@given(happenings())
def test_replay_equals_live_after_closing_and_opening_again(events: list[Event]) -> None:
    with TemporaryDirectory() as folder:
        path, live = Path(folder) / "jobs.sqlite", JobState("m")
        store = open_store(path)
        job = store.begin("m", "1")
        for number, event in enumerate(events, start=1):
            store.note(job, number, event)
            live = step(live, event)
        store.close()
        again = open_store(path)
        assert replayed(events_of(again.read(job))) == live
        assert again.warning == ""
        again.close()


@LAW
@given(happenings(), happenings(most=6), TEXTS, READINGS)
def test_a_reading_withdrawn_is_as_if_it_was_never_entered(
        before: list[Event], after: list[Event], test: str, reading: Reading) -> None:
    """But for its number, which is not used again."""
    mark = replayed(before).taken + 1
    later = [event for event in after if not isinstance(event, REFERRING)]
    store = ledger()
    job = keep(store, [*before, ReadingTaken(test, reading), *later, ReadingWithdrawn(mark)])
    found, expected = replayed(events_of(store.read(job))), replayed([*before, *later])
    assert plain(found) == plain(expected)


@LAW
@given(happenings(), TEXTS, st.booleans())
def test_a_symptom_withdrawn_is_as_if_it_was_never_told(
        before: list[Event], symptom: str, shows: bool) -> None:
    if any(isinstance(e, SymptomTold | SymptomWithdrawn) and e.symptom == symptom
           for e in before):
        return
    store = ledger()
    job = keep(store, [*before, SymptomTold(symptom, shows), SymptomWithdrawn(symptom)])
    assert replayed(events_of(store.read(job))) == replayed(before)


def plain(state: JobState) -> object:
    """State without the numbers of its readings: only what came before what counts."""
    last = state.entries[-1].number if state.entries else 0
    bare = [replace(repair, set_aside=tuple(replace(e, number=0) for e in repair.set_aside))
            for repair in state.repaired]
    return replace(state, taken=0, switched=int(state.switched >= last), repaired=tuple(bare),
                   entries=tuple(replace(e, number=0) for e in state.entries))


@LAW
@given(st.lists(happenings(most=6), max_size=4))
def test_what_is_exported_and_imported_equals_the_original(jobs: list[list[Event]]) -> None:
    one, other = ledger(), ledger()
    for events in jobs:
        keep(one, events)
    took = other.take_in(exported(one))
    assert (took.jobs, took.doubled, took.clashes) == (len(jobs), 0, ())
    assert took.events == sum(map(len, jobs))
    assert other.heads() == one.heads()
    assert {h.id: other.read(h.id) for h in other.heads()} == {
        h.id: one.read(h.id) for h in one.heads()}
    assert exported(other) == exported(one)


@LAW
@given(st.lists(happenings(most=6), max_size=4))
def test_importing_twice_changes_nothing(jobs: list[list[Event]]) -> None:
    one, other = ledger(), ledger()
    for events in jobs:
        keep(one, events)
    lines = exported(one)
    other.take_in([*lines, *lines])  # files may be joined end to end
    before = exported(other)
    again = other.take_in(lines)
    assert (again.jobs, again.events, again.clashes) == (0, 0, ())
    assert again.doubled == sum(map(len, jobs))
    assert exported(other) == before


@LAW
@given(happenings(most=5), happenings(most=4), happenings(most=4), st.data())
def test_vans_that_go_on_apart_and_exchange_everything_come_to_hold_the_same(
        shared: list[Event], here: list[Event], there: list[Event], data: st.DataObject) -> None:
    """In whatever order and however often: nothing doubled, nothing lost."""
    vans = [ledger(), ledger(), ledger()]
    job = keep(vans[0], shared)
    for van in vans[1:]:
        van.take_in(exported(vans[0]))
    wanted = set()
    for van, events in zip(vans, (here, there, []), strict=True):
        for number, event in enumerate(events, start=len(shared) + 1):
            van.note(job, number, event)
        wanted |= ways(van)
    longest = {way for way in wanted if not any(begins(way, other) for other in wanted)}
    for _ in range(6):
        giver, taker = data.draw(st.permutations(vans))[:2]
        taker.take_in(exported(giver))
    for giver in vans * 2:
        for taker in vans:
            if taker is not giver:
                taker.take_in(exported(giver))
    for van in vans:
        assert ways(van) == longest
        assert len(van.heads()) == len(longest)


def begins(way: tuple[object, ...], other: tuple[object, ...]) -> bool:
    """Whether one way is only the beginning of another."""
    machine, begun, noted = way
    their_machine, their_begun, theirs = other
    assert isinstance(noted, tuple)
    assert isinstance(theirs, tuple)
    return ((machine, begun) == (their_machine, their_begun) and len(noted) < len(theirs)
            and theirs[:len(noted)] == noted)
