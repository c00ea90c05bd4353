"""A machine whose devices stand in known states, written down as a network.

Independent of faultkit's circuit room: from the records of the machine (what its YAML says)
and the state each device is in, by the textbook model of each kind of device. Only the few
resistances that are faultkit's own choice (a good contact, a good terminal, insulation) are
taken from there.

Direct voltages behind a rectifier are written as phasors in the phase of its input, k times as
large (k = 0.450 or 0.900); a 24 V supply has phase zero. The two never meet but at earth.
"""

import cmath
import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from faultkit.circuit.elements import CONTACT_OHM, SHORT_OHM, TERMINAL_OHM
from faultkit.circuit.network import LEAK
from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.machine import Device, Machine
from tests.outside.network import (
    REFERENCE,
    Element,
    Impedance,
    Injection,
    Network,
    Source,
    Transformer,
)

CLASS_5 = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95}
"""mm2 -> ohm per km at 20 C; IEC 60228 table 3, plain copper."""


@dataclass
class Standing:
    """A machine and the state in which every device stands."""

    machine: Machine
    states: Mapping[str, str]
    """Device -> inner state: `in`, `out`, a position, a button's step, `on`, `limits` ..."""
    contacts: Mapping[str, bool]
    """`-Q2:13-14` -> closed."""
    settings: Mapping[str, str]
    changes: tuple[Change, ...] = ()
    merged: dict[str, str] = field(default_factory=dict)

    def attribute(self, device: Device, name: str) -> float:
        """A number of the device, with what a fault makes of it."""
        value = float(device.attributes[name])
        for change in self.changes:
            if change.what == "attribute" and change.target == f"{device.id}/{name}":
                factor = change.value.startswith("x")
                added = change.value.startswith("+")
                value = (value * float(change.value[1:]) if factor
                         else value + float(change.value[1:]) if added else float(change.value))
        return value

    def fault_at(self, *names: str) -> str | None:
        """What a fault makes of this contact, hop or element; None where it is sound."""
        return next((c.value for c in self.changes
                     if c.what in {"contact", "hop", "element"} and c.target in names), None)


def network_of(standing: Standing, meter: tuple[str, str, complex] | None = None) -> Network:
    """The network at supply frequency, insulation and the meter across two pins included."""
    network = assemble(standing, MODELS, supply_frequency(standing.machine))
    if meter is not None:
        network.add(onto(standing.merged, Impedance(*meter)))
    return network


def assemble(standing: Standing, models: "Mapping[str, Model]", frequency: float) -> Network:
    """Wires, contacts, devices, bridges and insulation."""
    join_wires(standing)
    found: list[Element] = [*hops(standing), *all_contacts(standing)]
    for device in standing.machine.devices.values():
        if device.kind in models:
            found.extend(models[device.kind](standing, device))
    for change in standing.changes:
        if change.what == "bridge":
            a, b = change.target.split("/")
            found.append(Impedance(a, b, complex(float(change.value.removesuffix(" ohm")))))
    network = Network(frequency, [onto(standing.merged, e) for e in found])
    # insulation is where there is copper: not at the inner ends of ideal sources and ratios
    copper = {n for n in network.nodes() if ":" in n or n.endswith(("star", "inside"))}
    copper |= {standing.merged.get(pin, pin) for _, *ends in each_hop(standing.machine)
               for pin in ends}
    network.add(*(Impedance(node, REFERENCE, 1 / LEAK + 0j)
                  for node in sorted(copper - {REFERENCE})))
    return network


def supply_frequency(machine: Machine) -> float:
    """Frequency of the mains in Hz."""
    return next(float(d.attributes["frequency"]) for d in machine.devices.values()
                if d.kind == "mains")


def onto(merged: Mapping[str, str], element: Element) -> Element:
    """The element between the nodes that its pins are merged into."""
    a, b = merged.get(element.a, element.a), merged.get(element.b, element.b)
    match element:
        case Impedance():
            return Impedance(a, b, element.ohms)
        case Source():
            return Source(a, b, element.volts)
        case Injection():
            return Injection(a, b, element.amps)
        case Transformer():
            c, d = merged.get(element.c, element.c), merged.get(element.d, element.d)
            return Transformer(a, b, c, d, element.ratio)


def cores(machine: Machine) -> dict[tuple[str, str], float]:
    """Both ends of each cable core -> its resistance in ohm."""
    found: dict[tuple[str, str], float] = {}
    for cable in (d for d in machine.devices.values() if d.kind == "cable"):
        ends = {str(cable.attributes["from"]), str(cable.attributes["to"])}
        ohms = CLASS_5[float(cable.attributes["section"])]
        ohms *= float(cable.attributes["length"]) / 1000
        for core in str(cable.attributes["cores"]).replace(",", " ").split():
            pins = machine.wires[core].pins
            found |= {(a, b): ohms for a, b in itertools.pairwise(pins)
                      if {a.partition(":")[0], b.partition(":")[0]} == ends}
    return found


def breakable(machine: Machine) -> set[str]:
    """Hops that some cause of the machine breaks: each is a terminal resistance while sound."""
    return {change.target for cause in machine.causes.values() for variant in cause.variants
            for change in variant if change.what == "hop"}


def each_hop(machine: Machine) -> Iterator[tuple[str, str, str]]:
    """Name and both pins of every hop."""
    for wire in machine.wires.values():
        for a, b in itertools.pairwise(wire.pins):
            yield f"{wire.id}:{a}/{b}", a, b


def join_wires(standing: Standing) -> None:
    """Merge the pins that sound, unbreakable wires join; earth is the reference."""
    wired, own = cores(standing.machine), breakable(standing.machine)
    own |= {c.target for c in standing.changes if c.what == "hop"}
    earthed = (f"{d.id}:PE" for d in standing.machine.devices.values() if d.kind == "mains")
    into: dict[str, str] = dict.fromkeys(("PE", *earthed), REFERENCE)

    def root(pin: str) -> str:
        while pin in into:
            pin = into[pin]
        return pin

    for name, a, b in each_hop(standing.machine):
        if name in own or (a, b) in wired:
            continue
        one, two = root(a), root(b)
        if one != two:
            kept, gone = (one, two) if one == REFERENCE else (two, one)
            into[gone] = kept
    standing.merged = {pin: root(pin) for pin in list(into)}


def hops(standing: Standing) -> Iterator[Element]:
    """Cable cores, and hops that can break."""
    wired, own = cores(standing.machine), breakable(standing.machine)
    own |= {c.target for c in standing.changes if c.what == "hop"}
    for name, a, b in each_hop(standing.machine):
        if name in own or (a, b) in wired:
            fault = standing.fault_at(name)
            ohms = wired.get((a, b), TERMINAL_OHM) if fault is None else fault
            yield from through(a, b, ohms)


def through(a: str, b: str, ohms: complex | str) -> Iterator[Element]:
    """A path of these ohms; nothing where it is open."""
    if ohms == "open":
        return
    if ohms == "short":
        ohms = SHORT_OHM
    elif ohms == "closed":
        ohms = CONTACT_OHM
    elif isinstance(ohms, str):
        ohms = float(ohms.removesuffix(" ohm"))
    yield Impedance(a, b, complex(ohms))


def faulty(ohms: complex, fault: str | None) -> complex | str:
    """What a fault leaves of an impedance."""
    if fault is None:
        return ohms
    return ohms * float(fault[1:]) if fault.startswith("x") else fault


def all_contacts(standing: Standing) -> Iterator[Element]:
    """Every contact, fuse pole and plug pin that conducts."""
    for device in standing.machine.devices.values():
        for contact in device.contacts:
            name = f"{device.id}:{contact.id}"
            fault = standing.fault_at(name)
            sound = CONTACT_OHM if standing.contacts[name] else "open"
            if fault is not None and fault not in {"open", "closed"}:
                # a poor contact is poor only while it is closed
                fault = fault if standing.contacts[name] else "open"
            yield from through(f"{device.id}:{contact.a}", f"{device.id}:{contact.b}",
                               sound if fault is None else fault)


def pins(device: Device, attribute: str) -> list[str]:
    """Full pins of a `pins` attribute."""
    return [f"{device.id}:{name}" for name in str(device.attributes[attribute]).split("-")]


def mains(standing: Standing, device: Device) -> Iterator[Element]:
    """Phase voltages behind the source impedance, star point on earth."""
    three = standing.attribute(device, "phases") == 3
    size = standing.attribute(device, "voltage") * standing.attribute(device, "level")
    size /= math.sqrt(3) if three else 1
    turn = -math.copysign(2 * math.pi / 3, standing.attribute(device, "sequence"))
    for k, phase in enumerate(("L1", "L2", "L3") if three else ("L1",)):
        inner = f"{device.id}/{phase}"
        if standing.fault_at(inner) == "open":
            continue
        yield Source(inner, REFERENCE, cmath.rect(size, turn * k))
        yield Impedance(inner, f"{device.id}:{phase}",
                        complex(standing.attribute(device, "impedance")))
    yield Impedance(f"{device.id}:N", REFERENCE, complex(CONTACT_OHM))


def transformer(standing: Standing, device: Device) -> Iterator[Element]:
    """Ideal ratio between winding resistances; a magnetising current of a tenth of rated."""
    (a, b), (c, d) = pins(device, "primary"), pins(device, "secondary")
    r1 = standing.attribute(device, "primary resistance")
    r2 = standing.attribute(device, "secondary resistance")
    u1 = standing.attribute(device, "primary voltage")
    u2 = standing.attribute(device, "secondary voltage")
    power = standing.attribute(device, "power")
    # rated voltage is meant at rated load: the open-circuit voltage is higher by the drop
    drop = power / u2**2 * (r2 + r1 * (u2 / u1) ** 2)
    ratio = u2 / u1 * (1 + drop) * standing.attribute(device, "ratio")
    one, two = f"{device.id}/primary", f"{device.id}/secondary"
    if "open" not in (standing.fault_at(one), standing.fault_at(two)):
        yield Impedance(a, one, complex(r1))
        yield Transformer(one, b, two, d, ratio)
        yield Impedance(two, c, complex(r2))
    yield Impedance(a, b, 1j * u1**2 / (0.1 * power))
    yield from through(a, b, standing.fault_at(f"{device.id}/core") or "open")


def rectifier(standing: Standing, device: Device) -> Iterator[Element]:
    """Mean value k times the input; the power that leaves comes in; half an ohm of diodes."""
    (a, b), (plus, minus) = pins(device, "input"), pins(device, "output")
    k = {"half": 1.0, "full": 2.0}[str(device.attributes["form"])] * math.sqrt(2) / math.pi
    if any(c.target == f"{device.id}/factor" and c.value == "open diode"
           for c in standing.changes):
        # half of a bridge still conducts; a half-wave rectifier has only the one
        k *= {"half": 0.0, "full": 0.5}[str(device.attributes["form"])]
    else:
        k *= standing.attribute(device, "factor")
    inner = f"{device.id}/dc"
    yield Transformer(a, b, inner, minus, k)
    yield Impedance(inner, plus, 0.5 + 0j)
    yield from through(a, b, standing.fault_at(f"{device.id}/input") or "open")


def dc_supply(standing: Standing, device: Device) -> Iterator[Element]:
    """A load on its input; a voltage behind 0.05 ohm, or its limit current, on its output."""
    (a, b), (plus, minus) = pins(device, "input"), pins(device, "output")
    load = standing.attribute(device, "rated input") ** 2 / standing.attribute(device, "power")
    yield from through(a, b, faulty(load, standing.fault_at(f"{device.id}/input")))
    if standing.fault_at(f"{device.id}/output") == "open":
        return
    state = standing.states[device.id]
    if state == "on":
        inner = f"{device.id}/output"
        yield Source(inner, minus, complex(standing.attribute(device, "voltage")))
        yield Impedance(inner, plus, 0.05 + 0j)
    elif state == "limits":
        yield Injection(minus, plus, complex(standing.attribute(device, "limit")))


def coil(standing: Standing, device: Device) -> Iterator[Element]:
    """An AC coil takes its sealed or inrush power at 0.3 or 0.7; a DC coil has its ohms."""
    a, b = pins(device, "coil")
    name = f"{device.id}/coil"
    ohms = complex(standing.attribute(device, "coil resistance"))
    if device.attributes["current"] == "AC":
        sealed = standing.states[device.id] == "in"
        size = standing.attribute(device, "coil voltage") ** 2
        size /= standing.attribute(device, "sealed" if sealed else "inrush")
        ohms = cmath.rect(size, math.acos(0.3 if sealed else 0.7))
    if device.kind == "relay":
        inner = f"{device.id}/inside"
        yield from through(a, inner, standing.fault_at(f"{device.id}/socket") or CONTACT_OHM)
        yield from through(inner, b, standing.fault_at(f"{device.id}/diode") or "open")
        a = inner
    yield from through(a, b, faulty(ohms, standing.fault_at(name)))


def loads(*rows: tuple[str, str, str]) -> "Model":
    """A model that only loads pairs of pins: (attribute of the pins, of the ohms, element)."""

    def build(standing: Standing, device: Device) -> Iterator[Element]:
        for where, ohms, name in rows:
            if device.attributes[where]:
                size = standing.attribute(device, ohms)
                fault = standing.fault_at(f"{device.id}/{name}")
                a, b = pins(device, where)
                yield from through(a, b, faulty(size, fault))

    return build


def phase_relay(_: Standing, device: Device) -> Iterator[Element]:
    """Three equal inputs of 150 kohm in star."""
    for phase in pins(device, "phases"):
        yield Impedance(phase, f"{device.id}/star", 150e3 + 0j)


def thermistor_relay(standing: Standing, device: Device) -> Iterator[Element]:
    """A supply load, and 2.5 V behind 1 kohm on the thermistor loop while it works."""
    yield from loads(("supply", "resistance", "supply"))(standing, device)
    if standing.states[device.id] != "out":
        a, b = pins(device, "sensor")
        yield Source(f"{device.id}/sensor", b, 2.5 + 0j)
        yield Impedance(f"{device.id}/sensor", a, 1000 + 0j)


def load_pin(standing: Standing, device: Device) -> Iterator[Element]:
    """The current that means the load, live zero 4 mA; a resistance where it is starved."""
    plus, minus = pins(device, "signal")
    yield from through(plus, minus, standing.fault_at(f"{device.id}/leak") or "open")
    if standing.fault_at(f"{device.id}/signal") == "open":
        return
    if standing.states[device.id] == "starved":
        yield Impedance(plus, minus, standing.attribute(device, "headroom") / 0.022 + 0j)
        return
    setting = standing.machine.settings[str(device.attributes["measures"])]
    percent = setting.values[setting.positions.index(standing.settings[setting.id])]
    amps = standing.attribute(device, "zero")
    amps += 0.016 * percent / standing.attribute(device, "span")
    yield Injection(plus, minus, complex(amps))


def motor(standing: Standing, device: Device) -> Iterator[Element]:
    """Each winding a star of equal impedances with a power factor of 0.75."""
    for winding in ("slow", "fast", "winding"):
        if not device.attributes[winding]:
            continue
        size = standing.attribute(device, "slow impedance" if winding == "slow" else "impedance")
        for letter, phase in zip("UVW", pins(device, winding), strict=True):
            fault = standing.fault_at(f"{device.id}/{winding}-{letter}")
            ohms = faulty(cmath.rect(size, math.acos(0.75)), fault)
            yield from through(phase, f"{device.id}/{winding} star", ohms)


def lamp(standing: Standing, device: Device) -> Iterator[Element]:
    """A resistance that takes its rated power at its rated voltage."""
    a, b = pins(device, "pins")
    size = standing.attribute(device, "voltage") ** 2 / standing.attribute(device, "power")
    yield from through(a, b, faulty(size, standing.fault_at(f"{device.id}/lamp")))


def ptc(standing: Standing, device: Device) -> Iterator[Element]:
    """The sensors in series, cold."""
    a, b = pins(device, "pins")
    size = standing.attribute(device, "sensors") * standing.attribute(device, "cold")
    yield from through(a, b, faulty(size, standing.fault_at(f"{device.id}/chain")))


Model = Callable[[Standing, Device], Iterable[Element]]

MODELS: dict[str, Model] = {
    "mains": mains, "transformer": transformer, "rectifier": rectifier, "dc supply": dc_supply,
    "contactor": coil, "relay": coil, "phase relay": phase_relay,
    "thermistor relay": thermistor_relay, "load pin": load_pin, "motor": motor, "lamp": lamp,
    "ptc": ptc,
    "timer": loads(("supply", "resistance", "supply"), ("input", "input resistance", "input")),
    "limiter": loads(("supply", "resistance", "supply"), ("signal", "burden", "signal")),
    "brake monitor": loads(("supply", "resistance", "supply"),
                           ("command", "input resistance", "command"),
                           ("feedback", "input resistance", "feedback")),
    "brake": loads(("coil", "resistance", "coil")),
    "resistor": loads(("pins", "resistance", "body")),
}
