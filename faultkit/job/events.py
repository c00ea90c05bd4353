"""Everything that can happen in a job; a job is the list of its events and nothing else."""

from dataclasses import dataclass
from typing import Literal

from faultkit.vocabulary.diagnosis import Reading

Load = Literal["none", "hanging", "unknown"]
Secured = Literal["landed", "held otherwise", "area closed"]
Closing = Literal["fit for use", "not fit for use", "no fault found"]


@dataclass(frozen=True, slots=True)
class CalledOut:
    """Who called, for what; told again it replaces what was told before."""

    who: str = ""
    asset: str = ""
    """Tag or number of the very machine."""
    site: str = ""
    complaint: str = ""
    """In the operator's words."""
    changed: str = ""
    """What was worked on or changed last."""
    load: Load = "unknown"
    people: bool = False
    """People work or walk below."""
    slips: bool = False
    """The load sinks, or the brake slips."""
    dead_only: bool = False
    """No live work in this job: tests under voltage are not proposed."""


@dataclass(frozen=True, slots=True)
class LoadSecured:
    """The load was dealt with before anything else."""

    how: Secured
    note: str = ""


@dataclass(frozen=True, slots=True)
class SymptomTold:
    """The operator says that a symptom shows, or that this function works."""

    symptom: str
    shows: bool


@dataclass(frozen=True, slots=True)
class SymptomWithdrawn:
    """Nothing is said about this symptom any more."""

    symptom: str


@dataclass(frozen=True, slots=True)
class ConditionChanged:
    """The machine was made dead, or live again: every step was acknowledged."""

    condition: str
    dead: bool
    steps: tuple[str, ...]
    """Ids of the steps, in the order made."""


@dataclass(frozen=True, slots=True)
class ReadingTaken:
    """A test was made."""

    test: str
    reading: Reading


@dataclass(frozen=True, slots=True)
class ReadingChanged:
    """The reading with this number was in truth another."""

    number: int
    reading: Reading


@dataclass(frozen=True, slots=True)
class ReadingWithdrawn:
    """The reading with this number is taken back."""

    number: int


@dataclass(frozen=True, slots=True)
class TestSkipped:
    """The electrician cannot get at it, or will not: never propose it again."""

    __test__ = False

    test: str


@dataclass(frozen=True, slots=True)
class TestOffered:
    """A skipped test can be proposed again."""

    __test__ = False

    test: str


@dataclass(frozen=True, slots=True)
class Repaired:
    """A remedy was carried out; `cured` says whether the complaint is gone."""

    remedy: str
    cured: bool
    repeated: str = ""
    """Test that found the fault and was repeated after the repair."""
    reading: Reading | None = None
    """What it read then."""
    note: str = ""


@dataclass(frozen=True, slots=True)
class RepairWithdrawn:
    """The last repair was entered by mistake: its readings count again."""


@dataclass(frozen=True, slots=True)
class BridgeFound:
    """A safety device was found bridged; it must be free again before hand-over."""

    where: str


@dataclass(frozen=True, slots=True)
class BridgeRemoved:
    """That bridge is gone."""

    where: str


@dataclass(frozen=True, slots=True)
class ProofMade:
    """A safety function was proved, or failed."""

    function: str
    passed: bool
    who: str
    seen: str = ""
    """What was read or seen."""


@dataclass(frozen=True, slots=True)
class Remarked:
    """A note in the electrician's words."""

    text: str


@dataclass(frozen=True, slots=True)
class Closed:
    """The job is handed over."""

    how: Closing
    who: str
    reason: str = ""
    """Why it is not fit for use, or what was tried where no fault was found."""


@dataclass(frozen=True, slots=True)
class Reopened:
    """The job goes on after all."""


Event = (CalledOut | LoadSecured | SymptomTold | SymptomWithdrawn | ConditionChanged
         | ReadingTaken | ReadingChanged | ReadingWithdrawn | TestSkipped | TestOffered
         | Repaired | RepairWithdrawn | BridgeFound | BridgeRemoved | ProofMade | Remarked
         | Closed | Reopened)
EVENTS: tuple[type[Event], ...] = (
    CalledOut, LoadSecured, SymptomTold, SymptomWithdrawn, ConditionChanged, ReadingTaken,
    ReadingChanged, ReadingWithdrawn, TestSkipped, TestOffered, Repaired, RepairWithdrawn,
    BridgeFound, BridgeRemoved, ProofMade, Remarked, Closed, Reopened)
"""All kinds, for those that write them down and read them back."""
