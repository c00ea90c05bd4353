"""What can still be read of a damaged store.

Every row carries its seal, so whatever is found with a fitting seal is as it was written. The
tables are asked in every order that SQLite offers, and the bytes themselves are searched, which
finds rows even where the tables cannot be asked any more.
"""

import re
import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from dataclasses import dataclass
from itertools import count
from pathlib import Path

from faultkit.errors import JournalError
from faultkit.journal.codec import from_text
from faultkit.journal.lines import JOB_ID, Brought
from faultkit.journal.schema import begun_of, is_whole, noted_of
from faultkit.journal.seal import seal_of

SCANS = (
    "SELECT job, number, at, data, seal FROM event NOT INDEXED ORDER BY rowid",
    "SELECT job, number, at, data, seal FROM event NOT INDEXED ORDER BY rowid DESC",
    "SELECT job, number, at, data, seal FROM event ORDER BY job, number",
    "SELECT job, number, at, data, seal FROM event ORDER BY job DESC, number DESC",
)
ROW = re.compile(rb"([0-9a-f]{32})([\x00-\xff]{0,4}?)"
                 rb"(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}\+00:00)"
                 rb"(\{[\x20-\x7e]*?\})([0-9a-f]{16})", re.DOTALL)
"""A row as it lies in a page: job, number (big-endian, nothing for 0 and 1), at, data, seal."""

Rows = dict[str, dict[int, tuple[str, str]]]
"""job -> number -> (at, data)."""


@dataclass(frozen=True, slots=True)
class Salvaged:
    """What was found."""

    jobs: tuple[Brought, ...]
    stranded: int
    """Events that were found, but not all of those before them."""


def salvage(path: Path) -> Salvaged:
    """Read what can be read; `path` should be a copy, and may have a write-ahead log beside it."""
    rows: Rows = {}
    for part in (path, path.with_name(f"{path.name}-wal")):
        if part.is_file():  # before SQLite moves anything
            for job, number, at, data in _carved(part.read_bytes()):
                rows.setdefault(job, {})[number] = (at, data)
    for job, number, at, data in _asked(path):
        rows.setdefault(job, {})[number] = (at, data)
    jobs = [brought for job in rows if (brought := _in_order(job, rows[job])) is not None]
    found = sum(len(of_job) for of_job in rows.values())
    used = sum(1 + len(one.events) for one in jobs)
    return Salvaged(tuple(sorted(jobs, key=lambda one: (one.begun.when, one.job))), found - used)


def holds_rows(path: Path) -> bool:
    """Whether any row of ours lies in the bytes of a file."""
    return next(_carved(path.read_bytes()), None) is not None


def _asked(path: Path) -> Iterator[tuple[str, int, str, str]]:
    for scan in SCANS:
        try:
            with closing(sqlite3.connect(path)) as connection:
                connection.text_factory = lambda raw: raw.decode("utf-8", "replace")
                for row in connection.execute(scan):
                    if is_whole(row) and JOB_ID.fullmatch(row[0]):
                        yield row[0], row[1], row[2], row[3]
        except (sqlite3.Error, ValueError, OverflowError):
            continue


def _carved(raw: bytes) -> Iterator[tuple[str, int, str, str]]:
    for match in ROW.finditer(raw):
        job, at, data, its_seal = (match[group].decode("ascii") for group in (1, 3, 4, 5))
        numbers = (int.from_bytes(match[2], "big"),) if match[2] else (0, 1)
        for number in numbers:
            if seal_of(job, number, at, data) == its_seal:
                yield job, number, at, data


def _in_order(job: str, rows: dict[int, tuple[str, str]]) -> Brought | None:
    """The job as far as nothing is missing; None where its beginning is."""
    try:
        at, data = rows[0]
        brought = Brought(job, begun_of(at, from_text(data)))
    except (KeyError, JournalError):
        return None
    # what cannot be understood (of a newer version, perhaps) ends it: what lies before it is good
    with suppress(KeyError, JournalError):
        for number in count(1):
            brought.events.append(noted_of(number, *rows[number]))
    return brought
