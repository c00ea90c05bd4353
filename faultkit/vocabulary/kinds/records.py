"""What a device kind is: attributes, ways to fail, remedies, all as tables.

One table a kind. The loader checks and completes an author's attributes with it, the fault
modes become causes, the circuit builds its elements from it, and the manual prints it.
"""

from dataclasses import dataclass
from typing import Literal

from faultkit.vocabulary.diagnosis import ChangeKind
from faultkit.vocabulary.origin import COMMON_PRACTICE, FROM_MEMORY

Per = Literal["device", "contact", "main contact", "core", "winding phase", "phase"]
"""What a fault mode is repeated for. `phase` is each pole of a supply."""


@dataclass(frozen=True, slots=True)
class Attribute:
    """One attribute of a kind."""

    name: str
    unit: str
    """SI unit of a number; `text`; `pins` for a chain of pin names (`A1-A2`);
    `device`, `setting` or `contact` for a reference."""
    default: float | str | None
    """None: the author must give it. An empty text: optional."""
    says: str
    source: str = COMMON_PRACTICE
    choices: tuple[str, ...] = ()
    """The only texts or numbers it may have; empty: any."""
    count: int = 2
    """Pins in the chain of a `pins` attribute."""


@dataclass(frozen=True, slots=True)
class Mode:
    """One way to fail, for the device or for each of its contacts, cores, phases."""

    key: str
    """Last part of the cause id: `Q2.coil-open`, `Q2.13-14.open`."""
    says: str
    """Words after the designation; `{c}` is the contact, core, winding phase or pole."""
    per: Per
    variants: tuple[tuple[tuple[ChangeKind, str, str], ...], ...]
    """Severities; each a tuple of (what, target, value) of `Change`; `{d}` is the device."""
    share: float
    """Part of the kind's rate; per-contact shares are divided by the number of contacts."""
    remedy: str
    """Key into the kind's remedies."""
    source: str = FROM_MEMORY
    critical: bool = False


@dataclass(frozen=True, slots=True)
class Cure:
    """A remedy template."""

    key: str
    """Last part of the remedy id: `Q2.replace`; per-core cures carry the core."""
    says: str
    minutes: float
    proof: float = 3.0
    dead: bool = True
    tools: str = ""
    part: str = ""
    each: bool = False
    """True: one remedy per contact or core instead of one per device."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of device."""

    name: str
    says: str
    attributes: tuple[Attribute, ...]
    modes: tuple[Mode, ...]
    cures: tuple[Cure, ...]
    rate: float
    """Failures per million hours, order of magnitude; only ratios matter."""
    rate_source: str
    shows: tuple[str, ...] = ()
    """Words that a look at the device can give."""
    takes_contacts: bool = False
    pins: tuple[str, ...] = ()
    """Pins every device of the kind has, besides those of contacts and `pins` attributes."""


def change(what: ChangeKind, target: str, value: str) -> tuple[tuple[ChangeKind, str, str], ...]:
    """One severity made of one change."""
    return ((what, target, value),)
