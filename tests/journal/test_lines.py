"""Lines that are none, and jobs that went on in two ways."""

import json
from io import StringIO

import pytest

from faultkit.errors import JournalError
from faultkit.job.events import Remarked
from faultkit.journal.ledger import Ledger
from tests.journal.making import A_JOB, events_of, ledger, ticking

ID = "ab" * 16
AT = "2025-03-01T12:00:00.000000+00:00"


def line(job: object = ID, number: object = 1, at: object = AT, event: object = None,
         **more: object) -> str:
    event = {"kind": "Remarked", "text": "x"} if event is None else event
    return json.dumps({"job": job, "number": number, "at": at, "event": event, **more})


def begun(job: object = ID, **more: object) -> str:
    return line(job, 0, event={"kind": "Begun", "machine": "m", "version": "1", **more})


def keep(store: Ledger, *texts: str, job: str = "") -> str:
    start = len(store.read(job)) if job else 0
    job = job or store.begin("m", "1")
    for number, text in enumerate(texts, start=start + 1):
        store.note(job, number, Remarked(text))
    return job


def exported(store: Ledger, *jobs: str) -> list[str]:
    out = StringIO()
    store.export(out, jobs or None)
    return out.getvalue().splitlines()


@pytest.mark.parametrize(("bad", "says"), [
    ("{", "no JSON"),
    ("[]", "no line of exported jobs"),
    ('{"job": "x"}', "no line of exported jobs"),
    (line(colour="red"), "no line of exported jobs"),
    (line(job="../../etc/passwd"), "32 hexadecimal"),
    (line(job=ID.upper()), "32 hexadecimal"),
    (line(job=None), "32 hexadecimal"),
    (line(number="1"), "whole number"),
    (line(number=True), "whole number"),
    (line(number=-1), "whole number"),
    (line(number=2), "before number 2"),
    (line(job="cd" * 16), "before number 1"),
    (line(at="yesterday"), "moment"),
    (line(at="2025-03-01T12:00:00"), "moment"),
    (line(at=None), "moment"),
    (line(event={"kind": "Exploded"}), "Exploded"),
    (begun(machine=7), "machine"),
    (line(number=0), "what it is about"),
    ('{"faultkit jobs": 2}', "does not know"),
])
def test_a_line_that_is_none_is_named_and_nothing_is_taken_in(bad: str, says: str) -> None:
    store = ledger()
    with pytest.raises(JournalError, match=f"^Line 3: .*{says}") as caught:
        store.take_in([begun("cd" * 16), begun(), bad])
    assert "Nothing was taken in." in caught.value.way_out
    assert store.heads() == ()


def test_an_event_of_a_newer_version_says_so() -> None:
    with pytest.raises(JournalError, match="newer faultkit"):
        ledger().take_in([begun(), line(event={"kind": "Exploded"})])


def test_empty_lines_do_not_matter() -> None:
    assert ledger().take_in(["", begun(), "  \n", line()]).events == 1


def test_each_line_stands_for_itself_and_says_where_it_belongs() -> None:
    store = ledger()
    job = keep(store, "a\nb", "\x1b[2J\u2028")
    head, *lines = exported(store)
    assert json.loads(head) == {"faultkit jobs": 1}
    assert [json.loads(one)["number"] for one in lines] == [0, 1, 2]
    assert all(json.loads(one)["job"] == job and one.isascii() for one in lines)


def test_only_the_jobs_asked_for_are_exported() -> None:
    store, other = ledger(), ledger()
    first, _, third = keep(store, "a"), keep(store, "b"), keep(store, "c")
    other.take_in(exported(store, first, third))
    assert {head.id for head in other.heads()} == {first, third}


def test_a_job_that_went_on_elsewhere_goes_on_here() -> None:
    here, there = ledger(), ledger(clock=ticking(minutes=3))
    job = keep(here, "a")
    there.take_in(exported(here))
    keep(there, "b", "c", job=job)
    took = here.take_in(exported(there))
    assert (took.jobs, took.events, took.doubled, took.clashes) == (0, 2, 1, ())
    assert here.read(job) == there.read(job)
    assert here.head(job) == there.head(job)


def test_a_shorter_copy_takes_nothing_away() -> None:
    here, there = ledger(), ledger()
    job = keep(here, "a")
    there.take_in(exported(here))
    keep(here, "b", job=job)
    took = here.take_in(exported(there))
    assert (took.events, took.doubled, took.clashes) == (0, 1, ())
    assert len(here.read(job)) == 2


def test_two_ways_of_one_job_are_both_kept_and_said() -> None:
    here, there = ledger(), ledger(clock=ticking(minutes=3))
    job = keep(here, "a")
    there.take_in(exported(here))
    keep(here, "b", job=job)
    keep(there, "c", "d", job=job)
    took = here.take_in(exported(there))
    assert (took.jobs, took.events) == (1, 3)
    (clash,) = took.clashes
    assert f"Job {job[:8]} went on in two ways from its event 2" in clash
    assert events_of(here.read(job)) == [Remarked("a"), Remarked("b")]
    (other,) = (head for head in here.heads() if head.id != job)
    assert other.origin == job
    assert events_of(here.read(other.id)) == [Remarked("a"), Remarked("c"), Remarked("d")]
    assert here.take_in(exported(there)).clashes == ()
    assert len(here.heads()) == 2
    keep(there, "e", job=job)  # the other way goes on where it is kept
    assert here.take_in(exported(there)).events == 1
    assert len(here.read(other.id)) == 4


def test_an_id_that_stands_for_another_job_elsewhere_is_no_reason_to_mix_them() -> None:
    store = ledger()
    store.take_in([begun(), line()])
    took = store.take_in([begun(machine="other"), line()])
    assert took.jobs == 1
    assert {head.machine for head in store.heads()} == {"m", "other"}
    assert store.take_in([begun(machine="other"), line()]).events == 0


def test_times_are_part_of_what_happened() -> None:
    here, there = ledger(), ledger(clock=ticking(minutes=7))
    job = here.begin("m", "1")
    there.take_in(exported(here))
    for store in (here, there):
        for number, event in enumerate(A_JOB, start=1):
            store.note(job, number, event)
    assert len(here.take_in(exported(there)).clashes) == 1
