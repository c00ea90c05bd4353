"""A place for jobs that is one file: opened, looked at, rescued."""

import os
import tempfile
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from faultkit.errors import JournalError
from faultkit.journal.bank import DamagedError, ForeignError, UnwritableError
from faultkit.journal.guard import Guard
from faultkit.journal.ledger import Ledger
from faultkit.journal.rescue import copy_of, is_headless, rescue
from faultkit.journal.salvage import holds_rows
from faultkit.journal.sqlite import APPLICATION, SqliteBank, check

MAGIC = b"SQLite format 3\0"
SMALL = 16_000_000
"""Bytes of a store that is checked page by page whenever it is opened: some 60 ms."""
HEADER = 100
"""Bytes of an SQLite file's header; `application_id` stands at 68."""


class FilePlace:
    """One file.

    Parameters
    ----------
    ours : bool
        Whatever has this name is a store of ours, however it looks.
    """

    def __init__(self, path: Path, clock: Callable[[], datetime], *, ours: bool = False) -> None:
        self.name = str(path)
        self.news = ""
        """A sentence on what happened to the file; stays."""
        self._path = path
        self._clock = clock
        self._ours = ours
        self._guard = Guard(path)
        self._opened: tuple[int, int] | None = None
        self._folder: tempfile.TemporaryDirectory[str] | None = None

    def open(self) -> Ledger:
        """Open it for writing; a damaged one is rescued.

        Raises
        ------
        UnwritableError
        JournalError
            It belongs to another program, or was made by a newer faultkit.
        """
        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise UnwritableError(self.name, error.strerror or "there is no such folder") from error
        try:
            self._share()
            return self._open()
        except DamagedError:
            self.rescue()
            return self._open()
        except UnwritableError as error:
            self._guard.release()
            if os.access(self._path.parent, os.W_OK,
                         effective_ids=os.access in os.supports_effective_ids):
                raise
            raise UnwritableError(self.name, "the folder is read-only") from error
        except BaseException:
            self._guard.release()
            raise

    def rescue(self) -> None:
        """Set the file aside, and what can be read of it in its place; none may have it open.

        Raises
        ------
        UnwritableError
            Others have it open, or there is no room.
        """
        self._guard.release()
        if not self._guard.all():
            raise UnwritableError(self.name, "the store is damaged, and another faultkit still "
                                             "has it open")
        try:
            rescued = rescue(self._path, self._clock())
        finally:
            self._guard.release()
        if rescued is not None:
            self.news = str(rescued)
        self._share()

    def is_there(self) -> bool:
        """Whether the file opened last is still the one with this name."""
        return self._opened is not None and self._opened == self._identity()

    def let_go(self) -> None:
        """Nobody here has it open any more."""
        self._opened = None
        self._guard.release()

    def look(self) -> Ledger | None:
        """Open a copy of what can only be read; None where there is nothing to read."""
        self.forget()
        try:
            self._folder = tempfile.TemporaryDirectory(prefix="faultkit-")
            return Ledger(SqliteBank(copy_of(self._path, Path(self._folder.name))))
        except (OSError, JournalError):
            self.forget()
            return None

    def forget(self) -> None:
        """Remove the copy that was looked at."""
        if self._folder is not None:
            self._folder.cleanup()
            self._folder = None

    def _share(self) -> None:
        if not self._guard.share():
            raise UnwritableError(self.name, "another faultkit is rescuing the store just now")

    def _open(self) -> Ledger:
        if is_headless(self._path):
            raise DamagedError(f"{self.name} is damaged.")
        try:
            bank = SqliteBank(self._path)
            try:
                check(bank, thoroughly=self._path.stat().st_size <= SMALL)
            except BaseException:
                bank.close()
                raise
        except ForeignError as error:
            if holds_rows(self._path):  # and only says so because its first page is damaged
                raise DamagedError(f"{self.name} is damaged.") from error
            raise
        except DamagedError as error:
            if self._is_ours():
                raise
            raise ForeignError(f"{self.name} is no store of jobs.",
                               "It was left as it is. Name another file with --store.") from error
        self._opened = self._identity()
        return Ledger(bank, self._clock)

    def _identity(self) -> tuple[int, int] | None:
        try:
            found = self._path.stat()
        except OSError:
            return None
        return found.st_dev, found.st_ino

    def _is_ours(self) -> bool:
        """Whether a file that cannot be read is, or was, a store of ours."""
        try:
            with self._path.open("rb") as file:
                head = file.read(HEADER)
            return (self._ours or not any(head)
                    or (head.startswith(MAGIC) and len(head) < HEADER)
                    or head[68:72] == APPLICATION.to_bytes(4, "big") or holds_rows(self._path))
        except OSError:
            return False
