"""A linear network at one frequency, as plain data that every solver here is given.

Nothing of faultkit is used in this folder's solvers: a network is written down once, then
solved by a circuit simulator and by a dense solve in long arithmetic.

    Resistor, impedance   a o--[ z ]--o b      z in ohm, complex, z = 0 is an ideal wire
    Source                a o-( u )-o b        u in volt (peak equals rms here: all is linear)
    Transformer           a o-) (-o c          v(c, d) = ratio * v(a, b), no losses
                          b o-) (-o d
"""

from dataclasses import dataclass, field

REFERENCE = "0"
"""Name of the node that every voltage is counted from."""


@dataclass(frozen=True, slots=True)
class Impedance:
    """Two-terminal impedance."""

    a: str
    b: str
    ohms: complex


@dataclass(frozen=True, slots=True)
class Source:
    """Ideal voltage source, plus at `a`."""

    a: str
    b: str
    volts: complex


@dataclass(frozen=True, slots=True)
class Injection:
    """Ideal current source: `amps` flow out of `a` through the source into `b`."""

    a: str
    b: str
    amps: complex


@dataclass(frozen=True, slots=True)
class Transformer:
    """Ideal transformer: v(c) - v(d) = ratio (v(a) - v(b))."""

    a: str
    b: str
    c: str
    d: str
    ratio: float


Element = Impedance | Source | Injection | Transformer


@dataclass
class Network:
    """Elements and the frequency they are solved at; 0 is direct current."""

    frequency: float
    elements: list[Element] = field(default_factory=list)

    def add(self, *elements: Element) -> None:
        """Put elements into the network."""
        self.elements.extend(elements)

    def nodes(self) -> list[str]:
        """Every node but the reference, in the order in which they turn up."""
        found: dict[str, None] = {}
        for element in self.elements:
            ends = (element.a, element.b)
            more = (element.c, element.d) if isinstance(element, Transformer) else ()
            found |= dict.fromkeys((*ends, *more))
        found.pop(REFERENCE, None)
        return list(found)
