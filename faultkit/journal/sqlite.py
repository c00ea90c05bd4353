"""A store in one SQLite file, or in memory."""

import sqlite3
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from faultkit.errors import JournalError
from faultkit.journal.bank import BusyError, DamagedError, ForeignError, Row, UnwritableError
from faultkit.journal.schema import VERSION, create, migrate_from_1

APPLICATION = 0x464B4954
"""Stands in the file's header (`application_id`): the letters FKIT."""
PATIENCE = 30.0
"""Seconds to wait for another writer."""
MEMORY = ":memory:"

TRIGGERS = (
    """CREATE TRIGGER event_stays BEFORE UPDATE ON event
       BEGIN SELECT RAISE(ABORT, 'an event is never changed'); END""",
    """CREATE TRIGGER event_lasts BEFORE DELETE ON event
       BEGIN SELECT RAISE(ABORT, 'an event is never removed'); END""",
    # also stops INSERT OR REPLACE, which would remove a row without asking the other trigger
    """CREATE TRIGGER event_follows BEFORE INSERT ON event
       WHEN NEW.number <> (SELECT count(*) FROM event WHERE job = NEW.job)
       BEGIN SELECT RAISE(ABORT, 'events follow each other'); END""",
    """CREATE TRIGGER job_lasts BEFORE DELETE ON job
       BEGIN SELECT RAISE(ABORT, 'a job is never removed'); END""",
)


class SqliteBank:
    """One connection to a file.

    Parameters
    ----------
    where : Path or None
        None: in memory.

    Raises
    ------
    UnwritableError, DamagedError
    JournalError
        It belongs to another program, or was made by a newer faultkit.
    """

    def __init__(self, where: Path | None) -> None:
        self.name = MEMORY if where is None else str(where)
        with self._put_plainly():
            self._connection = _connect(where)
        try:
            self._prepare()
        except BaseException:
            self.close()
            raise

    def query(self, sql: str, *values: object) -> list[Row]:
        """Run one statement; gives its rows."""
        with self._put_plainly():
            return self._connection.execute(sql, values).fetchall()

    def many(self, sql: str, rows: Iterable[Row]) -> None:
        """Run one statement for each row of values."""
        with self._put_plainly():
            self._connection.executemany(sql, rows)

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """All of it or nothing; on disk at the end."""
        self.query("BEGIN IMMEDIATE")
        try:
            yield
            self.query("COMMIT")
        except BaseException:
            with suppress(sqlite3.Error):
                self._connection.rollback()
            raise

    def close(self) -> None:
        """Let go of the file."""
        with suppress(sqlite3.Error):
            self._connection.close()

    def _prepare(self) -> None:
        version = self._version()
        self.query("PRAGMA foreign_keys = ON")
        self.query("PRAGMA synchronous = FULL")
        self.query("PRAGMA fullfsync = ON")
        self.query("PRAGMA journal_mode = WAL")
        if version != VERSION:
            with self.transaction():
                self._bring_up_to_date()

    def _version(self) -> int:
        """Version of the tables; 0 for an empty file."""
        ((version,),) = self.query("PRAGMA user_version")
        ((application,),) = self.query("PRAGMA application_id")
        ((tables,),) = self.query("SELECT count(*) FROM sqlite_master")
        if application != APPLICATION and (tables or version):
            raise ForeignError(f"{self.name} belongs to another program.",
                               "It was left as it is. Name another file with --store.")
        if version > VERSION:
            raise JournalError(
                f"{self.name} was made by a newer faultkit (its version is {version}, this one "
                f"knows {VERSION}).", "It was left as it is. Install the newer faultkit.")
        return int(version)

    def _bring_up_to_date(self) -> None:
        version = self._version()  # again: another process may have been faster
        if version == VERSION:
            return
        if version == 0:
            create(self)
        else:
            migrate_from_1(self)
        for trigger in TRIGGERS:
            self.query(trigger)
        self.query(f"PRAGMA application_id = {APPLICATION}")
        self.query(f"PRAGMA user_version = {VERSION}")

    @contextmanager
    def _put_plainly(self) -> Iterator[None]:
        """Give the errors of SQLite their meaning."""
        try:
            yield
        except sqlite3.Error as error:
            raise meaning_of(error, self.name) from error
        except ValueError as error:  # even the text of its message was no text
            raise DamagedError(f"{self.name} is damaged.") from error


def check(bank: SqliteBank, *, thoroughly: bool) -> None:
    """Look for damage before anyone relies on the store.

    Raises
    ------
    DamagedError
        Heads and events do not agree, or pages are not as they must be.
    """
    ((missing,),) = bank.query("SELECT (SELECT count(*) + coalesce(sum(events), 0) FROM job) "
                               "- (SELECT count(*) FROM event)")
    if missing or (thoroughly and bank.query("PRAGMA integrity_check") != [("ok",)]):
        raise DamagedError(f"{bank.name} is damaged.")


def _connect(where: Path | None) -> sqlite3.Connection:
    # the ledger lets one thread in at a time
    connection = sqlite3.connect(MEMORY if where is None else where.absolute(), timeout=PATIENCE,
                                 isolation_level=None, check_same_thread=False)
    # a flipped bit in a text must not end in an error of its own: the seal tells
    connection.text_factory = _text
    return connection


def _text(raw: bytes) -> str:
    return raw.decode("utf-8", "replace")


UNWRITABLE = {sqlite3.SQLITE_FULL: "the disk is full",
              sqlite3.SQLITE_READONLY: "the store may only be read",
              sqlite3.SQLITE_IOERR: "the disk does not take it",
              sqlite3.SQLITE_CANTOPEN: "the store cannot be opened",
              sqlite3.SQLITE_PERM: "the store may not be opened",
              sqlite3.SQLITE_AUTH: "the store may not be opened"}


def meaning_of(error: sqlite3.Error, name: str) -> JournalError:
    """Which of our errors one of SQLite is."""
    code = getattr(error, "sqlite_errorcode", sqlite3.SQLITE_ERROR) & 0xFF
    if code in UNWRITABLE:
        return UnwritableError(name, UNWRITABLE[code])
    # statements are fixed: where one fails as such, a table is not what it must be
    if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_ERROR):
        return DamagedError(f"{name} is damaged: {error}.")
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return BusyError(name, "another program keeps the store busy")
    return JournalError(f"{name} refuses it: {error}.")
