"""The machine as an ohmmeter sees it: sources dead, windings by their DC resistance.

An ohmmeter drives a current through the two points it touches and divides. So does this: one
ampere from pin to pin, direct current, and the voltage it makes is the reading in ohms.
"""

from collections.abc import Iterator

from faultkit.circuit.elements import CONTACT_OHM
from faultkit.vocabulary.machine import Device
from tests.outside.network import REFERENCE, Element, Impedance, Injection, Network
from tests.outside.wiring import (
    MODELS,
    Model,
    Standing,
    assemble,
    faulty,
    loads,
    onto,
    pins,
    through,
)


def seen_by_ohmmeter(standing: Standing, red: str, black: str) -> Network:
    """The dead network with one ampere driven from `red` through it to `black`."""
    network = assemble(standing, DEAD, 0.0)
    network.add(onto(standing.merged, Injection(black, red, 1 + 0j)))
    return network


def dead_mains(_: Standing, device: Device) -> Iterator[Element]:
    """Switched off and locked: only the neutral is still joined to earth."""
    yield Impedance(f"{device.id}:N", REFERENCE, complex(CONTACT_OHM))


def dead_transformer(standing: Standing, device: Device) -> Iterator[Element]:
    """Two separate pieces of copper."""
    for winding in ("primary", "secondary"):
        a, b = pins(device, winding)
        ohms = standing.attribute(device, f"{winding} resistance")
        yield from through(a, b, faulty(ohms, standing.fault_at(f"{device.id}/{winding}")))
    a, b = pins(device, "primary")
    yield from through(a, b, standing.fault_at(f"{device.id}/core") or "open")


def dead_rectifier(standing: Standing, device: Device) -> Iterator[Element]:
    """Diodes block; only a shorted one shows."""
    a, b = pins(device, "input")
    yield from through(a, b, standing.fault_at(f"{device.id}/input") or "open")


def dead_coil(standing: Standing, device: Device) -> Iterator[Element]:
    """The copper of the coil, behind a relay's socket and beside its diode."""
    a, b = pins(device, "coil")
    if device.kind == "relay":
        inner = f"{device.id}/inside"
        yield from through(a, inner, standing.fault_at(f"{device.id}/socket") or CONTACT_OHM)
        yield from through(inner, b, standing.fault_at(f"{device.id}/diode") or "open")
        a = inner
    ohms = standing.attribute(device, "coil resistance")
    yield from through(a, b, faulty(ohms, standing.fault_at(f"{device.id}/coil")))


def dead_motor(standing: Standing, device: Device) -> Iterator[Element]:
    """The copper of each winding, in star."""
    for winding in ("slow", "fast", "winding"):
        if not device.attributes[winding]:
            continue
        ohms = standing.attribute(device, "slow resistance" if winding == "slow" else "resistance")
        for letter, phase in zip("UVW", pins(device, winding), strict=True):
            fault = standing.fault_at(f"{device.id}/{winding}-{letter}")
            yield from through(phase, f"{device.id}/{winding} star", faulty(ohms, fault))


def fixed(attribute: str, ohms: float) -> Model:
    """A model that is a constant resistance between two pins."""

    def build(_: Standing, device: Device) -> Iterator[Element]:
        a, b = pins(device, attribute)
        yield Impedance(a, b, complex(ohms))

    return build


def both(*models: Model) -> Model:
    """Several models of one device."""

    def build(standing: Standing, device: Device) -> Iterator[Element]:
        for model in models:
            yield from model(standing, device)

    return build


DEAD: dict[str, Model] = {
    **{kind: MODELS[kind] for kind in ("lamp", "ptc", "timer", "limiter", "brake monitor", "brake",
                                       "resistor")},
    "mains": dead_mains, "transformer": dead_transformer, "rectifier": dead_rectifier,
    "contactor": dead_coil, "relay": dead_coil, "motor": dead_motor,
    "thermistor relay": both(loads(("supply", "resistance", "supply")), fixed("sensor", 1e6)),
    "load pin": fixed("signal", 20e3),
}
"""A DC supply, a phase relay and a magnetising reactance conduct no direct current."""
