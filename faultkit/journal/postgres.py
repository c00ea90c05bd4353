"""A store that a company shares, on a PostgreSQL server (the extra `postgres`)."""

import re
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from importlib import import_module
from types import ModuleType
from typing import TYPE_CHECKING, Any

from faultkit.errors import JournalError
from faultkit.journal.bank import Row, UnwritableError
from faultkit.journal.ledger import Ledger
from faultkit.journal.schema import VERSION, create

if TYPE_CHECKING:
    import psycopg

PREFIXES = ("postgresql://", "postgres://")
WAIT = 5
"""Seconds to wait for the server."""
PAUSE = 20.0
"""Seconds before a server that did not answer is asked again: nobody waits at every event."""
SILENT = "the shared store does not answer"
LOCK = 0x464B4954
"""Key of the advisory lock that lets one writer in at a time: the letters FKIT."""

TRIGGERS = (
    """CREATE FUNCTION faultkit_stays() RETURNS trigger LANGUAGE plpgsql AS
       'BEGIN RAISE EXCEPTION ''what happened is never changed and never removed''; END'""",
    """CREATE TRIGGER event_stays BEFORE UPDATE OR DELETE OR TRUNCATE ON event
       FOR EACH STATEMENT EXECUTE FUNCTION faultkit_stays()""",
    """CREATE TRIGGER job_lasts BEFORE DELETE OR TRUNCATE ON job
       FOR EACH STATEMENT EXECUTE FUNCTION faultkit_stays()""",
)


class PostgresBank:
    """One connection, made when it is needed and made anew when it was lost."""

    def __init__(self, address: str) -> None:
        self.name = without_password(address)
        self._address = address
        self._connection: psycopg.Connection[Any] | None = None
        self._silent_since = -PAUSE

    def prepare(self) -> None:
        """Connect, and make the tables where there are none.

        Raises
        ------
        UnwritableError
            The server does not answer.
        JournalError
            The tables were made by a newer faultkit.
        """
        with self.transaction():
            self._bring_up_to_date()

    def query(self, sql: str, *values: object) -> list[Row]:
        """Run one statement; gives its rows."""
        with self._put_plainly(), self._connected().cursor() as cursor:
            cursor.execute(_placed(sql), values)
            return cursor.fetchall() if cursor.description else []

    def many(self, sql: str, rows: Iterable[Row]) -> None:
        """Run one statement for each row of values."""
        with self._put_plainly(), self._connected().cursor() as cursor:
            cursor.executemany(_placed(sql), list(rows))

    @contextmanager
    def transaction(self) -> Iterator[None]:
        """All of it or nothing; on the server's disk at the end, and one writer at a time."""
        with self._put_plainly(), self._connected().transaction():
            self.query("SELECT pg_advisory_xact_lock(?)", LOCK)
            yield

    def close(self) -> None:
        """Hang up."""
        if self._connection is not None:
            with suppress(Exception):
                self._connection.close()
            self._connection = None

    def _connected(self) -> "psycopg.Connection[Any]":
        if self._connection is not None and not self._connection.closed:
            return self._connection
        psycopg = library()
        if time.monotonic() < self._silent_since + PAUSE:
            raise UnwritableError(self.name, SILENT)
        self._connection = psycopg.connect(self._address, autocommit=True, connect_timeout=WAIT,
                                           tcp_user_timeout=WAIT * 1000)
        self._connection.execute("SET synchronous_commit = on")
        self._connection.execute("SET client_encoding = 'UTF8'")
        return self._connection

    def _bring_up_to_date(self) -> None:
        ((there,),) = self.query("SELECT to_regclass('faultkit') IS NOT NULL")
        if not there:
            create(self)
            for statement in TRIGGERS:
                self.query(statement)
            self.query("CREATE TABLE faultkit (version INTEGER NOT NULL)")
            self.query("INSERT INTO faultkit VALUES (?)", VERSION)
            return
        ((version,),) = self.query("SELECT version FROM faultkit")
        if version > VERSION:
            raise JournalError(
                f"{self.name} was made by a newer faultkit (its version is {version}, this one "
                f"knows {VERSION}).", "It was left as it is. Install the newer faultkit.")

    @contextmanager
    def _put_plainly(self) -> Iterator[None]:
        """Give the errors of the library their meaning."""
        psycopg = library()
        try:
            yield
        except (psycopg.OperationalError, psycopg.InterfaceError) as error:
            self._silent_since = time.monotonic()
            self.close()
            raise UnwritableError(self.name, f"{SILENT} ({_first_line(error)})") from error
        except (psycopg.errors.InsufficientPrivilege,
                psycopg.errors.ReadOnlySqlTransaction) as error:
            raise UnwritableError(self.name, "the shared store may only be read") from error
        except psycopg.Error as error:
            raise JournalError(f"{self.name} refuses it: {_first_line(error)}.") from error


class PostgresPlace:
    """A place for jobs on a server."""

    news = ""

    def __init__(self, address: str) -> None:
        library()
        self.name = without_password(address)
        self._bank = PostgresBank(address)

    def open(self) -> Ledger:
        """Connect; UnwritableError where the server does not answer."""
        try:
            self._bank.prepare()
        except BaseException:
            self._bank.close()
            raise
        return Ledger(self._bank)

    def rescue(self) -> None:
        """Nothing that could be done from here."""
        raise UnwritableError(self.name, "the shared store holds rows that were altered, and "
                                         "whoever keeps the server must restore it")

    def is_there(self) -> bool:
        """A server has one name only."""
        return True

    def let_go(self) -> None:
        """Nothing is held besides the connection."""

    def look(self) -> Ledger | None:
        """What does not answer cannot be looked at."""
        return None

    def forget(self) -> None:
        """Nothing was looked at."""


def library() -> ModuleType:
    """The library that talks to the server.

    Raises
    ------
    JournalError
        It is not installed.
    """
    try:
        return import_module("psycopg")
    except ImportError as error:
        raise JournalError("A shared store needs the extra 'postgres'.",
                           "In faultkit's folder: pip install '.[postgres]'") from error


def without_password(address: str) -> str:
    """Address fit to be shown."""
    return re.sub(r"(?i)(password=)[^&]*", r"\1...",
                  re.sub(r"^(\w+://[^:/?@]*):[^@]*@", r"\1:...@", address))


def _placed(sql: str) -> str:
    """Statement with the signs for values that this library wants; ours hold no other `?`."""
    return sql.replace("?", "%s")


def _first_line(error: Exception) -> str:
    return str(error).strip().partition("\n")[0].rstrip(".")
