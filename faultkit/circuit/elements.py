"""Branches and their rows: the one form that every element, contact and fault takes.

Each branch between nodes a and b has its current i (from a through the branch to b) as an
unknown beside the node voltages, and one equation, its row:

    alpha (va - vb) + eps (extra terms) - beta i = gamma

    closed contact, wire, resistor   alpha 1, beta R (or Z), gamma 0
    open contact, broken wire        alpha 0, beta 1, gamma 0        (i = 0)
    voltage source E behind R        alpha 1, beta R, gamma E
    current source J from a to b     alpha 0, beta 1, gamma -J

So every fault replaces rows, and nothing else. That keeps the answer exact at dead-ended and
floating nodes, where plain nodal analysis loses all digits.
"""

from dataclasses import dataclass

Row = tuple[complex, complex, complex, complex]
"""alpha, beta, gamma, eps."""

OPEN: Row = (0, 1, 0, 0)

CONTACT_OHM = 0.03
"""Resistance of a good closed contact; below 0.1 ohm when new (common practice, no source)."""
TERMINAL_OHM = 0.01
"""Resistance of a good terminal."""
SHORT_OHM = 0.5
"""Resistance of a shorted element (common practice, no source)."""
EARTH = "PE"
"""Name of the reference node."""


def ohms(z: complex) -> Row:
    """Row of a resistance or impedance in ohms."""
    return (1, z, 0, 0)


def volts(e: complex, z: complex) -> Row:
    """Row of a voltage source of `e` volts behind `z` ohms, plus at a."""
    return (1, z, e, 0)


def amperes(j: complex) -> Row:
    """Row of a current source that drives `j` amperes from a through itself to b."""
    return (0, 1, -j, 0)


CLOSED: Row = ohms(CONTACT_OHM)


@dataclass(frozen=True, slots=True)
class Branch:
    """One branch. Pins are full (`-Q1:A1`), `PE`, or inner nodes of a device (`-M1/star`)."""

    id: str
    a: str
    b: str
    ac: Row
    """Row where its part of the network carries alternating current."""
    dc: Row
    """Row where it carries direct current."""
    dead: Row
    """Row for the ohmmeter: sources dead, windings by their DC resistance."""
    nodes: tuple[tuple[str, complex], ...] = ()
    """Extra terms on node voltages, scaled by eps."""
    currents: tuple[tuple[str, complex], ...] = ()
    """Extra terms on other branches' currents, scaled by eps."""
    opens: str = ""
    """Branch whose row is opened when this one fails open under voltage; empty for itself."""


def contact(id_: str, a: str, b: str, *, closed: bool = False) -> Branch:
    """Return a contact, or a place where a short may appear (open until then)."""
    row = CLOSED if closed else OPEN
    return Branch(id_, a, b, row, row, row)


def load(id_: str, a: str, b: str, z: complex, r: float | None = None) -> Branch:
    """Return a load of impedance `z` ohms at supply frequency and `r` ohms at DC.

    `r` None: no DC path at all (a magnetising reactance, electronics behind a rectifier).
    """
    dc = OPEN if r is None else ohms(r)
    return Branch(id_, a, b, ohms(z), dc, dc)


@dataclass(frozen=True, slots=True)
class Effect:
    """What a state does to a branch; None leaves that row as it is."""

    branch: str
    live: Row | None
    dead: Row | None


@dataclass(frozen=True, slots=True)
class Source:
    """A pin that is fed with alternating (`ac`) or direct (`dc`) current.

    For a rectified supply `phase_from` names the pins whose voltage gives the phase in which
    its direct voltages stand in the common set of phasors.
    """

    pin: str
    form: str
    phase_from: tuple[str, str] | None = None
