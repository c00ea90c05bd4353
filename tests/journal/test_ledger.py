"""What is kept, and what a list shows of it."""

import sqlite3
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.errors import JournalError
from faultkit.job.events import (
    CalledOut,
    Closed,
    Event,
    ReadingTaken,
    Remarked,
    Reopened,
    Repaired,
    RepairWithdrawn,
)
from faultkit.journal.ledger import Ledger
from faultkit.journal.statistics import statistics_of
from faultkit.vocabulary.diagnosis import Reading
from tests.journal.making import A_JOB, LAW, events_of, happenings, ledger, replayed, ticking

ONE = Reading(1.0)


def keep(store: Ledger, *events: Event, machine: str = "bridge-hoist") -> str:
    job = store.begin(machine, "1")
    for number, event in enumerate(events, start=1):
        store.note(job, number, event)
    return job


def test_what_was_noted_is_read_back_with_number_and_time() -> None:
    store = ledger()
    job = keep(store, *A_JOB)
    noted = store.read(job)
    assert events_of(noted) == list(A_JOB)
    assert [one.number for one in noted] == list(range(1, len(A_JOB) + 1))
    assert noted[0].when == datetime(2025, 3, 1, 12, 2, tzinfo=UTC)
    assert all(one.when.utcoffset() == timedelta(0) for one in noted)


def test_the_same_event_noted_again_changes_nothing() -> None:
    store = ledger()
    job = store.begin("m", "1")
    first = store.note(job, 1, Remarked("x"))
    assert store.note(job, 1, Remarked("x")) == first
    assert len(store.read(job)) == 1


def test_a_number_that_has_another_event_is_refused() -> None:
    store = ledger()
    job = keep(store, Remarked("x"))
    with pytest.raises(JournalError, match="Someone else"):
        store.note(job, 1, Remarked("y"))
    assert events_of(store.read(job)) == [Remarked("x")]


@pytest.mark.parametrize("number", [-1, 0, 3, 10**9])
def test_an_event_that_leaves_one_out_is_refused(number: int) -> None:
    store = ledger()
    job = keep(store, Remarked("x"))
    with pytest.raises(JournalError, match="cannot follow"):
        store.note(job, number, Remarked("y"))


def test_a_job_that_is_not_there_is_named() -> None:
    store = ledger()
    for ask in (store.read, store.head):
        with pytest.raises(JournalError, match="no job 'abc"):
            ask("abc" + "0" * 29)
    with pytest.raises(JournalError, match="no job"):
        store.note("f" * 32, 1, Remarked("x"))


def test_an_id_may_be_shortened_as_far_as_it_is_the_only_one() -> None:
    store = ledger()
    jobs = [store.begin("m", "1") for _ in range(40)]  # 40 ids cannot all begin differently
    assert store.head(jobs[0]).id == jobs[0]
    assert store.head(jobs[0][:31]).id == jobs[0]
    shared = next(job[0] for job in jobs if sum(other[0] == job[0] for other in jobs) > 1)
    with pytest.raises(JournalError, match="Several jobs"):
        store.head(shared)


@pytest.mark.parametrize("text", ["", "xyz", "%", "../../etc", "A0", "0" * 33, "a'--"])
def test_what_can_be_no_id_is_refused(text: str) -> None:
    with pytest.raises(JournalError, match="no id of a job"):
        ledger().head(text)


def test_the_head_says_what_the_events_say() -> None:
    store = ledger()
    head = store.head(keep(store, *A_JOB))
    assert (head.machine, head.version, head.asset, head.site, head.who) == (
        "bridge-hoist", "1", "H-12", "bay 3", "A. Person")
    assert (head.complaint, head.closed, head.events, head.readings) == (
        "UP does nothing", "fit for use", 8, 3)
    assert head.last - head.begun == timedelta(minutes=8)
    assert [(r.remedy, r.cured) for r in head.repairs] == [("Q3.replace", True)]


@LAW
@given(happenings())
def test_the_head_agrees_with_the_state_whatever_happens(events: list[Event]) -> None:
    store = ledger()
    head, state = store.head(keep(store, *events)), replayed(events)
    assert head.closed == (state.closed.how if state.closed else "")
    assert [(r.remedy, r.cured) for r in head.repairs] == [
        (r.remedy, r.cured) for r in state.repaired]
    assert head.events == len(events)
    assert head.readings == state.taken
    if "\0" not in state.call.asset and "\ud800" not in state.call.asset:
        assert head.asset == state.call.asset.encode("utf-8", "replace").decode()


def test_heads_come_with_the_one_last_worked_on_first_and_can_be_chosen() -> None:
    store = ledger()
    old = keep(store, CalledOut(asset="H-1"))
    new = keep(store, CalledOut(asset="H-2"), Closed("no fault found", "x"))
    other = keep(store, CalledOut(asset="H-1"), machine="crane")
    store.note(old, 2, Remarked("back again"))
    assert [head.id for head in store.heads()] == [old, other, new]
    assert [head.id for head in store.heads(2)] == [old, other]
    assert [head.id for head in store.heads(open_only=True)] == [old, other]
    assert [head.id for head in store.heads(asset="H-1", machine="crane")] == [other]
    assert store.heads(asset="' OR 1=1 --") == ()


def test_a_cure_is_confirmed_only_by_a_job_handed_over_as_fit_for_use() -> None:
    store = ledger()
    fit = Closed("fit for use", "x")
    keep(store, CalledOut(asset="H-1"), Repaired("a", cured=True), fit)
    keep(store, CalledOut(asset="H-2"), Repaired("b", cured=False), Repaired("a", cured=True), fit)
    keep(store, Repaired("a", cured=True))
    keep(store, Repaired("a", cured=True), Closed("not fit for use", "x", "a bridge"))
    keep(store, Repaired("a", cured=True), fit, Reopened())
    keep(store, Repaired("a", cured=True), RepairWithdrawn(), fit)
    keep(store, Repaired("a", cured=True), fit, machine="crane")
    assert store.confirmed("bridge-hoist") == {"a": 2}
    assert store.confirmed("bridge-hoist", "H-2") == {"a": 1}
    assert store.confirmed("crane") == {"a": 1}


def test_statistics_count_faults_by_month_and_average_closed_jobs() -> None:
    store = ledger(clock=ticking(datetime(2025, 1, 31, 23, 50, tzinfo=UTC), minutes=6))
    fit = Closed("fit for use", "x")
    keep(store, ReadingTaken("t", ONE), Repaired("Q3.replace", cured=True), fit)  # 23:56 .. 00:14
    keep(store, *[ReadingTaken("t", ONE)] * 3, Repaired("Q3.replace", cured=True), fit)
    keep(store, ReadingTaken("t", ONE))
    figures = statistics_of(store.heads())
    assert (figures.jobs, figures.open, figures.closed) == (3, 1, {"fit for use": 2})
    assert figures.cures == {"Q3.replace": {"2025-02": 2}}
    assert figures.mean_minutes == pytest.approx((18 + 30) / 2)
    assert figures.tests_a_job == pytest.approx(2.0)


def test_statistics_of_nothing_are_empty() -> None:
    figures = statistics_of(())
    assert (figures.jobs, figures.mean_minutes, figures.tests_a_job) == (0, None, None)


@pytest.mark.parametrize("statement", [
    "UPDATE event SET data = '{}' WHERE number = 1",
    "UPDATE event SET number = 9 WHERE number = 8",
    "DELETE FROM event",
    "INSERT OR REPLACE INTO event SELECT job, number, at, '{}', seal FROM event WHERE number = 1",
    "INSERT INTO event SELECT job, 77, at, data, seal FROM event WHERE number = 1",
    "DELETE FROM job",
])
def test_the_database_itself_refuses_to_change_what_happened(tmp_path: Path,
                                                             statement: str) -> None:
    path = tmp_path / "jobs.sqlite"
    store = ledger(path)
    job = keep(store, *A_JOB)
    connection = sqlite3.connect(path)
    with pytest.raises(sqlite3.IntegrityError, match=r"never|follow"):
        connection.execute(statement)
    connection.close()
    assert events_of(store.read(job)) == list(A_JOB)
    store.close()


def test_a_commit_waits_for_the_disk(tmp_path: Path) -> None:
    store = ledger(tmp_path / "jobs.sqlite")
    assert store.bank.query("PRAGMA synchronous") == [(2,)]  # FULL
    assert store.bank.query("PRAGMA journal_mode") == [("wal",)]
    assert store.bank.query("PRAGMA foreign_keys") == [(1,)]
    store.close()


@LAW
@given(st.lists(st.text(), max_size=3))
def test_no_text_is_ever_a_part_of_a_statement(texts: list[str]) -> None:
    store = ledger()
    for text in [*texts, "'); DROP TABLE event; --"]:
        keep(store, CalledOut(text, text, text, text), machine=text)
        assert store.heads(asset=text or "x", machine=text or "x") or not text
    assert len(store.heads()) == len(texts) + 1
