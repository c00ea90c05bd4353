"""Jobs as JSON Lines, to carry from one store to another.

    {"faultkit jobs": 1}
    {"at": "2025-03-01T12:00:00.000000+00:00", "event": {...}, "job": "3f2a...", "number": 0}
    {"at": "2025-03-01T12:00:09.500000+00:00", "event": {...}, "job": "3f2a...", "number": 1}

Each job starts with its number 0. Files may be joined end to end.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TextIO

from faultkit.errors import JournalError
from faultkit.journal.bank import Row
from faultkit.journal.codec import NEWER, Data, from_data, from_text, to_text
from faultkit.journal.records import Begun, JobHead, Noted
from faultkit.journal.schema import begun_of
from faultkit.journal.times import moment

FORMAT = 1
HEADER = "faultkit jobs"
JOB_ID = re.compile(r"[0-9a-f]{32}")
NOTHING = "Nothing was taken in."


@dataclass(slots=True)
class Brought:
    """One job as it came in."""

    job: str
    begun: Begun
    events: list[Noted] = field(default_factory=list)


def write_jobs(out: TextIO, jobs: Sequence[str], rows_of: Callable[[str], Sequence[Row]]) -> int:
    """Write jobs, each from its rows of the table of events; gives how many."""
    out.write(to_text({HEADER: FORMAT}) + "\n")
    for job in jobs:
        out.writelines(to_text({"job": job, "number": number, "at": at,
                                "event": from_text(data)}) + "\n"
                       for _, number, at, data, _ in rows_of(job))
    return len(jobs)


def in_order_begun(heads: Iterable[JobHead]) -> list[str]:
    """Ids of jobs in the order in which they began."""
    return [head.id for head in sorted(heads, key=lambda head: (head.begun, head.id))]


def bring(lines: Iterable[str]) -> Iterator[Brought]:
    """Read jobs from lines, one after the other.

    Raises
    ------
    JournalError
        A line that is none of these, with its number.
    """
    current: Brought | None = None
    for count, line in enumerate(lines, start=1):
        try:
            if not line.strip():
                continue
            data = from_text(line)
            if isinstance(data, dict) and HEADER in data:
                _check_header(data)
                continue
            job, number, at, event = _parts(data)
            if number == 0:
                if current is not None:
                    yield current
                current = Brought(job, begun_of(at, event))
                continue
            noted = Noted(number, moment(at), from_data(event))
            _check_order(current, job, number).events.append(noted)
        except JournalError as error:
            raise JournalError(f"Line {count}: {error.title}",
                               f"{error.way_out} {NOTHING}".strip()) from error
    if current is not None:
        yield current


def _check_order(current: Brought | None, job: str, number: int) -> Brought:
    if current is None or current.job != job or number != len(current.events) + 1:
        raise JournalError(f"An event before number {number} of its job is missing.")
    return current


def _check_header(data: Data) -> None:
    if data[HEADER] != FORMAT:
        raise JournalError("These jobs were written in a form that this version does not know.",
                           NEWER)


def _parts(data: object) -> tuple[str, int, object, object]:
    """Check what every line must have."""
    if not isinstance(data, dict) or set(data) != {"job", "number", "at", "event"}:
        raise JournalError("This is no line of exported jobs.")
    job, number = data["job"], data["number"]
    if not isinstance(job, str) or not JOB_ID.fullmatch(job):
        raise JournalError("A job's id must be 32 hexadecimal digits.")
    if type(number) is not int or number < 0:
        raise JournalError("An event's number must be a whole number.")
    return job, number, data["at"], data["event"]
