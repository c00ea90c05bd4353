"""A damaged store is set aside untouched, and what can be read of it goes on."""

import os
import random
import sqlite3
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

import pytest

from faultkit.errors import JournalError
from faultkit.job.events import Event, ReadingTaken, Remarked
from faultkit.journal.file_place import FilePlace
from faultkit.journal.guard import Guard
from faultkit.journal.keeper import Keeper
from faultkit.journal.lines import Brought
from faultkit.journal.records import Begun, Noted
from faultkit.journal.times import now
from faultkit.vocabulary.diagnosis import Reading
from tests.journal.making import ledger, ticking

JOBS, EVENTS = 40, 12
PAGE = 4096

Kept = dict[str, tuple[Noted, ...]]


def keeper(path: Path, *, ours: bool = False) -> Keeper:
    day = datetime(2025, 3, 1, 12, tzinfo=UTC)
    return Keeper(FilePlace(path, lambda: day, ours=ours), now)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "jobs.sqlite"


@pytest.fixture
def kept(path: Path) -> Kept:
    """A store with jobs in it, and what they hold."""
    store, clock = ledger(path), ticking()
    store.join([
        Brought(f"{k:032x}", Begun(f"machine {k}", "1", clock()), [
            Noted(number, clock(), ReadingTaken(f"walk-up/{k}/{number}", Reading(k + number / 7)))
            for number in range(1, EVENTS + 1)])
        for k in range(JOBS)])
    held = {head.id: store.read(head.id) for head in store.heads()}
    store.close()
    return held


def read_all(store: Keeper) -> Kept:
    return {head.id: store.read(head.id) for head in store.heads()}


def events_in(held: Kept) -> int:
    return sum(len(noted) for noted in held.values())


def assert_only_true_beginnings(found: Kept, kept: Kept) -> None:
    for job, noted in found.items():
        assert kept[job][:len(noted)] == noted


def damaged(raw: bytes, how: str) -> bytes:
    rnd = random.Random(how)
    spoilt = bytearray(raw)
    if how == "zeros":
        return bytes(len(raw))
    if how == "truncated to half":
        return raw[:len(raw) // 2]
    if how == "truncated within a page":
        return raw[:len(raw) * 2 // 3 + 1000]
    if how == "truncated to a stump":
        return raw[:40]
    if how == "without its first page":
        spoilt[:PAGE] = bytes(PAGE)
    if how == "with noise for pages":
        start = PAGE * (len(raw) // PAGE // 2)
        spoilt[start:start + 3 * PAGE] = rnd.randbytes(3 * PAGE)
    if how == "with pages of zeros":
        start = PAGE * (len(raw) // PAGE // 2)
        spoilt[start:start + 3 * PAGE] = bytes(3 * PAGE)
    return bytes(spoilt)


@pytest.mark.parametrize(("how", "least"), [
    ("zeros", 0.0), ("truncated to a stump", 0.0), ("truncated to half", 0.3),
    ("truncated within a page", 0.45), ("without its first page", 1.0),
    ("with noise for pages", 0.8), ("with pages of zeros", 0.8)])
def test_a_damaged_store_is_set_aside_untouched_and_what_can_be_read_goes_on(
        path: Path, kept: Kept, how: str, least: float) -> None:
    raw = damaged(path.read_bytes(), how)
    path.write_bytes(raw)
    store = keeper(path)
    assert store.warning.startswith("The store was damaged. It was set aside untouched as "
                                    "jobs.damaged-2025-03-01.sqlite; ")
    assert path.with_name("jobs.damaged-2025-03-01.sqlite").read_bytes() == raw
    found = read_all(store)
    assert_only_true_beginnings(found, kept)
    assert events_in(found) >= least * events_in(kept)
    assert f"{len(found)} job" in store.warning
    assert f"{events_in(found)} event" in store.warning
    job = store.begin("m", "1")
    store.note(job, 1, Remarked("it goes on"))
    store.close()
    again = keeper(path)
    assert again.warning == ""
    assert len(again.read(job)) == 1
    again.close()


@pytest.mark.parametrize("seed", range(int(os.environ.get("FAULTKIT_FLIPS", "25"))))
def test_flipped_bits_never_make_another_reading_of_it(path: Path, kept: Kept, seed: int) -> None:
    """What is read is what was written, or is said to be missing."""
    rnd = random.Random(seed)
    raw = bytearray(path.read_bytes())
    for _ in range(4):
        raw[rnd.randrange(len(raw))] ^= 1 << rnd.randrange(8)
    raw[:100] = path.read_bytes()[:100]  # what becomes of the header is another test's
    path.write_bytes(raw)
    store = keeper(path)
    found: Kept = {}
    for head in store.heads():
        try:
            found[head.id] = store.read(head.id)
        except JournalError:
            assert "damaged" in store.warning
    assert_only_true_beginnings({job: noted for job, noted in found.items() if job in kept}, kept)
    missing = events_in(kept) - events_in(read_all(store))
    assert missing == 0 or "damaged" in store.warning
    assert missing <= 4 * EVENTS + 4 * 60  # four rows, or four pages of some 60 rows
    store.close()


@pytest.mark.parametrize("place", [0, 17, 18, 20, 28, 52, 56, 68, 69, 71])
def test_a_header_with_a_flipped_bit_loses_nothing(path: Path, kept: Kept, place: int) -> None:
    raw = bytearray(path.read_bytes())
    raw[place] ^= 0x40
    path.write_bytes(raw)
    store = keeper(path)
    assert read_all(store) == kept
    store.close()


def test_a_second_damage_on_the_same_day_gets_a_name_of_its_own(path: Path, kept: Kept) -> None:
    first, second = b"", b""
    for count in range(2):
        raw = damaged(path.read_bytes(), "truncated within a page")
        first, second = (raw, second) if count == 0 else (first, raw)
        path.write_bytes(raw)
        keeper(path).close()
    assert path.with_name("jobs.damaged-2025-03-01.sqlite").read_bytes() == first
    assert path.with_name("jobs.damaged-2025-03-01-2.sqlite").read_bytes() == second


def test_a_store_damaged_while_it_is_open_is_rescued_with_what_this_session_noted(
        path: Path, kept: Kept) -> None:
    store = keeper(path)
    job = store.begin("m", "1")
    store.note(job, 1, Remarked("before"))
    store.close()
    store = keeper(path)
    store.note(job, 2, Remarked("still before"))
    raw = path.read_bytes()
    path.write_bytes(bytes(PAGE) + raw[PAGE:])
    with path.with_name("jobs.sqlite-wal").open("r+b") as log:
        log.write(bytes(32))
    noted = store.note(job, 3, Remarked("after"))
    assert noted.number == 3
    store.close()
    again = keeper(path)
    texts = [one.event for one in again.read(job)]
    assert texts == [Remarked("before"), Remarked("still before"), Remarked("after")]
    again.close()


def test_only_a_log_that_is_left_of_a_store_is_read(path: Path) -> None:
    store = ledger(path)
    job = store.begin("m", "1")
    store.note(job, 1, Remarked("in the log only"))
    log = path.with_name("jobs.sqlite-wal").read_bytes()
    store.close()
    path.write_bytes(b"")
    path.with_name("jobs.sqlite-wal").write_bytes(log)
    found = keeper(path)
    assert [one.event for one in found.read(job)] == [Remarked("in the log only")]
    assert "damaged" in found.warning
    found.close()


def test_an_event_too_long_for_a_page_is_read_as_long_as_the_tables_can_be_asked(
        path: Path) -> None:
    store = ledger(path)
    job, other = store.begin("m", "1"), store.begin("m", "1")
    event: Event = Remarked("long " * 4000)
    store.note(job, 1, event)
    store.note(other, 1, Remarked("short"))
    store.close()
    raw = path.read_bytes()
    assert raw.count(b'"text":"short"') == 1
    path.write_bytes(raw.replace(b'"text":"short"', b'"text":"shirt"'))
    found = keeper(path)
    with suppress(JournalError):
        found.read(other)
    assert "damaged" in found.warning
    assert found.read(job)[0].event == event
    assert found.read(other) == ()
    found.close()


def test_an_empty_file_is_a_new_store(path: Path) -> None:
    path.write_bytes(b"")
    store = keeper(path)
    store.note(store.begin("m", "1"), 1, Remarked("x"))
    assert store.warning == ""
    store.close()


@pytest.mark.parametrize("ours", [False, True])
def test_a_file_of_another_program_is_left_alone_unless_it_has_our_own_name(
        path: Path, ours: bool) -> None:
    path.write_text("Dear diary, today the hoist stood still.\n" * 50, encoding="utf-8")
    raw = path.read_bytes()
    if ours:
        store = keeper(path, ours=True)
        assert "damaged" in store.warning
        store.close()
        assert path.with_name("jobs.damaged-2025-03-01.sqlite").read_bytes() == raw
    else:
        with pytest.raises(JournalError, match="no store of jobs"):
            keeper(path)
        assert path.read_bytes() == raw


def test_a_database_of_another_program_is_left_alone(path: Path) -> None:
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE job (id TEXT)")
    connection.close()
    raw = path.read_bytes()
    with pytest.raises(JournalError, match="belongs to another program"):
        keeper(path, ours=True)
    assert path.read_bytes() == raw


def test_while_another_has_the_damaged_store_open_the_job_goes_on_in_memory(
        path: Path, kept: Kept) -> None:
    path.write_bytes(damaged(path.read_bytes(), "without its first page"))
    other = Guard(path)
    assert other.share()
    raw = path.read_bytes()
    store = keeper(path)
    assert "another faultkit still has it open" in store.warning
    assert "in memory only" in store.warning
    job = store.begin("m", "1")
    store.note(job, 1, Remarked("meanwhile"))
    assert path.read_bytes() == raw
    other.release()
    store.note(job, 2, Remarked("now"))
    assert "in memory" not in store.warning
    store.close()
    again = keeper(path)
    assert [one.event for one in again.read(job)] == [Remarked("meanwhile"), Remarked("now")]
    assert len(again.heads()) == JOBS + 1
    again.close()


def test_a_store_taken_away_while_it_is_open_is_made_anew_with_this_sessions_jobs(
        path: Path, kept: Kept) -> None:
    store = keeper(path)
    job = next(iter(kept))
    store.read(job)
    path.rename(path.with_name("elsewhere.sqlite"))
    store.note(job, EVENTS + 1, Remarked("and on"))
    store.close()
    again = keeper(path)
    assert events_in(read_all(again)) == EVENTS + 1
    again.close()
