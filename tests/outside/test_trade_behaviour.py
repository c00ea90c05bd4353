"""What small panels and the bundled hoist do, against the figures of the trade.

Beside each figure stands its published source, `common practice, no source`, or `from memory`.
"""

import math
import re
from pathlib import Path

import pytest

from faultkit.circuit.circuit import Circuit
from faultkit.circuit.meter import word_of
from faultkit.loading import find_machine, load
from faultkit.vocabulary.diagnosis import Change, Test
from faultkit.vocabulary.machine import Machine

pytestmark = pytest.mark.outside

RIG = """
machine: Test rig
supply: 230 V AC
places: {{bench: {{says: Bench}}}}
settings:
  load: {{says: Load, positions: {{empty: 0, rated: 100}}, rests: empty}}
conditions:
  on: {{says: Supply on}}
  after an hour: {{says: Supply on for an hour, after: on, wait: 60 min}}
devices:
  -X0: {{kind: mains, says: Supply, place: bench, voltage: {volts} V, phases: 1,
         impedance: 0.01 ohm}}
{devices}
wires:
{wires}
tests:
{tests}
"""


def rig(folder: Path, devices: str, wires: str, tests: str, volts: float = 230) -> Machine:
    """A rig on single-phase mains, loaded as a user's file would be."""
    path = folder / "rig.yaml"
    path.write_text(RIG.format(volts=volts, devices=devices, wires=wires, tests=tests),
                    encoding="utf-8")
    loaded = load(path)
    assert loaded.machine is not None, [str(problem) for problem in loaded.problems]
    return loaded.machine


def volts_of(machine: Machine, test: str, *changes: Change) -> float:
    """What a test reads."""
    circuit = Circuit(machine, changes)
    return circuit.read(circuit.simulate(changes), [machine.tests[test]])[0].value


def shown(machine: Machine, device: str, condition: str, *changes: Change) -> str:
    """What a device shows in a condition."""
    circuit = Circuit(machine, changes)
    simulation = circuit.simulate(changes)
    return word_of(simulation, simulation.at(condition), device)


@pytest.mark.parametrize(("kind", "rating", "share", "word"), [
    # IEC 60898-1: conventional non-tripping current 1.13 In and tripping current 1.45 In, 1 h
    ("breaker", 6, 1.13, "on"), ("breaker", 6, 1.46, "tripped"),
    # IEC 60269-1, gG from 16 A: 1.25 and 1.6 In, 1 h to 63 A (from memory)
    ("fuse", 16, 1.25, "whole"), ("fuse", 16, 1.61, "blown"),
])
def test_a_protective_device_holds_and_opens_within_an_hour_at_its_conventional_currents(
    kind: str, rating: float, share: float, word: str, tmp_path: Path
) -> None:
    ohms = 230 / (share * rating) - 0.07  # source, contact and neutral of the rig
    machine = rig(
        tmp_path,
        f"  -F1: {{kind: {kind}, says: Protection, place: bench, rating: {rating} A, "
        "contacts: {1-2: main}}\n"
        f"  -R1: {{kind: resistor, says: Load, place: bench, resistance: {ohms} ohm}}",
        "  a: [-X0:L1, -F1:1]\n  b: [-F1:2, -R1:1]\n  N: [-X0:N, -R1:2]",
        "  look: {does: Look, meter: words, sees: -F1, in: after an hour}",
    )
    assert shown(machine, "-F1", "after an hour") == word


BRAKE = """\
  -T3: {{kind: rectifier, says: Rectifier, place: bench, form: {form}}}
  -Y1: {{kind: brake, says: Brake, place: bench, resistance: 4000 ohm}}"""
BRAKE_WIRES = """\
  a: [-X0:L1, -T3:1]
  N: [-X0:N, -T3:2]
  p: [-T3:3, -Y1:1]
  m: [-T3:4, -Y1:2]"""
BRAKE_TEST = ("  coil: {does: Measure, meter: V DC, between: [-Y1:1, -Y1:2], in: on}\n"
              "  feed: {does: Measure, meter: V AC, between: [-T3:1, -T3:2], in: on}")


@pytest.mark.parametrize(("mains", "form", "whole", "diode_open"), [
    # sqrt2/pi and 2 sqrt2/pi of the effective value (mathematics); one diode of a bridge open
    # leaves half, the only diode of a half-wave rectifier leaves nothing
    (400, "half", 180.06, 0.0), (230, "full", 207.07, 103.54), (110, "full", 99.04, 49.52),
])
def test_a_brake_coil_gets_the_mean_of_the_sine_and_half_of_it_with_a_diode_open(
    mains: float, form: str, whole: float, diode_open: float, tmp_path: Path
) -> None:
    machine = rig(tmp_path, BRAKE.format(form=form), BRAKE_WIRES, BRAKE_TEST, volts=mains)
    fault = Change("attribute", "-T3/factor", "open diode")
    assert volts_of(machine, "coil") == pytest.approx(whole, rel=1e-3)
    assert volts_of(machine, "coil", fault) == pytest.approx(diode_open, rel=1e-3, abs=0.01)
    assert volts_of(machine, "feed", fault) == pytest.approx(mains, rel=1e-3)


@pytest.mark.parametrize(("loop", "word"), [
    # DIN 44081, three sensors in series (3 x 550 ohm at TNAT-5 K, 3 x 1330 ohm at TNAT+5 K;
    # one at TNAT+15 K with 4000 ohm and two cold ones)
    (3 * 20, "in"), (3 * 250, "in"), (3 * 550 - 1, "in"), (3 * 1330, "out"),
    (4000 + 2 * 60, "out"), (1e6, "out"), (1, "out"),
])
def test_a_thermistor_relay_stops_the_motor_where_din_44081_says(
    loop: float, word: str, tmp_path: Path
) -> None:
    machine = rig(
        tmp_path,
        "  -G1: {kind: dc supply, says: Supply, place: bench, minimum: 100 V, "
        "rated input: 230 V}\n"
        "  -K7: {kind: thermistor relay, says: Relay, place: bench, contacts: {11-14: no}}\n"
        f"  -R1: {{kind: resistor, says: Loop, place: bench, resistance: {loop} ohm}}",
        "  a: [-X0:L1, -G1:L]\n  N: [-X0:N, -G1:N]\n  p: [-G1:24, -K7:A1]\n"
        "  m: [-G1:0, -K7:A2]\n  t: [-K7:T1, -R1:1]\n  u: [-K7:T2, -R1:2]",
        "  loop: {does: Measure, meter: V DC, between: [-K7:T1, -K7:T2], in: on}",
    )
    assert shown(machine, "-K7", "on") == word
    # measured with at most 2.5 V a sensor (DIN 44081)
    assert abs(volts_of(machine, "loop")) <= 2.5


@pytest.mark.parametrize(("zero", "word"), [
    # NAMUR NE 43: 3.8 mA still measures, 3.6 mA and below is a broken loop
    (0.0038, "in"), (0.0035, "out"), (0.0030, "out"), (0.0, "out"), (0.0215, "out"),
])
def test_a_limiter_takes_the_failure_bands_of_namur_ne_43_for_failures(
    zero: float, word: str, tmp_path: Path
) -> None:
    machine = rig(
        tmp_path,
        "  -G1: {kind: dc supply, says: Supply, place: bench, minimum: 100 V, "
        "rated input: 230 V}\n"
        "  -A1: {kind: limiter, says: Limiter, place: bench, contacts: {11-14: no}}\n"
        "  -B4: {kind: load pin, says: Load pin, place: bench}",
        "  a: [-X0:L1, -G1:L]\n  N: [-X0:N, -G1:N]\n  p: [-G1:24, -A1:A1, -B4:1]\n"
        "  s: [-B4:2, -A1:S1]\n  m: [-G1:0, -A1:A2, -A1:S2]",
        "  loop: {does: Measure, meter: mA, through: -A1:S1, in: on}",
    )
    fault = Change("attribute", "-B4/zero", str(zero))
    assert volts_of(machine, "loop", fault) == pytest.approx(zero, abs=2e-6)
    assert shown(machine, "-A1", "on", fault) == word


def test_a_control_transformer_has_its_rated_voltage_at_its_rated_load(tmp_path: Path) -> None:
    # rated secondary voltage is that at rated load; it rises when the load goes
    # (IEC 61558-1, from memory)
    machine = rig(
        tmp_path,
        "  -T1: {kind: transformer, says: Transformer, place: bench}\n"
        f"  -R1: {{kind: resistor, says: Load, place: bench, resistance: {110**2 / 160} ohm}}",
        "  a: [-X0:L1, -T1:1]\n  N: [-X0:N, -T1:2]\n  s: [-T1:3, -R1:1]\n  t: [-T1:4, -R1:2]",
        "  out: {does: Measure, meter: V AC, between: [-T1:3, -T1:4], in: on}",
        volts=400,
    )
    assert volts_of(machine, "out") == pytest.approx(110, rel=2e-3)
    idle = volts_of(machine, "out", Change("element", "-R1/body", "open"))
    assert 1.02 * 110 < idle < 1.10 * 110


def hoist() -> Machine:
    """The bundled hoist."""
    machine = load(find_machine("bridge-hoist")).machine
    assert machine is not None
    return machine


def coil_test(device: str, pins: str, condition: str, kind: str) -> Test:
    """A voltage measurement across a coil."""
    a, b = pins.split("-")
    pattern = next(t for t in hoist().tests.values() if t.meter == kind and t.between)
    return Test(**{**{name: getattr(pattern, name) for name in pattern.__slots__},
                   "id": f"coil{device}", "condition": condition,
                   "between": (f"{device}:{a}", f"{device}:{b}")})


@pytest.mark.parametrize("level", [0.9, 1.0, 1.1])
@pytest.mark.parametrize("condition", ["ready", "up-slow", "up-fast", "down-slow", "down-fast"])
def test_every_coil_of_the_hoist_that_is_in_has_the_voltage_its_standard_asks_for(
    condition: str, level: float
) -> None:
    # mains 0.9 to 1.1 (IEC 60204-1 4.3.2, from memory); contactors 0.85 to 1.1 Us (IEC
    # 60947-4-1); relays 0.8 to 1.1 Un (IEC 61810-1 class 1, from memory)
    machine = hoist()
    circuit = Circuit(machine)
    simulation = circuit.simulate([Change("attribute", "-X0/level", str(level))])
    moment = simulation.at(condition)
    judged = 0
    for device in machine.devices.values():
        if device.kind not in {"contactor", "relay"} \
                or word_of(simulation, moment, device.id) != "in":
            continue
        kind = "V AC" if device.attributes["current"] == "AC" else "V DC"
        test = coil_test(device.id, str(device.attributes["coil"]), condition, kind)
        share = circuit.read(simulation, [test])[0].value
        share /= float(device.attributes["coil voltage"])
        lowest = 0.85 if device.kind == "contactor" else 0.80
        # at 1.1 of the mains the unloaded transformer adds its regulation
        assert lowest <= share <= 1.1 * 1.06, device.id
        judged += 1
    assert judged >= 3


def test_a_healthy_hoist_has_more_than_one_megohm_to_earth() -> None:
    # IEC 60204-1 18.3: at least 1 Mohm at 500 V DC between power conductors and earth
    machine = hoist()
    circuit = Circuit(machine)
    tests = [t for t in machine.tests.values() if t.meter == "Mohm" and t.between
             and t.condition == "isolated-unlinked"]
    assert tests
    for test, reading in zip(tests, circuit.read(circuit.simulate(), tests), strict=True):
        assert reading.value >= 1e6, test.id


def test_contacts_of_the_hoist_are_marked_as_en_50005_says() -> None:
    # EN 50005: function digits 1-2 and 5-6 break, 3-4 and 7-8 make; a change-over 1-2-4 and
    # a timed one 5-6-8 share their first digit; single digits are main contacts
    wrong = []
    for device in hoist().devices.values():
        if device.kind not in {"contactor", "relay", "timer", "button", "limit switch"}:
            continue
        for contact in device.contacts:
            match = re.fullmatch(r"(\d*)(\d)-(\d*)(\d)", contact.id)
            assert match is not None, (device.id, contact.id)
            group, first, other, second = match.groups()
            if not group:
                allowed = {"main"}
            elif group != other:
                allowed = set()
            else:
                allowed = {("1", "2"): {"nc"}, ("5", "6"): {"nc"}, ("3", "4"): {"no"},
                           ("7", "8"): {"no"}, ("1", "4"): {"no"}, ("5", "8"): {"no"},
                           }.get((first, second), set())
            if contact.form not in allowed:
                wrong.append(f"{device.id}:{contact.id} {contact.form}")
    assert wrong == []


def test_a_cable_core_of_the_hoist_has_the_ohms_of_its_length_and_section() -> None:
    # IEC 60228 class 5 at 20 C: section in mm2 -> largest resistance in ohm per km
    per_km = {0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98}
    machine = hoist()
    circuit = Circuit(machine)
    judged = 0
    for cable in (d for d in machine.devices.values() if d.kind == "cable"):
        ohms = per_km[float(cable.attributes["section"])]
        ohms *= float(cable.attributes["length"]) / 1000
        ends = {str(cable.attributes["from"]), str(cable.attributes["to"])}
        pins = {pin for core in str(cable.attributes["cores"]).replace(",", " ").split()
                for pin in machine.wires[core].pins if pin.partition(":")[0] in ends}
        for test in machine.tests.values():
            if test.meter == "ohm" and test.between and test.condition == "isolated" \
                    and pins.issuperset(test.between) \
                    and len({pin.partition(":")[2] for pin in test.between}) == 1:
                reading = circuit.read(circuit.simulate(), [test])[0].value
                assert reading == pytest.approx(ohms, rel=0.02, abs=0.011), test.id
                judged += 1
    assert judged >= 3


def test_a_star_winding_has_two_phases_between_its_terminals_and_none_when_one_is_open() -> None:
    machine = hoist()
    circuit = Circuit(machine)
    tests = [machine.tests[f"slow-ohm-{pair}"] for pair in ("12", "23", "31")]
    healthy = [m.value for m in circuit.read(circuit.simulate(), tests)]
    # 22 ohm a phase, and the cable there and back
    assert healthy == pytest.approx([44.0] * 3, rel=0.03)
    opened = circuit.simulate(machine.causes["M1.slow-V.open"].variants[0])
    read = [m.value for m in circuit.read(opened, tests)]
    assert math.isinf(read[0])
    assert math.isinf(read[1])
    assert read[2] == pytest.approx(44.0, rel=0.03)
