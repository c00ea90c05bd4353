"""The run of the circuit that a test looks at: points to probe, and what lies between them."""

from dataclasses import dataclass, replace

from faultkit.circuit.path import Hop, ends_of, path_between, ring_between
from faultkit.job.named import named_test
from faultkit.job.records import Entry
from faultkit.terminal.wording.words import reading_text
from faultkit.vocabulary.diagnosis import Test
from faultkit.vocabulary.machine import Machine

VOLTS = ("V AC", "V DC", "V AC low", "V DC low")


@dataclass(frozen=True, slots=True)
class Point:
    """Pins that wires join: electrically one point while no wire is broken."""

    wire: str
    """Wire number; empty where no wire ends here."""
    pins: tuple[str, ...]
    """Those that the run passes."""
    at: str
    """The pin that the probe touches; empty without a probe."""
    probe: str
    """`RED`, `BLACK` or empty."""
    readings: tuple[str, ...]
    """What was read here so far."""

    @property
    def name(self) -> str:
        """The wire number, or the pin where there is no wire."""
        return self.wire or self.pins[0]


@dataclass(frozen=True, slots=True)
class Part:
    """A contact, coil or winding on the way."""

    device: str
    mark: str
    """`13-14`, or the name of the inner element."""
    says: str


Run = tuple[Point | Part, ...]


def run_of(machine: Machine, test: Test, entries: tuple[Entry, ...]) -> Run:
    """Lay out the run that a test looks at; empty where nothing is probed.

    For a voltage it leads from the supply through the red point to the black one, otherwise
    straight from point to point.
    """
    ends = _fed_by(machine, test.sees) if test.sees else ends_of(machine, test)
    if ends is None:
        return ()
    red, black = ends
    probes = {red: "RED", black: "BLACK"} if test.between or test.through else {}
    hops: tuple[Hop, ...] = ()
    if test.meter in VOLTS or test.sees:
        hops = ring_between(machine, red, black)
    hops = hops or path_between(machine, red, black)
    if hops and all(hop.way == "wire" for hop in hops):
        return _along_wires(hops, probes)
    return _points(machine, hops, probes, tuple(_voltages(machine, test, black, entries)))


def nearest(run: Run) -> int:
    """Index of the stop that a small picture must keep in sight."""
    return next((i for i, stop in enumerate(run)
                 if isinstance(stop, Point) and stop.probe == "RED"), 0)


def _fed_by(machine: Machine, name: str) -> tuple[str, str] | None:
    """The two pins that make a device act: its coil, or the supply of its electronics."""
    device = machine.devices.get(name)
    for attribute in ("coil", "supply", "pins", "input") if device else ():
        pins = machine.devices[name].attributes.get(attribute)
        if isinstance(pins, str) and pins.count("-") == 1:
            first, last = pins.split("-")
            return f"{name}:{first}", f"{name}:{last}"
    return None


def _points(
    machine: Machine, hops: tuple[Hop, ...], probes: dict[str, str],
    voltages: tuple[tuple[str, str], ...],
) -> Run:
    """Merge wire hops into points, and put parts between them."""
    if not hops:
        return ()
    stops: list[Point | Part] = []
    pins = [hops[0].a]

    def close() -> None:
        names = tuple(dict.fromkeys(pins))
        at = next((pin for pin in names if pin in probes), "")
        wire = next((wire.id for wire in machine.wires.values() if names[0] in wire.pins), "")
        stops.append(Point(wire, names, at, probes.get(at, ""),
                           tuple(text for pin, text in voltages if pin in names)))

    for hop in hops:
        if hop.way == "wire":
            pins.append(hop.b)
            continue
        close()
        device, _, mark = hop.by.replace("/", ":").partition(":")
        stops.append(Part(device, mark, machine.devices[device].says))
        pins = [hop.b]
    close()
    return tuple(_once(stops))


def _along_wires(hops: tuple[Hop, ...], probes: dict[str, str]) -> Run:
    """A run that never leaves its wire: every pin is a point of its own."""
    def point(pin: str) -> Point:
        return Point("", (pin,), pin if pin in probes else "", probes.get(pin, ""), ())

    stops: list[Point | Part] = [point(hops[0].a)]
    for hop in hops:
        stops += [Part("wire", hop.by, ""), point(hop.b)]
    return tuple(stops)


def _once(stops: list[Point | Part]) -> list[Point | Part]:
    """A run that comes back to its beginning names the probe at the end only."""
    first, last = stops[0], stops[-1]
    if isinstance(first, Point) and isinstance(last, Point) and len(stops) > 1 and (
            first.at == last.at):
        return [replace(first, at="", probe=""), *stops[1:]]
    return stops


def _voltages(
    machine: Machine, test: Test, black: str, entries: tuple[Entry, ...],
) -> list[tuple[str, str]]:
    """Pins and what was read there against the same return, the most telling first.

    First those in the condition of this test, then others with their condition, newest first.
    """
    here, elsewhere = [], []
    for entry in reversed(entries):
        done = named_test(machine, entry.test)
        if done.between is None or done.meter not in VOLTS or not _joined(
                machine, done.between[1], black):
            continue
        text = reading_text(done, entry.reading)
        if done.condition == test.condition:
            here.append((done.between[0], text))
        else:
            elsewhere.append((done.between[0], f"{text} in {done.condition}"))
    return list(dict.fromkeys([*here, *elsewhere]))


def _joined(machine: Machine, a: str, b: str) -> bool:
    """Two pins on one wire, or the same pin."""
    return a == b or any(a in wire.pins and b in wire.pins for wire in machine.wires.values())
