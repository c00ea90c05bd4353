"""What a report says, already as text and figures; every form of it is written from these.

All text in here is clean (see `words.clean`) but not escaped: that is the business of each form.
"""

from dataclasses import dataclass
from typing import Literal, NamedTuple

Status = Literal["fit", "not fit", "no fault", "open"]
Weight = Literal["strongly", "clearly", "a little"]
Symbol = Literal["no", "nc", "main", "coil", "fuse", "source", "load", "plug", "wire"]


class Fact(NamedTuple):
    """A label and what is said under it."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """How the job stands at the end of the report."""

    status: Status
    says: str
    """`FIT FOR USE`, `NOT FIT FOR USE`, `NO FAULT FOUND`, `OPEN: NOT HANDED OVER`."""
    reason: str
    who: str
    when: str
    """Empty while the job is open."""


@dataclass(frozen=True, slots=True)
class Complaint:
    """What the operator said."""

    words: str
    shows: tuple[str, ...]
    works: tuple[str, ...]
    around: tuple[Fact, ...]
    """What was changed last, load, people, brake, how to work."""


@dataclass(frozen=True, slots=True)
class SafeStep:
    """The load secured, the machine made dead or live again."""

    when: str
    says: str
    steps: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RuledOut:
    """A suspect that a reading made unlikely."""

    says: str
    before: str
    """Probability before the reading, `12 %`."""


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """One reading, with everything that became of it."""

    number: int
    search: int
    """Counted from 1; each repair that did not cure begins another."""
    when: str
    does: str
    where: str
    """Place, and the condition in words."""
    points: str
    """Meter and probes; empty where nothing is probed."""
    read: str
    healthy: str
    """What a healthy machine reads, with unit; empty where it is not known."""
    span: str
    """Range of healthy readings; empty for words."""
    fits: Literal["as healthy", "differs", ""]
    rules_out: tuple[RuledOut, ...]
    left: str
    """How many suspects were left, and the first of them; empty where it does not count."""
    changes: tuple[str, ...]
    """What was corrected, and when."""
    withdrawn: str
    """When it was taken back; empty while it counts."""
    set_aside: bool
    """Taken before a repair that did not cure, or not counted for another reason."""


@dataclass(frozen=True, slots=True)
class Share:
    """A suspect or a remedy with its probability, as text."""

    says: str
    chance: str


@dataclass(frozen=True, slots=True)
class EvidenceRow:
    """How a reading or a symptom speaks for a finding."""

    says: str
    weight: Weight
    bits: float


@dataclass(frozen=True, slots=True)
class FindingPart:
    """What the readings of one search left."""

    search: int
    headline: str
    says: str
    causes: tuple[str, ...]
    speaks_for: tuple[EvidenceRow, ...]
    speaks_against: tuple[EvidenceRow, ...]
    instead: tuple[Share, ...]
    doubts: tuple[str, ...]
    warnings: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RepairPart:
    """A remedy that was carried out."""

    search: int
    when: str
    says: str
    result: Literal["cured", "not cured", "entered by mistake"]
    about: tuple[Fact, ...]
    """Place, part, tools."""
    cautions: tuple[str, ...]
    repeated: str
    """The test that was repeated after it; empty for none."""
    before: str
    after: str
    healthy: str
    note: str


@dataclass(frozen=True, slots=True)
class BridgeRow:
    """A bridged safety device."""

    where: str
    found: str
    removed: str
    """Empty while it is still there."""


@dataclass(frozen=True, slots=True)
class ProofRow:
    """A safety function and the last word on it."""

    says: str
    expect: str
    result: Literal["passed", "FAILED", "not proved"]
    seen: str
    who: str
    when: str
    earlier: tuple[str, ...]
    """Proofs that were made before and do not count any more."""


@dataclass(frozen=True, slots=True)
class Point:
    """Where wires end on the way: one point while nothing is broken."""

    name: str
    """Wire number, or the pin where there is none."""
    pins: tuple[str, ...]
    healthy: str
    """Computed for the healthy machine, against the black point; empty where unknown."""
    found: str
    """The same with the fault that was found."""
    state: Literal["live", "gone", "low", ""]
    """`live`: carries voltage; `gone`: should, and does not; `low`: is not meant to; or unknown."""


@dataclass(frozen=True, slots=True)
class Part:
    """A contact, coil, fuse or winding between two points."""

    device: str
    mark: str
    """`13-14`, or the name of the inner element; empty for a piece of wire."""
    says: str
    symbol: Symbol
    faulty: bool
    """The fault that was found lies here."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A reading in the picture."""

    number: int
    text: str
    red: int
    """Index of the stop the reading belongs to, or where it begins."""
    black: int | None
    """Index of the stop where it ends; None for a reading at one stop."""
    differs: bool


@dataclass(frozen=True, slots=True)
class RunPicture:
    """The run of the circuit that readings were taken on."""

    search: int
    title: str
    against: str
    """Point that single readings are taken against; empty where there are none."""
    stops: tuple[Point | Part, ...]
    marks: tuple[Mark, ...]
    note: str
    """What is computed in it, and for which fault."""


@dataclass(frozen=True, slots=True)
class Moment:
    """A point in time at which the suspects changed."""

    label: str
    """`told`, the number of a reading, `-3` for one withdrawn, `3*` for a changed one, `repair`."""
    says: str
    when: str


@dataclass(frozen=True, slots=True)
class SuspectLine:
    """One suspect over all moments."""

    says: str
    chances: tuple[float, ...]
    """Probability at each moment, in [0, 1]."""
    last: str


@dataclass(frozen=True, slots=True)
class Suspects:
    """Suspects over time, those first that were once the most probable."""

    moments: tuple[Moment, ...]
    lines: tuple[SuspectLine, ...]
    others: SuspectLine
    """All that are not lines of their own."""
    unknown: SuspectLine


@dataclass(frozen=True, slots=True)
class Report:
    """One job, ready to be written down."""

    title: str
    job: str
    machine: str
    verdict: Verdict
    summary: tuple[str, ...]
    """A few sentences: complaint, finding, repair, proof."""
    facts: tuple[Fact, ...]
    complaint: Complaint
    safe: tuple[SafeStep, ...]
    readings: tuple[ReadingRow, ...]
    skipped: tuple[str, ...]
    suspects: Suspects
    runs: tuple[RunPicture, ...]
    findings: tuple[FindingPart, ...]
    repairs: tuple[RepairPart, ...]
    bridges: tuple[BridgeRow, ...]
    proofs: tuple[ProofRow, ...]
    open_points: tuple[str, ...]
    remarks: tuple[Fact, ...]
    """When, and the note."""
    closings: tuple[Fact, ...]
    """Every hand-over and reopening: when, and what."""
    times: tuple[Fact, ...]
    basis: tuple[Fact, ...]
    """What it was worked out with: versions, weights."""
    cautions: tuple[str, ...]
    signatures: tuple[str, ...]
