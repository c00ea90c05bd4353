"""Stores of older and newer versions."""

import sqlite3
from pathlib import Path

import pytest

from faultkit.errors import JournalError
from faultkit.journal import open_store
from faultkit.journal.codec import event_text
from faultkit.journal.schema import VERSION
from faultkit.journal.sqlite import APPLICATION
from tests.journal.making import A_JOB, events_of, ledger, ticking

JOB = "ab" * 16


def of_version_1(path: Path, *, spoilt: bool = False) -> None:
    """A store as the first version made it."""
    clock = ticking()
    connection = sqlite3.connect(path)
    connection.executescript(f"""
        CREATE TABLE job (id TEXT PRIMARY KEY, machine TEXT NOT NULL, version TEXT NOT NULL,
                          begun TEXT NOT NULL);
        CREATE TABLE event (job TEXT NOT NULL REFERENCES job (id), number INTEGER NOT NULL,
                            at TEXT NOT NULL, data TEXT NOT NULL, PRIMARY KEY (job, number));
        PRAGMA application_id = {APPLICATION};
        PRAGMA user_version = 1;""")
    connection.execute("INSERT INTO job VALUES (?, 'bridge-hoist', '1', ?)",
                       (JOB, clock().isoformat()))
    connection.execute("INSERT INTO job VALUES (?, 'crane', '2', ?)",
                       ("cd" * 16, clock().isoformat()))
    for number, event in enumerate(A_JOB, start=1):
        data = '{"kind": "Exploded"}' if spoilt and number == 5 else event_text(event)
        connection.execute("INSERT INTO event VALUES (?, ?, ?, ?)",
                           (JOB, number, clock().isoformat(), data))
    connection.commit()
    connection.close()


def test_a_store_of_version_1_is_brought_forward_with_everything_in_it(tmp_path: Path) -> None:
    path = tmp_path / "jobs.sqlite"
    of_version_1(path)
    for _ in range(2):
        store = open_store(path)
        assert store.warning == ""
        assert events_of(store.read(JOB)) == list(A_JOB)
        assert [head.machine for head in store.heads()] == ["bridge-hoist", "crane"]
        head = store.head(JOB)
        assert (head.closed, head.readings, head.asset) == ("fit for use", 3, "H-12")
        assert store.confirmed("bridge-hoist") == {"Q3.replace": 1}
        store.close()
    connection = sqlite3.connect(path)
    assert connection.execute("PRAGMA user_version").fetchone() == (VERSION,)
    with pytest.raises(sqlite3.IntegrityError, match="never"):
        connection.execute("DELETE FROM event")
    connection.close()


def test_a_store_that_cannot_be_brought_forward_stays_as_it_was(tmp_path: Path) -> None:
    path = tmp_path / "jobs.sqlite"
    of_version_1(path, spoilt=True)
    with pytest.raises(JournalError, match="Exploded"):
        open_store(path)
    connection = sqlite3.connect(path)
    assert connection.execute("PRAGMA user_version").fetchone() == (1,)
    assert connection.execute("SELECT count(*) FROM event").fetchone() == (len(A_JOB),)
    connection.close()


def test_a_store_of_a_newer_version_is_refused_politely_and_left_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "jobs.sqlite"
    ledger(path).close()
    connection = sqlite3.connect(path)
    connection.execute(f"PRAGMA user_version = {VERSION + 1}")
    connection.close()
    raw = path.read_bytes()
    with pytest.raises(JournalError, match="newer faultkit") as caught:
        open_store(path)
    assert "Install the newer faultkit" in caught.value.way_out
    assert path.read_bytes() == raw
