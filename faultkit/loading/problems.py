"""What is wrong with a knowledge file: data, collected in one run, never an exception."""

from dataclasses import dataclass, field
from typing import Literal

from faultkit.vocabulary.origin import Origin

Severity = Literal["error", "warning"]


NEEDS_EVERYTHING = frozenset({
    "no-machine", "unused-remedy", "core-without-hop", "unknown-place", "unknown-setting",
    "unknown-condition", "unknown-device", "unknown-wire", "unknown-symptom", "unknown-test",
    "unknown-remedy", "unknown-pin", "unknown-contact", "no-symptom-path", "nothing-to-find",
    "missing-key", "no-such-hop", "place-tree"})
"""Rules that say something only when all files could be composed."""


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing to put right. Line and column are 0 where only the file is known."""

    origin: Origin
    rule: str
    severity: Severity
    says: str
    way_out: str = ""


@dataclass(slots=True)
class Report:
    """Collects problems, each once."""

    found: set[Problem] = field(default_factory=set)
    partial: bool = False
    """True once a part of a file could not be composed: then nothing can be said to be absent."""

    def error(self, origin: Origin, rule: str, says: str, way_out: str = "") -> None:
        """Note what keeps the machine from loading."""
        if self.partial and rule in NEEDS_EVERYTHING:
            return
        self.found.add(Problem(origin, rule, "error", says, way_out))

    def warn(self, origin: Origin, rule: str, says: str, way_out: str = "") -> None:
        """Note what is probably not meant."""
        if self.partial and rule in NEEDS_EVERYTHING:
            return
        self.found.add(Problem(origin, rule, "warning", says, way_out))

    def problems(self) -> tuple[Problem, ...]:
        """All of them, in the order of the files."""
        return tuple(sorted(self.found))
