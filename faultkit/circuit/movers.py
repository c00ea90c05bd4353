"""Devices that move: a state that follows the circuit after a delay.

A mover looks at node voltages and branch currents and says which state it wishes and after
what delay. If the wish is withdrawn before the delay has run, nothing happens: that one rule
gives pick-up and drop-out times, timers, trip delays and slow fuses alike.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from faultkit.circuit.elements import CLOSED, OPEN, Branch, Effect, Source
from faultkit.errors import CircuitError
from faultkit.vocabulary.machine import Contact, Device

Wish = tuple[str, float]
"""State wished for, and seconds until it is reached."""

World = Mapping[str, str]
"""Settings and devices by what they show now: `hook` -> `upper stop`, `-Y1` -> `released`."""

LARGEST = 1e12
"""Size of an attribute, in its unit, beyond which it is a mistake."""
NEVER: Wish = ("", 0.0)
"""No wish to move."""


@dataclass(slots=True)
class Mover:
    """Base of the devices that move; `fixed` once stuck by a fault."""

    device: str
    start: str
    effects: dict[str, tuple[Effect, ...]] = field(default_factory=dict)
    pins: tuple[str, ...] = ()
    """Pins it senses, in the order its own kind defines."""
    branches: tuple[str, ...] = ()
    """Branches whose current it senses."""
    switch: str = ""
    """Contact whose position it must know."""
    fixed: bool = False
    at: tuple[int, ...] = ()
    """Column of each pin in the solution, filled in when compiled."""
    through: tuple[int, ...] = ()
    """Column of each sensed branch current, filled in when compiled."""
    manual: bool = False
    """True: moved by hand only (buttons, selectors)."""

    def felt(self, x: Sequence[complex], k: int, ohms: float) -> float:
        """Return the volts that its k-th load feels: those across it, unless it is open inside.

        Pins 2k and 2k + 1 and branch k belong to the load of `ohms`.
        """
        return min(abs(x[self.at[2 * k]] - x[self.at[2 * k + 1]]), abs(x[self.through[k]]) * ohms)

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Return the state wished and its delay in seconds, from the solution `x`."""
        raise TypeError(self.device)

    def word(self, state: str) -> str:
        """Return what an onlooker calls this state."""
        return state

    def jammed(self, state: str) -> None:
        """Get stuck in a state.

        Raises
        ------
        CircuitError
            If the device has no such state: its contacts would stay as they are at rest.
        """
        if self.effects and state not in self.effects:
            raise CircuitError(f"{self.device} cannot be stuck in the state {state!r}.",
                               f"Its states are {', '.join(self.effects)}.")
        self.fixed = True
        self.start = state


class Manual(Mover):
    """Button or selector: a condition's step moves it, the circuit never does."""

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Never move by itself."""
        return NEVER


@dataclass(slots=True)
class Follower:
    """Contacts that follow a setting or another device: limit and released-switches."""

    device: str
    contacts: tuple[Contact, ...]
    positions: Mapping[str, tuple[str, ...]]
    """Setting or device -> its positions in order."""
    shift: Mapping[str, tuple[int, int]]
    """Contact -> positions by which it acts early and late."""

    def effects(self, world: World) -> list[Effect]:
        """Return the state of every contact in this world."""
        result = []
        for one in self.contacts:
            acted = one.acts is not None and self.acted(one, world)
            closed = acted if one.form != "nc" else not acted
            row = CLOSED if closed else OPEN
            result.append(Effect(f"{self.device}:{one.id}", row, row))
        return result

    def acted(self, one: Contact, world: World) -> bool:
        """Tell whether this contact is operated.

        A range that ends at the last position is entered from below, and the other way round:
        that tells on which side `early` and `late` move its edge.
        """
        assert one.acts is not None
        of, first, last = one.acts
        order = self.positions.get(of, ())
        now = world.get(of, "")
        if now not in order or first not in order or last not in order:
            return now == first
        low, high = order.index(first), order.index(last)
        early, late = self.shift.get(one.id, (0, 0))
        if high == len(order) - 1:
            low += late - early
        elif low == 0:
            high += early - late
        else:
            low, high = low + late - early, high + early - late
        return low <= order.index(now) <= high


@dataclass(slots=True)
class Part:
    """What one device brings into the circuit."""

    branches: tuple[Branch, ...]
    mover: Mover | None = None
    follower: Follower | None = None
    sources: tuple[Source, ...] = ()
    poles: tuple[Mover, ...] = ()
    """Further movers, one a pole (fuses)."""


def pin(device: Device, name: str) -> str:
    """Return the full pin."""
    return f"{device.id}:{name}"


def pins_of(device: Device, attribute: str) -> tuple[str, ...]:
    """Return the full pins that a `pins` attribute names; empty if it is empty."""
    text = str(device.attributes.get(attribute, ""))
    return tuple(pin(device, name) for name in text.split("-") if name)


def pair_of(device: Device, attribute: str) -> tuple[str, str]:
    """Return the two full pins that a `pins` attribute names."""
    a, b = pins_of(device, attribute)
    return a, b


def number(device: Device, attribute: str) -> float:
    """Return a numeric attribute.

    Raises
    ------
    ValueError
        If it is beyond reason, so that time would not go on or numbers overflow.
    """
    value = float(device.attributes[attribute])
    if not abs(value) <= LARGEST:
        raise ValueError(f"its {attribute} is {value:g}")
    return value


def contact_branches(device: Device) -> tuple[Branch, ...]:
    """Return a branch for each contact, open or closed as at rest."""
    result = []
    for one in device.contacts:
        row = CLOSED if one.form == "nc" else OPEN
        result.append(Branch(f"{device.id}:{one.id}", pin(device, one.a), pin(device, one.b),
                             row, row, row))
    return tuple(result)


def contact_effects(device: Device, *, moved: bool) -> tuple[Effect, ...]:
    """Return the state of every contact when the device has moved, or rests."""
    result = []
    for one in device.contacts:
        closed = (one.form != "nc") == moved
        row = CLOSED if closed else OPEN
        result.append(Effect(f"{device.id}:{one.id}", row, row))
    return tuple(result)
