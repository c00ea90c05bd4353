"""The machine while it is being built: merged sections, finished records, known ids."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from faultkit.loading.problems import Report
from faultkit.loading.tree import Node, Scalar
from faultkit.loading.words import words_of
from faultkit.vocabulary.diagnosis import Cause, Remedy, Symptom, Test
from faultkit.vocabulary.machine import (
    Condition,
    Device,
    Place,
    SafetyFunction,
    Setting,
    Wire,
)
from faultkit.vocabulary.near_miss import did_you_mean
from faultkit.vocabulary.origin import Origin

SECTIONS = ("places", "settings", "conditions", "devices", "wires", "symptoms", "tests", "probes",
            "causes", "remedies", "safety")
"""Sections that hold records under an id; each may stand in every file."""


@dataclass(slots=True)
class Draft:
    """Everything the builders share. Records enter in the order of the files."""

    report: Report
    raw: dict[str, dict[str, tuple[Scalar, Node]]] = field(
        default_factory=lambda: {section: {} for section in SECTIONS})
    """Section -> id -> (key, what stands behind it), each id once."""
    places: dict[str, Place] = field(default_factory=dict)
    root: str = "panel"
    settings: dict[str, Setting] = field(default_factory=dict)
    conditions: dict[str, Condition] = field(default_factory=dict)
    devices: dict[str, Device] = field(default_factory=dict)
    factors: dict[str, float] = field(default_factory=dict)
    """Device -> its `weight`, which multiplies all its generated causes."""
    wires: dict[str, Wire] = field(default_factory=dict)
    symptoms: dict[str, Symptom] = field(default_factory=dict)
    tests: dict[str, Test] = field(default_factory=dict)
    causes: dict[str, Cause] = field(default_factory=dict)
    remedies: dict[str, Remedy] = field(default_factory=dict)
    safety: dict[str, SafetyFunction] = field(default_factory=dict)

    def records(self, section: str) -> Iterator[tuple[str, Scalar, Node]]:
        """Id, key and body of each record of a section."""
        for name, (key, body) in self.raw[section].items():
            yield name, key, body

    def written(self, section: str, name: str) -> bool:
        """True if the author wrote such a record, even if it is faulty: no second complaint."""
        return name in self.raw[section]

    def known(self, kind: str, name: str, origin: Origin) -> bool:
        """True if a reference meets a record; else a problem with a near miss."""
        section = {"place": "places", "setting": "settings", "condition": "conditions",
                   "device": "devices", "wire": "wires", "symptom": "symptoms", "test": "tests",
                   "remedy": "remedies"}[kind]
        finished: dict[str, object] = getattr(self, section)
        if name in finished:
            return True
        if not self.written(section, name):
            self.report.error(origin, f"unknown-{kind}", f"There is no {kind} {name!r}.",
                              did_you_mean(name, [*finished, *self.raw[section]]))
        return False

    def place_of(self, device: str) -> str:
        """Place of a device, or the root."""
        return self.devices[device].place if device in self.devices else self.root

    def words_of(self, device: str) -> tuple[str, ...]:
        """Words that a look at a device can give."""
        return words_of(self.devices[device])
