"""A damaged store: set aside untouched, and what can be read of it put in its place."""

import os
import shutil
import tempfile
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from faultkit.errors import JournalError
from faultkit.journal.bank import UnwritableError
from faultkit.journal.ledger import Ledger
from faultkit.journal.salvage import Salvaged, salvage
from faultkit.journal.sqlite import SqliteBank

SIDES = ("-wal", "-shm")
"""Files of SQLite beside a store."""


@dataclass(frozen=True, slots=True)
class Rescued:
    """What became of a damaged store."""

    aside: Path
    jobs: int
    events: int
    stranded: int

    def __str__(self) -> str:
        jobs = "1 job" if self.jobs == 1 else f"{self.jobs} jobs"
        says = (f"The store was damaged. It was set aside untouched as {self.aside.name}; "
                f"{jobs} with {self.events} events could be read and go on here.")
        if self.stranded:
            says += f" {self.stranded} more events lie behind a gap, only in the file set aside."
        return says


def rescue(path: Path, day: datetime) -> Rescued | None:
    """Set a damaged store aside and put what can be read of it in its place.

    Nobody may have it open (see `Guard`). None where it is not damaged (any more).

    Raises
    ------
    UnwritableError
        There is no room to do so; the damaged store is as it was.
    """
    fresh = path.with_name(f"{path.stem}.rescue-{os.getpid()}{path.suffix}")
    try:
        with tempfile.TemporaryDirectory(prefix="faultkit-") as folder:
            copy = copy_of(path, Path(folder))
            if is_sound(copy):
                return None
            copy = copy_of(path, Path(folder))  # what was looked at may have been altered by it
            found = salvage(copy)
        _write(fresh, found)
        aside = _set_aside(path, day)
        for side in SIDES:
            path.with_name(path.name + side).unlink(missing_ok=True)
        fresh.replace(path)
    except OSError as error:
        raise UnwritableError(str(path), f"the store is damaged, and there is no room to rescue it "
                                         f"({error.strerror or error})") from error
    finally:
        for name in (fresh.name, *(fresh.name + side for side in SIDES)):
            with suppress(OSError):
                fresh.with_name(name).unlink(missing_ok=True)
    return Rescued(aside, len(found.jobs), sum(len(j.events) for j in found.jobs), found.stranded)


def copy_of(path: Path, folder: Path) -> Path:
    """Copy a store with its write-ahead log."""
    for name in (path.name, f"{path.name}-wal"):
        (folder / name).unlink(missing_ok=True)
        if path.with_name(name).is_file():
            shutil.copyfile(path.with_name(name), folder / name)
    return folder / path.name


def is_sound(copy: Path) -> bool:
    """Whether everything in a store can be read; may alter it, so hand in a copy."""
    if is_headless(copy):
        return False
    try:
        bank = SqliteBank(copy)
    except JournalError:
        return False
    try:
        if bank.query("PRAGMA integrity_check") != [("ok",)]:
            return False
        ledger = Ledger(bank)
        for (job,) in bank.query("SELECT id FROM job"):
            if len(ledger.read(job)) != ledger.head(job).events:
                return False
    except JournalError:
        return False
    finally:
        bank.close()
    return True


def is_headless(path: Path) -> bool:
    """Whether only the write-ahead log of a store is left, which SQLite would throw away."""
    log = path.with_name(f"{path.name}-wal")
    return (not path.exists() or path.stat().st_size == 0) and (
        log.is_file() and log.stat().st_size > 0)


def _write(fresh: Path, found: Salvaged) -> None:
    ledger = Ledger(SqliteBank(fresh))
    try:
        ledger.join(found.jobs)
    finally:
        ledger.close()


def _set_aside(path: Path, day: datetime) -> Path:
    """Give the damaged file a second name that nothing has yet, so that it outlives the first."""
    count = 1
    while True:
        number = "" if count == 1 else f"-{count}"
        aside = path.with_name(f"{path.stem}.damaged-{day:%Y-%m-%d}{number}{path.suffix}")
        if not any(aside.with_name(aside.name + side).exists() for side in ("", "-wal")):
            break
        count += 1
    for side in ("", "-wal"):
        old, new = path.with_name(path.name + side), aside.with_name(aside.name + side)
        if old.is_file():
            _second_name(old, new)
    return aside


def _second_name(old: Path, new: Path) -> None:
    try:
        new.hardlink_to(old)
    except OSError:  # this file system gives no second names
        shutil.copy2(old, new)
