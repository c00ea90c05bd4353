"""Who has a store open, and who may put another file in its place.

SQLite does not stand it that its file is exchanged while someone has it open. So whoever has a
store open holds a share of a lock, and only who holds all of it may exchange the file. The lock
is one of SQLite's own, on an empty file beside the store: it works on every system and goes when
its process goes.
"""

import sqlite3
from contextlib import suppress
from pathlib import Path

from faultkit.journal.bank import BusyError, UnwritableError
from faultkit.journal.sqlite import meaning_of

PATIENCE = 1.0
"""Seconds to wait for the others."""


class Guard:
    """A share of the lock on one store, or all of it.

    Raises
    ------
    UnwritableError
        There can be no lock, because nothing can be kept there.
    """

    def __init__(self, store: Path) -> None:
        self._store = store
        self._path = store.with_name(f"{store.name}.lock")
        self._connection: sqlite3.Connection | None = None

    def share(self) -> bool:
        """Hold a share; False where someone holds all of it."""
        return self._take("BEGIN", "SELECT count(*) FROM sqlite_master")

    def all(self) -> bool:
        """Hold all of it; False where others hold a share."""
        return self._take("BEGIN EXCLUSIVE")

    def release(self) -> None:
        """Let go."""
        if self._connection is not None:
            with suppress(sqlite3.Error):
                self._connection.close()
            self._connection = None

    def _take(self, *statements: str) -> bool:
        self.release()
        try:
            self._connection = sqlite3.connect(self._path, timeout=PATIENCE,
                                               isolation_level=None, check_same_thread=False)
            for statement in statements:
                self._connection.execute(statement).fetchall()
        except sqlite3.Error as error:
            self.release()
            meaning = meaning_of(error, str(self._store))
            if isinstance(meaning, UnwritableError) and not isinstance(meaning, BusyError):
                raise meaning from error
            return False
        return True
