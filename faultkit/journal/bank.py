"""What the ledger asks of a database, and what can go wrong with one."""

from collections.abc import Iterable, Sequence
from contextlib import AbstractContextManager
from typing import Any, Protocol

from faultkit.errors import JournalError

Row = Sequence[Any]


class UnwritableError(JournalError):
    """Nothing can be kept there for now: full, read-only, gone, out of reach.

    Parameters
    ----------
    name : str
        Of the store.
    why : str
        Part of a sentence: "the disk is full".
    """

    def __init__(self, name: str, why: str) -> None:
        super().__init__(f"Nothing can be kept in {name}: {why}.",
                         "Make room or name another place with --store.")
        self.why = why


class BusyError(UnwritableError):
    """Someone else has been writing there for longer than anyone waits."""


class DamagedError(JournalError):
    """What is kept there cannot be trusted any more."""


class ForeignError(JournalError):
    """What is kept there belongs to another program."""


class Bank(Protocol):
    """A database with the tables of `schema.py`.

    Statements are written with `?` for each value; values never become part of a statement.
    """

    @property
    def name(self) -> str:
        """For messages: the path, or the address without its password."""
        ...

    def query(self, sql: str, *values: object) -> list[Row]:
        """Run one statement; gives its rows."""
        ...

    def many(self, sql: str, rows: Iterable[Row]) -> None:
        """Run one statement for each row of values."""
        ...

    def transaction(self) -> AbstractContextManager[None]:
        """All of it or nothing, on disk at the end, and no other writer meanwhile."""
        ...

    def close(self) -> None:
        """Let go of it."""
        ...
