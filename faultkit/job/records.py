"""What a job is made of: a state comes out of its events, and an assessment out of the state.

The screens and the line-by-line mode know only these records and the events.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from faultkit.job.events import CalledOut, Closed, LoadSecured, SymptomTold
from faultkit.vocabulary.diagnosis import Reading


@dataclass(frozen=True, slots=True)
class Entry:
    """A reading in the job, numbered from 1 in the order taken; numbers are never reused."""

    number: int
    test: str
    reading: Reading


@dataclass(frozen=True, slots=True)
class Repair:
    """A remedy that was carried out."""

    remedy: str
    cured: bool
    set_aside: tuple[Entry, ...] = ()
    """Readings taken before it: where it did not cure, they no longer speak of the machine."""
    repeated: str = ""
    reading: Reading | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Proof:
    """The last word on a safety function."""

    function: str
    passed: bool
    who: str
    seen: str = ""


@dataclass(frozen=True, slots=True)
class JobState:
    """Everything that was said, done and measured. Belief is derived from it, never stored."""

    machine: str
    call: CalledOut = field(default_factory=CalledOut)
    secured: LoadSecured | None = None
    told: tuple[SymptomTold, ...] = ()
    dead: bool = False
    """Isolated, locked and proved dead, step by step."""
    condition: str = ""
    """What the machine was last switched into, step by step; empty for never."""
    switched: int = 0
    """Readings ever taken when that was done."""
    entries: tuple[Entry, ...] = ()
    taken: int = 0
    """Readings ever taken: the last number given out."""
    skipped: tuple[str, ...] = ()
    repaired: tuple[Repair, ...] = ()
    bridges: tuple[str, ...] = ()
    """Found bridges of safety devices that are not removed yet."""
    proofs: tuple[Proof, ...] = ()
    """Made since the last repair."""
    remarks: tuple[str, ...] = ()
    closed: Closed | None = None

    @property
    def earlier(self) -> tuple[Entry, ...]:
        """Readings taken before a repair that did not cure."""
        return tuple(e for repair in self.repaired if not repair.cured for e in repair.set_aside)

    @property
    def danger(self) -> bool:
        """A load that hangs, or may sink on people, was not dealt with yet."""
        call = self.call
        return self.secured is None and (call.load == "hanging" or call.slips
                                         or (call.people and call.load != "none"))


@dataclass(frozen=True, slots=True)
class Suspect:
    """A cause that is still possible."""

    cause: str
    """Cause id; two ids joined by ` + ` for a pair."""
    device: str
    says: str
    probability: float
    before: float
    """Probability before the last entry, to show how it moved."""
    remedy: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """One reading a test may give, and what it would mean."""

    reading: str
    """As it would be read: `about 110 V`, `below 2 V`, `OL`, `in`."""
    low: float
    """Range as numbers in the meter's SI unit; nan for words, inf for OL."""
    high: float
    probability: float
    keeps: int
    """Fewest causes that would together carry 90 % of what is described; never more than now."""
    points_to: tuple[str, ...]
    """Most likely causes after it, at most three ids."""
    rules_out: tuple[str, ...]
    """Causes now likely that it makes unlikely, most probable first, at most three ids."""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """A test worth taking."""

    test: str
    minutes: float
    """The test itself, travel, change of condition and live surcharge."""
    travel: float
    changing: float
    """Part of `minutes` for bringing about its condition."""
    gain_bits: float
    """Expected information about the remedy."""
    plan_minutes: float
    """Expected minutes to a proven repair when this test comes next; nan if not worked out."""
    outcomes: tuple[Outcome, ...]
    why: str
    """One sentence: why this one."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """A reading that fits badly."""

    number: int
    test: str
    says: str
    wrong: float
    """Probability that this reading is wrong."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """How one reading or symptom speaks for or against a finding."""

    about: str
    """Test or symptom id."""
    says: str
    bits: float
    """log2 of the likelihood ratio, for the finding against the rest; positive speaks for."""


@dataclass(frozen=True, slots=True)
class Finding:
    """The remedy that the readings leave."""

    kind: Literal["remedy", "group", "none"]
    """`remedy`: one is left; `group`: several that no test worth its minutes splits, in the
    best order; `none`: no described fault fits (or the machine is healthy)."""
    remedies: tuple[str, ...]
    """Remedy ids in the best order (probability over minutes)."""
    probability: float
    """That the first remedies named cure the machine."""
    causes: tuple[str, ...]
    evidence: tuple[Evidence, ...]
    instead: tuple[Suspect, ...]
    """What else it could be."""
    confirm: str
    """Test that would confirm it; empty where none is left."""
    says: str
    warnings: tuple[str, ...] = ()
    """What must be minded with it: a bridge to be removed, a fuse that would blow again."""


@dataclass(frozen=True, slots=True)
class Assessment:
    """What follows from a state; made by `assess`, shown by every front."""

    suspects: tuple[Suspect, ...]
    """Most probable first, those above 0.05 %."""
    unknown: float
    """Probability of a fault that is not described, or of none."""
    next: tuple[Suggestion, ...]
    """Best first; the first one is the proposal unless there is a finding."""
    finding: Finding | None
    doubts: tuple[Doubt, ...]
    supply_level: float
    """Estimated supply voltage over rated; 1 while nothing was measured."""
    remedies: tuple[tuple[str, float], ...]
    """Probability of each remedy, most probable first."""
    held_back: Finding | None = None
    """What would be found if `next` did not have to confirm it first: shown to whoever asks."""
    notes: tuple[str, ...] = field(default=())
    """Plain sentences worth saying, e.g. that two faults at once explain it better."""

    @property
    def so_far(self) -> Finding | None:
        """The finding, or the one held back: what whoever asks for it is shown."""
        return self.finding or self.held_back


MOST = 0.9
"""Share of what is described that the causes counted as left must carry."""


def carrying(probabilities: Iterable[float]) -> int:
    """Return the fewest causes that together carry most of the probability given.

    A count of those above a fixed probability would rise as the field narrows.
    """
    ranked = sorted(probabilities, reverse=True)
    wanted, carried = MOST * sum(ranked), 0.0
    for count, probability in enumerate(ranked, start=1):
        carried += probability
        if carried >= wanted:
            return count
    return len(ranked)
