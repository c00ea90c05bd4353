"""Mains, transformer, rectifier and DC supply."""

from cmath import exp, pi
from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from faultkit.circuit.elements import (
    EARTH,
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
from faultkit.circuit.movers import NEVER, Mover, Part, Wish, World, number, pair_of, pin
from faultkit.vocabulary.machine import Device, Machine

HALF_WAVE = sqrt(2) / pi.real
"""Mean of a half-wave rectified sine over its effective value: 0.450 (mathematics)."""
FULL_WAVE = 2 * sqrt(2) / pi.real
"""Mean of a full-wave rectified sine over its effective value: 0.900 (mathematics)."""
SUPPLY_OHM = 0.05
"""Output resistance of a DC supply (common practice, no source)."""


def mains(device: Device, machine: Machine) -> Part:
    """Build the incoming supply: sources from earth, neutral joined to earth.

    Its pin PE is earth itself (see `collect_branches`), so that an earthed direct-current
    circuit does not become one island with the alternating supply.
    """
    three = number(device, "phases") > 1
    size = number(device, "voltage") * number(device, "level") / (sqrt(3) if three else 1)
    turn = -2 * pi / 3 * (1 if number(device, "sequence") > 0 else -1)
    names = ("L1", "L2", "L3") if three else ("L1",)
    z = number(device, "impedance")
    branches = [Branch(f"{device.id}/{name}", pin(device, name), EARTH,
                       volts(size * exp(1j * turn * k), z), OPEN, OPEN)
                for k, name in enumerate(names)]
    branches.append(contact(f"{device.id}/N", pin(device, "N"), EARTH, closed=True))
    return Part(tuple(branches),
                sources=tuple(Source(pin(device, name), "ac") for name in names))


def transformer(device: Device, machine: Machine) -> Part:
    """Build a control transformer with both windings, its magnetising current and its core.

    v1 - R1 i1 = n (v2 - R2 i2) and n i1 + i2 = 0, currents flowing into the windings. The
    rated secondary voltage is meant at rated load, so the ratio allows for the drop.
    """
    a, b = pair_of(device, "primary")
    c, d = pair_of(device, "secondary")
    r1, r2 = number(device, "primary resistance"), number(device, "secondary resistance")
    v1, v2 = number(device, "primary voltage"), number(device, "secondary voltage")
    turns = v1 / v2
    drop = (r2 + r1 / turns**2) * number(device, "power") / v2**2
    n = turns / ((1 + drop) * number(device, "ratio"))
    first, second = f"{device.id}/primary", f"{device.id}/secondary"
    return Part((
        Branch(first, a, b, (1, r1, 0, n), ohms(r1), ohms(r1),
               nodes=((c, -1), (d, 1)), currents=((second, r2),)),
        Branch(second, c, d, (0, -1, 0, n), ohms(r2), ohms(r2), currents=((first, 1),),
               opens=first),
        load(f"{device.id}/magnetising", a, b, 1j * v1 * v1 / (0.1 * number(device, "power"))),
        contact(f"{device.id}/core", a, b),
    ), sources=(Source(c, "ac"),))


def rectifier(device: Device, machine: Machine) -> Part:
    """Build a rectifier as the power-conserving link v_dc = k v_ac - R i, i_ac = k i_dc.

    k is the mean value 0.450 or 0.900. Its direct voltages keep the phase of its input among
    the phasors, so that one linear system holds both sides; the meter takes them back to it.
    """
    a, b = pair_of(device, "input")
    plus, minus = pair_of(device, "output")
    full = device.attributes["form"] == "full"
    factor = device.attributes["factor"]
    one_diode = 0.5 if full else 0.0
    share = one_diode if factor == "open diode" else number(device, "factor")
    k = (FULL_WAVE if full else HALF_WAVE) * share
    inp, out = f"{device.id}/ac", f"{device.id}/dc"
    return Part((
        Branch(out, plus, minus, (1, 0.5, 0, k), (1, 0.5, 0, k), OPEN,
               nodes=((a, -1), (b, 1))),
        Branch(inp, a, b, (0, 1, 0, k), (0, 1, 0, k), OPEN, currents=((out, -1),)),
        contact(f"{device.id}/input", a, b),
    ), sources=(Source(plus, "dc", (a, b)),))


@dataclass(slots=True)
class Regulated(Mover):
    """A DC supply: off, on (constant voltage) or limiting (constant current)."""

    minimum: float = 0.0
    limit: float = 0.0
    voltage: float = 0.0
    input_ohms: float = 0.0

    def wish(self, state: str, x: Sequence[complex], world: World) -> Wish:
        """Start from the minimum input voltage; limit the current; come back from it."""
        if self.felt(x, 0, self.input_ohms) < self.minimum:
            return ("off", 0.05) if state != "off" else NEVER
        if state == "off":
            return ("on", 0.1)
        if state == "on":
            return ("limits", 0.0) if -x[self.through[1]].real > self.limit else NEVER
        v = (x[self.at[2]] - x[self.at[3]]).real
        # at once: until then its current would drive the voltage above what it ever gives
        return ("on", 0.0) if v >= self.voltage else NEVER


def dc_supply(device: Device, machine: Machine) -> Part:
    """Build a regulated DC supply. Its input is a load; input and output are apart."""
    a, b = pair_of(device, "input")
    plus, minus = pair_of(device, "output")
    size = number(device, "rated input") ** 2 / number(device, "power")
    out, inp = f"{device.id}/output", f"{device.id}/input"
    e, limit = number(device, "voltage"), number(device, "limit")
    effects: dict[str, tuple[Effect, ...]] = {
        "off": (Effect(out, OPEN, OPEN),),
        "on": (Effect(out, volts(e, SUPPLY_OHM), OPEN),),
        "limits": (Effect(out, amperes(-limit), OPEN),),
    }
    return Part((
        Branch(out, plus, minus, OPEN, OPEN, OPEN),
        load(inp, a, b, size),
    ), Regulated(device.id, "off", effects, pins=(a, b, plus, minus), branches=(inp, out),
                 input_ohms=size, minimum=number(device, "minimum"), limit=limit, voltage=e),
        sources=(Source(plus, "dc"),))


def no_part(device: Device, machine: Machine) -> Part:
    """Build nothing: terminals, cables (their cores are hops) and devices without wiring."""
    return Part(())


BUILDERS = {
    "mains": mains, "transformer": transformer, "rectifier": rectifier, "dc supply": dc_supply,
    "terminals": no_part, "cable": no_part, "other": no_part,
}
