"""Contactors, relays, timers, buttons, selectors, limit switches, fuses, breakers."""

from collections.abc import Sequence
from dataclasses import dataclass

from faultkit.circuit.elements import CLOSED, OPEN, Branch, Effect, contact, load, ohms
from faultkit.circuit.movers import (
    NEVER,
    Follower,
    Manual,
    Mover,
    Part,
    Wish,
    World,
    contact_branches,
    contact_effects,
    number,
    pair_of,
    pin,
    pins_of,
)
from faultkit.vocabulary.machine import Device, Machine

SEALED_PF = 0.3
"""Power factor of an AC coil that is in (common practice, no source)."""
INRUSH_PF = 0.7
"""Power factor of an AC coil while pulling in (common practice, no source)."""


def impedance(volts: float, power: float, factor: float) -> complex:
    """Return the impedance in ohms that takes `power` VA at `volts` with a power factor."""
    size = volts * volts / power
    return complex(size * factor, size * (1 - factor * factor) ** 0.5)


@dataclass(slots=True)
class Coil(Mover):
    """Armature of a contactor or relay, with hysteresis between pick-up and drop-out."""

    pick_up: float = 0.0
    drop_out: float = 0.0
    closing: float = 0.0
    opening: float = 0.0
    ohms_out: float = 0.0
    ohms_in: float = 0.0

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Pull in above the pick-up voltage, let go below the drop-out voltage."""
        v = self.felt(x, 0, self.ohms_out if state == "out" else self.ohms_in)
        if state == "out":
            return ("in", self.closing) if v >= self.pick_up else NEVER
        return ("out", self.opening) if v <= self.drop_out else NEVER


def coil_device(device: Device, machine: Machine) -> Part:
    """Build a contactor or relay: contacts, coil, and for a relay its socket and diode."""
    plus, minus = pair_of(device, "coil")
    volts = number(device, "coil voltage")
    out_z = impedance(volts, number(device, "inrush"), INRUSH_PF)
    in_z = impedance(volts, number(device, "sealed"), SEALED_PF)
    resistance = number(device, "coil resistance")
    direct = device.attributes["current"] == "DC"
    branches = list(contact_branches(device))
    inner = plus
    if device.kind == "relay":
        inner = f"{device.id}/coil+"
        branches.append(contact(f"{device.id}/socket", plus, inner, closed=True))
        branches.append(contact(f"{device.id}/diode", inner, minus))
    coil_id = f"{device.id}/coil"
    branches.append(Branch(coil_id, inner, minus, ohms(resistance if direct else out_z),
                           ohms(resistance), ohms(resistance)))
    effects = {"out": contact_effects(device, moved=False),
               "in": contact_effects(device, moved=True)}
    if not direct:
        effects["out"] += (Effect(coil_id, ohms(out_z), None),)
        effects["in"] += (Effect(coil_id, ohms(in_z), None),)
    mover = Coil(device.id, "out", effects, pins=(inner, minus), branches=(coil_id,),
                 ohms_out=resistance if direct else abs(out_z),
                 ohms_in=resistance if direct else abs(in_z),
                 pick_up=volts * number(device, "pick-up"),
                 drop_out=volts * number(device, "drop-out"),
                 closing=number(device, "closing time"), opening=number(device, "opening time"))
    return Part(tuple(branches), mover)


@dataclass(slots=True)
class Timer(Mover):
    """Timer relay. Inner states: off, waiting, in, running (a pause timer's input is on)."""

    function: str = "on-delay"
    time: float = 0.0
    works: float = 0.0
    stops: float = 0.0
    supply_ohms: float = 0.0
    input_ohms: float = 0.0

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Follow supply and input by the function that is set."""
        fed = self.felt(x, 0, self.supply_ohms)
        if fed <= self.stops:
            return ("out", 0.02) if state != "out" else NEVER
        if fed < self.works and state == "out":
            return NEVER
        active = self.felt(x, 1, self.input_ohms) >= self.works
        if self.function == "pause":
            return self._pause(state, active=active)
        if self.function == "off-delay":
            if active:
                return ("in", 0.02) if state != "in" else NEVER
            return ("out", self.time) if state == "in" else NEVER
        if active:
            return ("in", self.time) if state != "in" else NEVER
        return ("out", 0.02) if state == "in" else NEVER

    def _pause(self, state: str, *, active: bool) -> Wish:
        if state == "out":
            return ("waiting", 0.02)
        if state == "waiting":
            return ("in", self.time) if not active else NEVER
        if state == "in":
            return ("running", 0.0) if active else NEVER
        return ("waiting", 0.0) if not active else NEVER

    def word(self, state: str) -> str:
        """Show `in` while the output is in, `out` otherwise."""
        return "in" if state in ("in", "running") else "out"


def timer(device: Device, machine: Machine) -> Part:
    """Build a timer relay."""
    supply = pair_of(device, "supply")
    given = pair_of(device, "input") if pins_of(device, "input") else supply
    volts = number(device, "voltage")
    fed_by, told_by = f"{device.id}/supply", f"{device.id}/supply"
    supply_ohms = input_ohms = number(device, "resistance")
    branches = [*contact_branches(device), load(fed_by, *supply, supply_ohms, supply_ohms)]
    if given != supply:
        told_by, input_ohms = f"{device.id}/input", number(device, "input resistance")
        branches.append(load(told_by, *given, input_ohms, input_ohms))
    on, off = contact_effects(device, moved=True), contact_effects(device, moved=False)
    mover = Timer(device.id, "out", {"out": off, "waiting": off, "in": on, "running": on},
                  pins=(*supply, *given), branches=(fed_by, told_by),
                  supply_ohms=supply_ohms, input_ohms=input_ohms,
                  function=str(device.attributes["function"]),
                  time=number(device, "time"), works=volts * number(device, "pick-up"),
                  stops=volts * number(device, "drop-out"))
    return Part(tuple(branches), mover)


MOST_STEPS = 99
"""Steps of a button at most: each has a table of its contacts."""


@dataclass(slots=True)
class Plunger(Manual):
    """A button; its states are `0` (free) and the steps `1`, `2` ..."""

    latching: bool = False

    def jammed(self, state: str) -> None:
        """Get stuck free or pressed (the first step), or in a step."""
        Manual.jammed(self, {"free": "0", "pressed": "1"}.get(state, state))


def button(device: Device, machine: Machine) -> Part:
    """Build a push-button with its steps.

    Raises
    ------
    ValueError
        If it has more steps than any button.
    """
    steps = max(int(number(device, "steps")), *(one.step for one in device.contacts), 1)
    if steps > MOST_STEPS:
        raise ValueError(f"{steps} steps are more than a button can have")
    effects = {}
    for step in range(steps + 1):
        rows = []
        for one in device.contacts:
            acted = step >= one.step
            row = CLOSED if acted == (one.form != "nc") else OPEN
            rows.append(Effect(f"{device.id}:{one.id}", row, row))
        effects[str(step)] = tuple(rows)
    return Part(contact_branches(device),
                Plunger(device.id, "0", effects, manual=True,
                        latching=device.attributes["latching"] == "yes"))


def selector(device: Device, machine: Machine) -> Part:
    """Build a maintained switch: make contacts are closed in the last position."""
    positions = str(device.attributes["positions"]).split()
    effects = {}
    for position in positions:
        rows = []
        for one in device.contacts:
            if one.acts is not None:
                order = positions
                acted = (order.index(one.acts[1]) <= order.index(position)
                         <= order.index(one.acts[2]))
            else:
                acted = position == positions[-1]
            row = CLOSED if acted == (one.form != "nc") else OPEN
            rows.append(Effect(f"{device.id}:{one.id}", row, row))
        effects[position] = tuple(rows)
    return Part(contact_branches(device),
                Manual(device.id, str(device.attributes["rests"]), effects, manual=True))


def limit_switch(device: Device, machine: Machine) -> Part:
    """Build contacts that follow a setting or another device."""
    positions: dict[str, tuple[str, ...]] = {
        setting.id: setting.positions for setting in machine.settings.values()
    }
    shift = {
        one.id: (int(float(device.attributes.get(f"early:{one.id}", 0))),
                 int(float(device.attributes.get(f"late:{one.id}", 0))))
        for one in device.contacts
    }
    return Part(contact_branches(device),
                follower=Follower(device.id, device.contacts, positions, shift))


@dataclass(slots=True)
class Melt(Mover):
    """A fuse pole or breaker: opens when its current stays too high.

    Time falls with the square of the current: the shape of a time-current characteristic
    (common practice, no source). A fuse goes on so, since its melting energy is a constant:
    of two in series the smaller blows first. A breaker is never quicker than its mechanism.
    """

    limit: float = 0.0
    time: float = 0.0
    """At ten times `limit`."""
    quickest: float = 0.0
    opened: str = "blown"

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Open after a time that shrinks with the current."""
        if state == self.opened:
            return NEVER
        amps = max(abs(x[column]) for column in self.through)
        if amps <= max(self.limit, 0.0):
            return NEVER
        return (self.opened, max(self.quickest, self.time * (10 * self.limit / amps) ** 2))


def fuse(device: Device, machine: Machine) -> Part:
    """Build a fuse: each pole blows by itself."""
    limit = number(device, "rating") * number(device, "factor")
    poles = []
    for one in device.contacts:
        branch = f"{device.id}:{one.id}"
        effects: dict[str, tuple[Effect, ...]] = {
            "whole": (Effect(branch, CLOSED, CLOSED),),
            "blown": (Effect(branch, OPEN, OPEN),),
        }
        poles.append(Melt(device.id, "whole", effects, branches=(branch,), limit=limit,
                          time=number(device, "time")))
    return Part(closed_contacts(device), poles=tuple(poles))


def breaker(device: Device, machine: Machine) -> Part:
    """Build a circuit-breaker: all poles open together."""
    branches = tuple(f"{device.id}:{one.id}" for one in device.contacts if one.form == "main")
    mover = Melt(device.id, "on",
                 {"on": contact_effects(device, moved=True),
                  "tripped": contact_effects(device, moved=False)},
                 branches=branches, limit=number(device, "rating") * number(device, "factor"),
                 time=number(device, "time"), quickest=number(device, "time"),
                 opened="tripped")
    return Part(contact_branches(device), mover)


def closed_contacts(device: Device) -> tuple[Branch, ...]:
    """Return a closed branch per contact: fuse poles, plug pins."""
    return tuple(contact(f"{device.id}:{one.id}", pin(device, one.a), pin(device, one.b),
                         closed=True) for one in device.contacts)


def plug(device: Device, machine: Machine) -> Part:
    """Build a mated plug: every contact is closed."""
    return Part(closed_contacts(device))


BUILDERS = {
    "contactor": coil_device, "relay": coil_device, "timer": timer, "button": button,
    "selector": selector, "limit switch": limit_switch, "fuse": fuse, "breaker": breaker,
    "plug": plug,
}
