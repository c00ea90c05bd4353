"""The head of a job, kept up to date event by event; as a row of a table and back."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from faultkit.job.events import (
    CalledOut,
    Closed,
    ReadingTaken,
    Reopened,
    Repaired,
    RepairWithdrawn,
)
from faultkit.journal.bank import DamagedError
from faultkit.journal.codec import from_text, to_text
from faultkit.journal.records import Begun, JobHead, Noted, Repairing
from faultkit.journal.seal import seal_of
from faultkit.journal.times import moment, stamp

COLUMNS = ("id", "machine", "version", "origin", "begun", "last", "events", "readings",
           "asset", "site", "complaint", "who", "closed", "repairs", "seal")
"""Of a head's row, in order."""


def first_head(job: str, begun: Begun) -> JobHead:
    """Head of a job in which nothing has happened yet."""
    return JobHead(id=job, machine=storable(begun.machine), version=storable(begun.version),
                   begun=begun.when, last=begun.when, events=0, origin=begun.origin)


def advance(head: JobHead, noted: Noted) -> JobHead:
    """Head after one more event."""
    head = replace(head, events=noted.number, last=noted.when)
    match noted.event:
        case CalledOut(who=who, asset=asset, site=site, complaint=complaint):
            return replace(head, who=storable(who), asset=storable(asset), site=storable(site),
                           complaint=storable(complaint))
        case ReadingTaken():
            return replace(head, readings=head.readings + 1)
        case Repaired(remedy=remedy, cured=cured):
            repair = Repairing(remedy, cured, noted.when)
            return replace(head, repairs=(*head.repairs, repair))
        case RepairWithdrawn():
            return replace(head, repairs=head.repairs[:-1])
        case Closed(how=how):
            return replace(head, closed=how)
        case Reopened():
            return replace(head, closed="")
        case _:
            return head


def row_of(head: JobHead) -> tuple[Any, ...]:
    """Head as a row."""
    repairs = to_text([[r.remedy, r.cured, stamp(r.when)] for r in head.repairs])
    row = (head.id, head.machine, head.version, head.origin, stamp(head.begun),
           stamp(head.last), head.events, head.readings, head.asset, head.site,
           head.complaint, head.who, head.closed, repairs)
    return *row, seal_of(*row)


def head_of(row: Sequence[Any]) -> JobHead:
    """Head from its row.

    Raises
    ------
    DamagedError
        It is not as it was written.
    """
    *values, its_seal = row
    if seal_of(*values) != its_seal:
        raise DamagedError(f"The head of job {str(row[0])[:8]!a} is damaged.")
    (job, machine, version, origin, begun, last, events, readings,
     asset, site, complaint, who, closed, repairs) = values
    made: tuple[Repairing, ...] = ()
    if repairs != "[]":
        listed: Any = from_text(repairs)
        made = tuple(Repairing(remedy, cured, moment(when)) for remedy, cured, when in listed)
    return JobHead(job, machine, version, moment(begun), moment(last), events, asset, site,
                   complaint, who, closed, readings, made, origin)


def storable(text: str) -> str:
    """Text that any database takes: without NUL and without halves of characters."""
    whole = text.encode("utf-8", "replace").decode("utf-8") if not text.isascii() else text
    return whole.replace("\0", "\N{REPLACEMENT CHARACTER}")
