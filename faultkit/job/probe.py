"""Free entry: any two points, a meter and a condition, as a test with an id of its own."""

import re

from faultkit.errors import UsageError
from faultkit.vocabulary.diagnosis import Meter, Test
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.meters import MEASURES, MINUTES
from faultkit.vocabulary.near_miss import did_you_mean, listed
from faultkit.vocabulary.origin import GENERATED

PREFIX = "probe:"
METERS: tuple[Meter, ...] = ("V AC", "V DC", "V AC low", "V DC low", "ohm", "Mohm")
"""Meters that read between two points and that the circuit predicts."""
RESISTANCE: tuple[Meter, ...] = ("ohm", "Mohm")
LONG_LEAD = ("Long test lead between two places: take its own resistance off, and let nobody "
             "stumble over it.")
ELECTRONICS = "Take electronics off the circuit before it is tested at 500 V."
NO_WIRING = "This machine is written without wiring there: nothing can be predicted."


def is_probe(test_id: str) -> bool:
    """Whether an id is that of a free entry."""
    return test_id.startswith(PREFIX)


def probe_id(red: str, black: str, meter: str, condition: str) -> str:
    """Id of a free entry: `probe:-X1:22|-X1:N|V AC|up-slow`."""
    return f"{PREFIX}{red}|{black}|{meter}|{condition}"


def parse_probe(test_id: str, machine: Machine) -> Test:
    """Return the test that the id of a free entry stands for.

    Raises
    ------
    UsageError
        The id has another form, names what the machine does not have, or asks for what
        cannot or must not be measured.
    """
    parts = test_id.removeprefix(PREFIX).split("|")
    if not is_probe(test_id) or len(parts) != 4:
        raise UsageError(f"{test_id!r} is no free entry.",
                         "Write probe:RED|BLACK|METER|CONDITION.")
    red, black, meter, condition = parts
    for pin in (red, black):
        _check_pin(machine, pin)
    if red == black:
        raise UsageError("A measurement is made between two different points.",
                         "Choose another point for the black lead.")
    if meter not in METERS:
        raise UsageError(f"Free entry does not read {meter!r}.",
                         did_you_mean(meter, METERS) or f"It reads {listed(METERS)}.")
    if condition not in machine.conditions:
        raise UsageError(f"This machine has no condition {condition!r}.",
                         did_you_mean(condition, machine.conditions))
    return _test(test_id, machine, (red, black), next(m for m in METERS if m == meter), condition)


def _test(test_id: str, machine: Machine, between: tuple[str, str], meter: Meter,
          condition: str) -> Test:
    """Free entry of known parts."""
    if meter in RESISTANCE and not machine.conditions[condition].dead:
        raise UsageError(f"{meter} is never measured on a live machine.",
                         "Choose a dead condition, or measure volts.")
    places = [machine.devices[pin.partition(":")[0]].place for pin in between]
    apart = places[0] != places[1]
    if apart and meter not in RESISTANCE:
        raise UsageError(f"{between[0]} and {between[1]} are in two places: no lead is so long.",
                         "Choose two points in one place.")
    return Test(
        id=test_id, does=MEASURES[meter].format(a=between[0], b=between[1]), meter=meter,
        condition=condition, place=places[0], minutes=MINUTES[meter] * (2 if apart else 1),
        between=between, through=None, until=None, sees=None, words=(), healthy=None, needs=(),
        device=between[0].partition(":")[0],
        cautions=(*((LONG_LEAD,) if apart else ()), *((ELECTRONICS,) if meter == "Mohm" else ())),
        generated=True, origin=GENERATED)


def _check_pin(machine: Machine, pin: str) -> None:
    device, _, name = pin.partition(":")
    if device not in machine.devices:
        raise UsageError(f"This machine has no device {device!r}.",
                         did_you_mean(device, machine.devices))
    if name not in machine.devices[device].pins:
        raise UsageError(f"{device} has no point {name!r}.",
                         did_you_mean(name, machine.devices[device].pins))
    if machine.devices[device].kind == "other" or not machine.wires:
        raise UsageError(NO_WIRING, "Use the tests that the machine has.")


def find_points(machine: Machine, text: str) -> tuple[str, ...]:
    """Points found by terminal, wire number or device, best first, each once.

    First the point written just so, then the points of the wire of that number, then terminals
    marked so, then the points of that device; then whatever begins with it, and last devices
    whose words hold it. Points that nothing is predicted for are left out.
    """
    if not machine.wires or not text.strip():
        return ()
    wanted = _plain(text)
    points = [(f"{d.id}:{pin}", pin, d) for d in machine.devices.values() if d.kind != "other"
              for pin in d.pins]
    known = {full for full, _, _ in points}
    found = [full for full, _, _ in points if _plain(full) == wanted]
    found += [pin for wire in machine.wires.values() if _plain(wire.id) == wanted
              for pin in wire.pins if pin in known]
    found += [full for full, pin, _ in points if _plain(pin) == wanted]
    found += [full for full, _, d in points if _plain(d.id) == wanted]
    found += [full for full, _, _ in points if _plain(full).startswith(wanted)]
    found += [full for full, _, d in points if text.strip().casefold() in d.says.casefold()]
    return tuple(dict.fromkeys(found))


def _plain(text: str) -> str:
    """A point as it is typed in a hurry: no sign in front, no capitals, any separator."""
    return re.sub(r"[\s:./]+", ":", text.strip()).casefold().lstrip("-=+")
