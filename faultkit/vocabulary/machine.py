"""The machine as its wiring diagram shows it: places, conditions, devices, wires.

Everything is frozen and keeps its origin. Ids are the texts the author wrote: a device id is
its designation (`-Q1`), a pin is written `-Q1:A1`, a wire id is its number (`14`).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from faultkit.vocabulary.diagnosis import Cause, Remedy, Symptom, Test
from faultkit.vocabulary.origin import Origin

StepKind = Literal["set", "press", "hold", "release", "wait"]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a person must be. Places form a tree; travel is the way along it."""

    id: str
    says: str
    minutes: float
    """Minutes from the place named in `beside` (or from the root)."""
    beside: str | None
    """Place this one is reached from; None for the root of the tree."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class Setting:
    """Something outside the circuit that a condition can set, e.g. where the hook is."""

    id: str
    says: str
    positions: tuple[str, ...]
    """In their physical order: contacts act over a range of them."""
    values: tuple[float, ...]
    """A number per position (percent of rated load, degrees ...); the index where none is given."""
    rests: str
    """The position when no condition says otherwise."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class Step:
    """One action on the way into a condition.

    `set` puts a setting or a maintained device (isolator, selector) into a position, `press`
    operates a button for 0.3 s and lets go, `hold` keeps it operated until the reading is
    taken, `release` lets go of what is held, `wait` lets `seconds` pass.
    """

    kind: StepKind
    target: str
    """Device designation or setting id; empty for `wait`."""
    value: str
    """Position, or the step of a button as text (`1`, `2`); empty for `wait`."""
    seconds: float
    """How long to go on after the action before the next one."""


@dataclass(frozen=True, slots=True)
class Condition:
    """The state a machine is put into for a test."""

    id: str
    says: str
    after: str | None
    """Condition whose steps come first; None starts at rest with the supply as it lies."""
    steps: tuple[Step, ...]
    dead: bool
    """True: isolated, locked and proved dead; needed for ohms."""
    minutes: float
    """To bring about, from a condition that is equally dead or live."""
    isolating: float
    """Minutes from live to this dead condition, proving included; 0 for a live one."""
    restoring: float
    """Minutes from this dead condition back to a live one; 0 for a live one."""
    cautions: tuple[str, ...]
    origin: Origin
    prove_dead: tuple[str, ...] = ()
    """Full pins, each to be proved dead to the others and to earth; of a dead condition."""
    discharge: float = 0.0
    """Minutes to wait after switching off until stored charge has gone; of a dead condition."""
    discharge_at: tuple[str, ...] = ()
    """Full pins between which the rest of the charge is measured after the wait."""


@dataclass(frozen=True, slots=True)
class Contact:
    """One contact of a device.

    `form` is `no`, `nc` or `main` (closes with the device). A change-over is two contacts
    sharing a pin. Three-pole sets are three contacts of form `main` sharing a `group`.
    """

    id: str
    """As marked: `13-14`, `1-2`."""
    a: str
    """Pin name, without the device."""
    b: str
    form: Literal["no", "nc", "main"]
    group: str
    """Contacts of one group move together when one welds; empty for a single contact."""
    step: int
    """First step of a button at which it acts; 1 for everything else."""
    acts: tuple[str, str, str] | None
    """Limit switch: (setting or device, first position, last position) in which it is actuated."""


@dataclass(frozen=True, slots=True)
class Device:
    """A designated item. What its attributes mean stands in the table of its kind."""

    id: str
    kind: str
    says: str
    place: str
    attributes: Mapping[str, float | str]
    """Checked and completed by the kind's table; numbers in SI units (V, A, ohm, s, W, VA)."""
    pins: tuple[str, ...]
    """Pin names without the device, all of them."""
    contacts: tuple[Contact, ...]
    faults: Mapping[str, float]
    """Author's word on fault modes: mode key -> weight; 0 removes the mode."""
    safety: bool
    """Part of a safety function: a direct measurement must confirm before a remedy."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class Wire:
    """A numbered conductor that joins pins in the order in which it is looped."""

    id: str
    pins: tuple[str, ...]
    """Full pins, `-X1:14`."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class SafetyFunction:
    """What must be proved before the machine is handed back."""

    id: str
    says: str
    expect: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class Machine:
    """One machine, complete and checked. Mappings keep the order of the files."""

    id: str
    """Name of its folder or file, without the ending."""
    title: str
    says: str
    version: str
    supply: str
    """The supply in words, for screens and reports."""
    places: Mapping[str, Place]
    settings: Mapping[str, Setting]
    conditions: Mapping[str, Condition]
    devices: Mapping[str, Device]
    wires: Mapping[str, Wire]
    symptoms: Mapping[str, Symptom]
    tests: Mapping[str, Test]
    """Named tests and those the probes stand for."""
    causes: Mapping[str, Cause]
    """Generated from the device tables and hand-written, in that order."""
    remedies: Mapping[str, Remedy]
    safety: Mapping[str, SafetyFunction]
    cautions: tuple[str, ...]
    """Cautions that hold for the whole job."""
    unknown: float
    """Probability, before any reading, that the fault is none of the causes."""
    origin: Origin
    digest: str = field(default="", compare=False)
    """Hash of the text of all files: key of every cache."""
