"""Relays that watch: phases, motor temperature, load, brake; and the load pin."""

from cmath import exp, pi
from collections.abc import Sequence
from dataclasses import dataclass

from faultkit.circuit.elements import (
    OPEN,
    Branch,
    Effect,
    Source,
    amperes,
    contact,
    load,
    ohms,
    volts,
)
from faultkit.circuit.movers import (
    NEVER,
    Mover,
    Part,
    Wish,
    World,
    contact_branches,
    contact_effects,
    number,
    pair_of,
    pins_of,
)
from faultkit.vocabulary.machine import Device, Machine

TURN = exp(2j * pi / 3)
PHASE_INPUT_OHM = 150e3
"""Load of a phase relay's input to its inner star point (common practice, no source)."""
SUPPLY_SHARE = 0.7
"""Electronic relays work from this share of rated voltage (common practice, no source)."""


def sequence_parts(a: complex, b: complex, c: complex) -> tuple[float, float]:
    """Return the sizes of the positive and negative sequence of three phasors (Fortescue)."""
    return abs(a + TURN * b + TURN**2 * c) / 3, abs(a + TURN**2 * b + TURN * c) / 3


@dataclass(slots=True)
class PhaseWatch(Mover):
    """In while three phases are there, in the right order and balanced."""

    low: float = 0.0
    unbalance: float = 0.0
    delay: float = 0.0

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Let go on low voltage, wrong order or unbalance."""
        right, wrong = sequence_parts(*(x[column] for column in self.at))
        good = right >= self.low and wrong <= self.unbalance * right
        if good:
            return ("in", 0.1) if state == "out" else NEVER
        return ("out", self.delay) if state == "in" else NEVER


def phase_relay(device: Device, machine: Machine) -> Part:
    """Build a phase relay, fed by what it watches."""
    phases = pins_of(device, "phases")
    star = f"{device.id}/star"
    branches = [*contact_branches(device),
                *(load(f"{device.id}/{p}", p, star, PHASE_INPUT_OHM) for p in phases)]
    low = number(device, "voltage") / 3**0.5 * number(device, "low")
    return Part(tuple(branches), PhaseWatch(
        device.id, "out",
        {"out": contact_effects(device, moved=False), "in": contact_effects(device, moved=True)},
        pins=phases, low=low, unbalance=number(device, "unbalance"),
        delay=number(device, "delay")))


@dataclass(slots=True)
class Watch(Mover):
    """Common part of the electronic relays: works only while it is fed."""

    works: float = 0.0
    supply_ohms: float = 0.0

    def fed(self, x: Sequence[complex]) -> bool:
        """Tell whether its supply is high enough."""
        return self.felt(x, 0, self.supply_ohms) >= self.works

    def word(self, state: str) -> str:
        """Show `in` while the output is in, `out` otherwise."""
        return "in" if state == "in" else "out"


def watch_supply(device: Device) -> Branch:
    """Return the load on the relay's supply."""
    size = number(device, "resistance")
    return load(f"{device.id}/supply", *pair_of(device, "supply"), size, size)


@dataclass(slots=True)
class HeatWatch(Watch):
    """In while the thermistor loop has a resistance that means cold."""

    trip: float = 0.0
    reset: float = 0.0
    short: float = 0.0

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Measure the loop with 2.5 V and compare it with the limits."""
        if not self.fed(x):
            return ("out", 0.02) if state != "out" else NEVER
        if state == "out":
            return ("trip", 0.05)  # fed: the sensor circuit is alive now, judge it next
        amps = abs(x[self.through[1]])
        loop = abs(x[self.at[2]] - x[self.at[3]]) / max(amps, 1e-9)
        if state == "in":
            good = self.short <= loop <= self.trip
            return NEVER if good else ("trip", 0.05)
        return ("in", 0.05) if self.short <= loop <= self.reset else NEVER


def thermistor_relay(device: Device, machine: Machine) -> Part:
    """Build a thermistor relay that measures with 2.5 V (DIN 44081: at most 2.5 V a sensor)."""
    t1, t2 = pair_of(device, "sensor")
    sensor = f"{device.id}/sensor"
    feeding = Effect(sensor, volts(2.5, 1000.0), None)
    resting = Effect(sensor, OPEN, None)
    off, on = contact_effects(device, moved=False), contact_effects(device, moved=True)
    return Part((
        *contact_branches(device), watch_supply(device),
        Branch(sensor, t1, t2, OPEN, OPEN, ohms(1e6)),
    ), HeatWatch(
        device.id, "out",
        {"out": (*off, resting), "trip": (*off, feeding), "in": (*on, feeding)},
        pins=(*pins_of(device, "supply"), t1, t2),
        branches=(f"{device.id}/supply", sensor), supply_ohms=number(device, "resistance"),
        works=number(device, "voltage") * SUPPLY_SHARE, trip=number(device, "trip"),
        reset=number(device, "reset"), short=number(device, "short")),
        sources=(Source(t1, "dc"),))


@dataclass(slots=True)
class LoadWatch(Watch):
    """In while the load is allowed and the loop is sound."""

    span: float = 0.0
    trip: float = 0.0
    reset: float = 0.0
    delay: float = 0.0
    low: float = 0.0
    high: float = 0.0

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Judge the loop current; trip after the delay, come back when the load is set down."""
        if not self.fed(x):
            return ("out", 0.02) if state != "out" else NEVER
        amps = x[self.through[1]].real
        percent = (amps - 0.004) / 0.016 * self.span
        sound = self.low < amps < self.high
        if state == "in":
            if not sound:
                return ("trip", 0.1)
            return ("trip", self.delay) if percent > self.trip else NEVER
        if not sound:
            return NEVER
        # after power-up it may come in below the trip point, after a trip only below reset
        limit = self.trip if state == "out" else min(self.reset, self.trip)
        return ("in", 0.2) if percent < limit else NEVER


def limiter(device: Device, machine: Machine) -> Part:
    """Build an overload limiter with its current input."""
    burden = number(device, "burden")
    signal = f"{device.id}/signal"
    off, on = contact_effects(device, moved=False), contact_effects(device, moved=True)
    return Part((
        *contact_branches(device), watch_supply(device),
        load(signal, *pair_of(device, "signal"), burden, burden),
    ), LoadWatch(
        device.id, "out", {"out": off, "trip": off, "in": on}, pins=pins_of(device, "supply"),
        branches=(f"{device.id}/supply", signal),
        supply_ohms=number(device, "resistance"), works=number(device, "voltage") * SUPPLY_SHARE,
        span=number(device, "span"), trip=number(device, "trip"), reset=number(device, "reset"),
        delay=number(device, "delay"), low=number(device, "low fault"),
        high=number(device, "high fault")))


@dataclass(slots=True)
class LoopSignal(Mover):
    """Two-wire transmitter: draws the current that means the load, if the voltage suffices.

    The headroom is what it needs at its largest current, and less in proportion below.

    A changing setting gives it another current: the simulation asks `effect_for`.
    """

    setting: str = ""
    values: tuple[tuple[str, float], ...] = ()
    span: float = 125.0
    zero: float = 0.004
    headroom: float = 8.0
    branch: str = ""

    def amps(self, world: World) -> float:
        """Return the current in A for the present load, within 0 and 22 mA."""
        percent = dict(self.values).get(world.get(self.setting, ""), 0.0)
        return min(max(self.zero + 0.016 * percent / self.span, 0.0), 0.022)

    def effect_for(self, state: str, world: World) -> Effect:
        """Return its row: a current source, or a resistance when starved of voltage."""
        row = amperes(self.amps(world)) if state == "regulates" else ohms(self.starved())
        return Effect(self.branch, row, None)

    def starved(self) -> float:
        """Return its resistance in ohms when the voltage is too low to regulate."""
        return self.headroom / 0.022

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Draw the smaller of the signal and of what the voltage drives through `starved` ohms.

        Both rules meet at one voltage, so in any loop just one of them holds, and it settles.
        """
        v = (x[self.at[0]] - x[self.at[1]]).real
        needed = self.amps(world) * self.starved()
        if state == "regulates":
            return ("starved", 0.0) if v < 0.99 * needed else NEVER
        return ("regulates", 0.01) if v > needed else NEVER


def load_pin(device: Device, machine: Machine) -> Part:
    """Build a load pin with two-wire signal, and the leak that moisture would make.

    Raises
    ------
    ValueError
        If its span or headroom is not positive.
    """
    plus, minus = pair_of(device, "signal")
    setting = machine.settings.get(str(device.attributes["measures"]))
    values = tuple(zip(setting.positions, setting.values, strict=True)) if setting else ()
    signal = f"{device.id}/signal"
    mover = LoopSignal(
        device.id, "starved", {"regulates": (), "starved": ()}, pins=(plus, minus),
        setting=setting.id if setting else "", values=values, span=number(device, "span"),
        zero=number(device, "zero"), headroom=number(device, "headroom"), branch=signal)
    if mover.span <= 0 or mover.headroom <= 0:
        raise ValueError("its span and headroom must be more than 0")
    resting = ohms(mover.starved())
    return Part((Branch(signal, plus, minus, OPEN, resting, ohms(20e3)),
                 contact(f"{device.id}/leak", plus, minus)), mover)


@dataclass(slots=True)
class BrakeWatch(Watch):
    """In while command and feedback agree; once it has let go it stays so until unfed."""

    level: float = 0.0
    time: float = 0.0
    input_ohms: float = 0.0

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Compare the two inputs; trip when they differ for longer than the time."""
        if not self.fed(x):
            return ("out", 0.02) if state != "out" else NEVER
        if state == "out":
            return ("in", 0.2)
        command = self.felt(x, 1, self.input_ohms) >= self.level
        feedback = self.felt(x, 2, self.input_ohms) >= self.level
        if state == "in" and command != feedback:
            return ("trip", self.time)
        return NEVER


def brake_monitor(device: Device, machine: Machine) -> Part:
    """Build a brake monitor with its command and feedback inputs."""
    command, feedback = pair_of(device, "command"), pair_of(device, "feedback")
    size = number(device, "input resistance")
    off, on = contact_effects(device, moved=False), contact_effects(device, moved=True)
    return Part((
        *contact_branches(device), watch_supply(device),
        load(f"{device.id}/command", *command, size, size),
        load(f"{device.id}/feedback", *feedback, size, size),
    ), BrakeWatch(
        device.id, "out", {"out": off, "trip": off, "in": on},
        pins=(*pins_of(device, "supply"), *command, *feedback),
        branches=tuple(f"{device.id}/{name}" for name in ("supply", "command", "feedback")),
        supply_ohms=number(device, "resistance"), input_ohms=size,
        works=number(device, "voltage") * SUPPLY_SHARE, level=number(device, "voltage") * 0.5,
        time=number(device, "time")))


BUILDERS = {
    "phase relay": phase_relay, "thermistor relay": thermistor_relay, "limiter": limiter,
    "load pin": load_pin, "brake monitor": brake_monitor,
}
