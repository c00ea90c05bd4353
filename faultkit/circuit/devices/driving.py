"""Motor, brake, thermistors, lamp, resistor."""

from collections.abc import Sequence
from dataclasses import dataclass

from faultkit.circuit.devices.watching import sequence_parts
from faultkit.circuit.elements import Branch, load, ohms
from faultkit.circuit.movers import (
    NEVER,
    Mover,
    Part,
    Wish,
    World,
    number,
    pair_of,
    pins_of,
)
from faultkit.vocabulary.machine import Device, Machine

WINDINGS = ("slow", "fast", "winding")
RUNNING_PF = 0.75
"""Power factor of a loaded hoist motor (common practice, no source)."""


@dataclass(slots=True)
class Rotor(Mover):
    """Whether the motor turns, which way and how fast, or only hums.

    It turns when one winding carries a current of mostly one sequence that is large enough,
    and the brake is released; with current but without that it hums.
    """

    windings: tuple[str, ...] = ()
    rated: tuple[float, ...] = ()
    brake: str = ""
    forward: str = "up"
    reverse: str = "down"
    seized: bool = False

    def jammed(self, state: str) -> None:
        """Seize: it still hums when fed and is still otherwise."""
        self.seized = True

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Find the winding that is fed and judge its currents (Fortescue)."""
        word = "still"
        for k, name in enumerate(self.windings):
            one, two, three = (x[c] for c in self.through[3 * k:3 * k + 3])
            right, wrong = sequence_parts(one, two, three)
            if max(right, wrong) < 0.2 * self.rated[k]:
                continue
            weak = max(right, wrong) < 0.6 * self.rated[k]
            mixed = min(right, wrong) > 0.5 * max(right, wrong)
            held = bool(self.brake) and world.get(self.brake) != "released"
            if word != "still" or weak or mixed or held or self.seized:
                word = "hums"
                continue
            word = self.forward if right > wrong else self.reverse
            if name != "winding":
                word = f"{word} {name}"
        return (word, 0.05) if word != state else NEVER


def motor(device: Device, machine: Machine) -> Part:
    """Build a motor with one or two star-connected windings."""
    branches: list[Branch] = []
    names, rated = [], []
    for name in WINDINGS:
        phases = pins_of(device, name)
        if not phases:
            continue
        slow = "slow " if name == "slow" else ""
        z = number(device, f"{slow}impedance")
        r = number(device, f"{slow}resistance")
        names.append(name)
        rated.append(number(device, "voltage") / 3**0.5 / z)
        running = complex(z * RUNNING_PF, z * (1 - RUNNING_PF**2) ** 0.5)
        star = f"{device.id}/{name} star"
        branches += [load(f"{device.id}/{name}-{phase}", full, star, running, r)
                     for phase, full in zip("UVW", phases, strict=True)]
    mover = Rotor(device.id, "still", branches=tuple(branch.id for branch in branches),
                  windings=tuple(names), rated=tuple(rated),
                  brake=str(device.attributes["brake"]),
                  forward=str(device.attributes["forward"]),
                  reverse=str(device.attributes["reverse"]))
    return Part(tuple(branches), mover)


@dataclass(slots=True)
class Armature(Mover):
    """Armature of a spring-set brake: released by the coil, set by its springs."""

    pick_up: float = 0.0
    drop_out: float = 0.0
    release: float = 0.0
    fast: float = 0.0
    slow: float = 0.0
    ohms: float = 0.0

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Release above the pick-up voltage; set after a time that the DC side decides.

        While `switch`, the contact in the DC side, is closed, the coil's current dies slowly.
        """
        v = self.felt(x, 0, self.ohms)
        if state == "set":
            return ("released", self.release) if v >= self.pick_up else NEVER
        if v > self.drop_out:
            return NEVER
        slow = not self.switch or world.get(self.switch) == "closed"
        return ("set", self.slow if slow else self.fast)


def brake(device: Device, machine: Machine) -> Part:
    """Build a brake coil and its armature."""
    plus, minus = pair_of(device, "coil")
    r = number(device, "resistance")
    volts = number(device, "voltage")
    fast = number(device, "set time")
    return Part((load(f"{device.id}/coil", plus, minus, r, r),), Armature(
        device.id, "set", pins=(plus, minus), branches=(f"{device.id}/coil",), ohms=r,
        pick_up=volts * number(device, "pick-up"),
        drop_out=volts * number(device, "drop-out"), release=number(device, "release time"),
        fast=fast, slow=max(fast, number(device, "slow set time")),
        switch=str(device.attributes["fast contact"])))


def ptc(device: Device, machine: Machine) -> Part:
    """Build a chain of cold PTC thermistors."""
    r = number(device, "sensors") * number(device, "cold")
    return Part((load(f"{device.id}/chain", *pair_of(device, "pins"), r, r),))


@dataclass(slots=True)
class Glow(Mover):
    """What a lamp shows."""

    voltage: float = 0.0

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Light up with the current through it: a burnt lamp stays dark."""
        share = abs(x[self.through[0]]) / self.voltage
        word = "lit" if share > 0.65 else "dim" if share > 0.25 else "dark"
        return (word, 0.05) if word != state else NEVER


def lamp(device: Device, machine: Machine) -> Part:
    """Build an indicator lamp."""
    volts, watts = number(device, "voltage"), number(device, "power")
    r = volts * volts / watts
    name = f"{device.id}/lamp"
    a, b = pair_of(device, "pins")
    branch = Branch(name, a, b, ohms(r), ohms(r), ohms(r))
    return Part((branch,), Glow(device.id, "dark", branches=(name,), voltage=watts / volts))


def resistor(device: Device, machine: Machine) -> Part:
    """Build a resistor or heater."""
    r = number(device, "resistance")
    return Part((load(f"{device.id}/body", *pair_of(device, "pins"), r, r),))


BUILDERS = {"motor": motor, "brake": brake, "ptc": ptc, "lamp": lamp, "resistor": resistor}
