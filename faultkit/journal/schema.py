"""Tables of a store: how they are now, how they were, and the way from then to now.

`event` is what is known and only grows. `job` holds the heads, which follow from the events; it
can be made anew at any time. The first row of a job has the number 0 and says what it is about.
"""

from collections.abc import Iterable, Sequence
from typing import Any

from faultkit.errors import JournalError
from faultkit.journal.bank import Bank
from faultkit.journal.codec import event_text, from_data, from_text, to_text
from faultkit.journal.heads import COLUMNS, advance, first_head, row_of
from faultkit.journal.records import Begun, JobHead, Noted
from faultkit.journal.seal import seal_of
from faultkit.journal.times import moment, stamp

VERSION = 2
"""1: no heads, no seals, and what a job is about only in the table of jobs."""

TABLES = (
    """CREATE TABLE job (
        id TEXT PRIMARY KEY, machine TEXT NOT NULL, version TEXT NOT NULL, origin TEXT NOT NULL,
        begun TEXT NOT NULL, last TEXT NOT NULL, events INTEGER NOT NULL,
        readings INTEGER NOT NULL, asset TEXT NOT NULL, site TEXT NOT NULL,
        complaint TEXT NOT NULL, who TEXT NOT NULL, closed TEXT NOT NULL,
        repairs TEXT NOT NULL, seal TEXT NOT NULL)""",
    """CREATE TABLE event (
        job TEXT NOT NULL REFERENCES job (id), number INTEGER NOT NULL, at TEXT NOT NULL,
        data TEXT NOT NULL, seal TEXT NOT NULL, PRIMARY KEY (job, number))""",
    "CREATE INDEX job_last ON job (last, id)",
    "CREATE INDEX job_origin ON job (origin)",
)
BEGUN = "Begun"
"""Kind of the row with the number 0."""
INSERT_EVENT = "INSERT INTO event (job, number, at, data, seal) VALUES (?, ?, ?, ?, ?)"
INSERT_HEAD = (f"INSERT INTO job ({', '.join(COLUMNS)}) "
               f"VALUES ({', '.join('?' * len(COLUMNS))})")
UPDATE_HEAD = (f"UPDATE job SET {', '.join(f'{name} = ?' for name in COLUMNS[1:])} "
               "WHERE id = ?")

EventRow = tuple[str, int, str, str, str]
"""job, number, at, data, seal."""


def event_row(job: str, noted: Noted) -> EventRow:
    """Event as a row."""
    return sealed(job, noted.number, stamp(noted.when), event_text(noted.event))


def begun_row(job: str, begun: Begun) -> EventRow:
    """First row of a job."""
    data = {"kind": BEGUN, "machine": begun.machine, "version": begun.version,
            "origin": begun.origin}
    return sealed(job, 0, stamp(begun.when), to_text(data))


def sealed(job: str, number: int, at: str, data: str) -> EventRow:
    """Complete a row."""
    return job, number, at, data, seal_of(job, number, at, data)


def is_whole(row: Sequence[Any]) -> bool:
    """Whether a row is as it was written."""
    job, number, at, data, its_seal = row
    return (all(isinstance(text, str) for text in (job, at, data, its_seal))
            and isinstance(number, int) and seal_of(job, number, at, data) == its_seal)


def begun_of(at: object, data: object) -> Begun:
    """What a job is about; JournalError if that cannot be understood."""
    if not isinstance(data, dict) or data.get("kind") != BEGUN:
        raise JournalError("A job must start with what it is about.")
    values = [data.get("machine"), data.get("version"), data.get("origin", "")]
    texts = [value for value in values if isinstance(value, str)]
    if len(texts) < len(values):
        raise JournalError("A job must start with its machine and that machine's version.")
    machine, version, origin = texts
    return Begun(machine, version, moment(at), origin)


def noted_of(number: int, at: str, data: str) -> Noted:
    """Event from its row; JournalError if it cannot be understood."""
    return Noted(number, moment(at), from_data(from_text(data)))


def head_from(job: str, begun: Begun, events: Iterable[Noted]) -> JobHead:
    """Head of a job from all that happened in it."""
    head = first_head(job, begun)
    for noted in events:
        head = advance(head, noted)
    return head


def create(bank: Bank) -> None:
    """Make the tables in an empty database, within a transaction."""
    for statement in TABLES:
        bank.query(statement)


def migrate_from_1(bank: Bank) -> None:
    """Bring tables of version 1 to version 2, within a transaction.

    Raises
    ------
    JournalError
        An event that cannot be understood; the transaction must then be given up.
    """
    jobs = bank.query("SELECT id, machine, version, begun FROM job ORDER BY id")
    events = bank.query("SELECT job, number, at, data FROM event ORDER BY job, number")
    bank.query("DROP TABLE event")
    bank.query("DROP TABLE job")
    create(bank)
    of_job: dict[str, list[Noted]] = {}
    for job, number, at, data in events:
        of_job.setdefault(job, []).append(noted_of(number, at, data))
    for job, machine, version, at in jobs:
        begun = Begun(machine, version, moment(at))
        noted = of_job.get(job, [])
        bank.query(INSERT_HEAD, *row_of(head_from(job, begun, noted)))
        bank.many(INSERT_EVENT, [begun_row(job, begun), *(event_row(job, one) for one in noted)])
