"""Where a job that comes in belongs among those that are there.

The same job may have gone on in two places. Then it has two ways: both are kept, the second as a
job of its own that names the first as its origin. What decides is what happened, never the id
alone; so two stores that exchange everything, in whatever order and however often, come to hold
the same ways.
"""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace

from faultkit.journal.lines import Brought
from faultkit.journal.schema import begun_row, event_row


@dataclass(frozen=True, slots=True)
class Place:
    """What to do with a job that came in."""

    job: str
    """Id under which it is kept here."""
    new: bool
    known: int
    """So many of its events are there already."""
    origin: str = ""
    """Job from which it parts; empty where it parts from none."""
    clash: str = ""
    """Sentence on the parting."""


def place(brought: Brought, ways: Sequence[Brought]) -> Place:
    """Find the way that a job goes on, or make it a way of its own.

    Parameters
    ----------
    ways : sequence of Brought
        What is there under the same id or origin.
    """
    together = {way.job: _together(brought, way) for way in ways}
    for way in ways:
        if together[way.job] >= min(len(brought.events), len(way.events)):
            return Place(way.job, new=False, known=together[way.job])
    if not ways:
        return Place(brought.job, new=True, known=0, origin=brought.begun.origin)
    origin = brought.begun.origin or brought.job
    parted = max(together.values()) + 1
    job = _own_id(brought, parted)
    clash = (f"Job {origin[:8]} went on in two ways from its event {parted}; "
             f"the other way is kept as job {job[:8]}.")
    return Place(job, new=True, known=0, origin=origin, clash=clash)


def _together(one: Brought, other: Brought) -> int:
    """Events up to which two ways are the same; -1 if they begin differently."""
    if replace(one.begun, origin="") != replace(other.begun, origin=""):
        return -1
    for count, (ours, theirs) in enumerate(zip(one.events, other.events, strict=False)):
        if ours != theirs:
            return count
    return min(len(one.events), len(other.events))


def _own_id(brought: Brought, parted: int) -> str:
    """Id that follows from what happened up to the parting."""
    rows = [begun_row("", replace(brought.begun, origin="")),
            *(event_row("", one) for one in brought.events[:parted])]
    origin = brought.begun.origin or brought.job
    text = "\n".join([origin, *(f"{at}|{data}" for _, _, at, data, _ in rows)])
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:32]
