"""Causes, symptoms, tests and remedies: what can be wrong, seen, measured and done."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from faultkit.vocabulary.origin import Origin

ChangeKind = Literal["contact", "hop", "element", "bridge", "attribute", "state"]
"""What a change is made to."""
Meter = Literal[
    "V AC", "V DC", "V AC low", "V DC low", "ohm", "mA", "clamp A", "Mohm", "seconds",
    "mm", "Hz", "words",
]
"""How a test is read. `low` is the low-impedance input; `words` is look, listen or feel."""


@dataclass(frozen=True, slots=True)
class Change:
    """One change that a fault makes to the healthy machine.

    what      | target                        | value
    ----------|-------------------------------|------------------------------------------
    `contact` | `-Q2:13-14`                   | `open`, `closed`, or ohms when closed
    `hop`     | `14:-X1:14/-B1:21` (wire and two neighbouring pins) | `open`, or ohms
    `element` | `-Q2/coil` (an inner element of a device) | `open`, `short`, or ohms, or `x0.5`
    `bridge`  | `-B1:21/-B1:22` (any two pins, or a pin and `PE`) | ohms
    `attribute` | `-K4/time` (an attribute of a device) | number, or `x1.5`, or `+5`
    `state`   | `-Q2` (a device that moves)   | the state it is stuck in: `in`, `out`, ...
    """

    what: ChangeKind
    target: str
    value: str


@dataclass(frozen=True, slots=True)
class Expected:
    """What a test reads under one cause, written by hand: a range, or words with weights."""

    low: float | None
    high: float | None
    """Both None for words; both +inf for `OL`. Unit of the test's meter, SI."""
    words: Mapping[str, float]
    """word -> probability (sums to 1); empty for a number."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class Cause:
    """One way one device, wire or adjustment fails."""

    id: str
    device: str
    """Designation it belongs to; empty for none."""
    says: str
    weight: float
    """Relative frequency, any unit common to the machine."""
    source: str
    """Where the weight comes from."""
    remedy: str
    variants: tuple[tuple[Change, ...], ...]
    """Severities, equally likely; each a tuple of changes made together. Empty: not wired."""
    expect: Mapping[str, Expected]
    """Test id -> hand-written reading; overrides what is computed."""
    symptoms: Mapping[str, float]
    """Symptom id -> probability that it shows, hand-written; overrides what is computed."""
    intermittent: float
    """Probability that the fault is absent at the moment of one reading."""
    critical: bool
    """A bridged or defeated safety device: must be removed before hand-over."""
    safety: bool
    """Belongs to a safety function: confirm by a direct measurement before the remedy."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class Symptom:
    """What can be seen or heard without an instrument."""

    id: str
    says: str
    """As an operator would say it: `UP does nothing`."""
    works: str
    """The same when it does work: `UP works`."""
    when: str | None
    """Condition in which it shows; None for a hand-written symptom."""
    sees: Mapping[str, tuple[str, ...]]
    """Device -> words that make it true; all must hold."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class Test:
    """One thing to do that gives a reading.

    Computed where `between` (voltage, ohms), `through` (current), `until` (seconds) or `sees`
    (words) is given; otherwise hand-written with `healthy` and the causes' `expect`.
    """

    __test__ = False  # an electrician's test, not pytest's

    id: str
    does: str
    """What to do, imperative."""
    meter: Meter
    condition: str
    place: str
    minutes: float
    between: tuple[str, str] | None
    """Red (from) and black (to) probe, full pins."""
    through: str | None
    """Full pin whose current is measured."""
    until: tuple[str, str] | None
    """(device, word): seconds from the condition's last action until the device shows word."""
    sees: str | None
    """Device that is looked at."""
    words: tuple[str, ...]
    """Possible words of a word-valued test; empty for numbers."""
    healthy: Expected | None
    """Hand-written healthy reading; None where it is computed."""
    needs: tuple[str, ...]
    """Tests that must come first."""
    device: str
    """Device it speaks about; empty for none."""
    cautions: tuple[str, ...]
    generated: bool
    """True for a test that a probe row stands for."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class Remedy:
    """What puts a cause right; several causes can share one."""

    id: str
    says: str
    place: str
    minutes: float
    """The work itself, without travel, isolation and proof."""
    proof: float
    """Minutes to prove afterwards that it works."""
    dead: bool
    """True: needs the machine isolated."""
    part: str
    tools: str
    cautions: tuple[str, ...]
    origin: Origin


@dataclass(frozen=True, slots=True)
class Reading:
    """A value entered: a number in the meter's SI unit, `OL` (inf), or a word."""

    value: float | None
    """None for a word; +inf for OL."""
    word: str = ""

    def __str__(self) -> str:
        if self.value is None:
            return self.word
        return "OL" if self.value == float("inf") else f"{self.value:g}"
