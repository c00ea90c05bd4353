"""What is kept of a job: its events with number and time, and a head to list it by."""

from dataclasses import dataclass
from datetime import datetime

from faultkit.job.events import Event


@dataclass(frozen=True, slots=True)
class Noted:
    """An event that is kept."""

    number: int
    """Counts from 1 within the job."""
    when: datetime
    """In UTC."""
    event: Event


@dataclass(frozen=True, slots=True)
class Begun:
    """What stands before the first event of a job."""

    machine: str
    version: str
    when: datetime
    origin: str = ""
    """Id of the job from which this one parted, when two people went on with the same job apart;
    empty for nearly every job."""


@dataclass(frozen=True, slots=True)
class Repairing:
    """A repair that was not taken back."""

    remedy: str
    cured: bool
    when: datetime


@dataclass(frozen=True, slots=True)
class JobHead:
    """What a list shows of a job; follows from its events."""

    id: str
    machine: str
    version: str
    """Of the machine's description, as it was when the job began."""
    begun: datetime
    last: datetime
    """When the last event was noted; `begun` where there is none."""
    events: int
    asset: str = ""
    site: str = ""
    complaint: str = ""
    who: str = ""
    closed: str = ""
    """How it was closed; empty while it is open."""
    readings: int = 0
    """Tests made, those withdrawn later included."""
    repairs: tuple[Repairing, ...] = ()
    origin: str = ""
    """See `Begun.origin`."""


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What an import brought."""

    jobs: int
    """Jobs that were not there before."""
    events: int
    """Events that were not there before, those of new jobs included."""
    doubled: int
    """Events that were there already; nothing was done with them."""
    clashes: tuple[str, ...]
    """A sentence for each job that had gone on in two ways; both ways are kept."""
