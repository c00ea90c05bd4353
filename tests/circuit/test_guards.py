"""Absurd machines and faults end soon, and with a sentence that says where."""

import pytest

from faultkit.circuit.circuit import Circuit
from faultkit.errors import CircuitError
from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.kinds import KINDS
from faultkit.vocabulary.machine import Device, Machine
from tests.circuit.bench import Bench, on_24_volts, put
from tests.circuit.panels import contact, device, hold, machine, measure

ABSURD = ("0", "-1", "1e-12", "1e12", "1e300", "-1e300", "inf", "-inf", "nan", "x0", "+1e9")


def everything() -> Machine:
    """A panel with one device of nearly every kind, all of them fed."""
    load = {"empty": 0.0, "over": 118.0}
    return on_24_volts(
        [device("-T1", "transformer", primary_voltage=230.0), device("-T3", "rectifier"),
         device("-F1", "fuse", contact("1-2", "main"), rating=6.0),
         device("-F2", "breaker", contact("1-2", "main"), rating=6.0),
         device("-Q1", "contactor", contact("13-14", "no")),
         device("-K1", "relay", contact("11-12", "nc")), device("-Y1", "brake", voltage=49.5),
         device("-K4", "timer", contact("15-18", "no"), time=1.0), device("-A1", "limiter"),
         device("-B4", "load pin"), device("-K7", "thermistor relay"), device("-B7", "ptc"),
         device("-A2", "brake monitor"), device("-F7", "phase relay"),
         device("-M1", "motor", winding="U-V-W", brake="-Y1"),
         device("-H1", "lamp", voltage=24.0), device("-R1", "resistor", resistance=100.0),
         device("-S1", "button", contact("13-14", "no"), contact("23-24", "no", step=2)),
         device("-S5", "selector", contact("1-2", "no"))],
        ["-S1:13", "-K1:A1", "-K4:A1", "-A1:A1", "-B4:1", "-K7:A1", "-A2:A1", "-H1:X1",
         "-R1:1"],
        ["-Q1:14", "-K1:A2", "-K4:A2", "-A1:A2", "-A1:S2", "-K7:A2", "-A2:A2", "-A2:C2",
         "-A2:F2", "-H1:X2", "-R1:2"],
        {"f": ["-X0:L1", "-F1:1"], "g": ["-F1:2", "-F2:1"],
         "h": ["-F2:2", "-T1:1", "-F7:L1", "-M1:U"],
         "n": ["-X0:N", "-T1:2", "-F7:L2", "-M1:V"], "s": ["-T1:3", "-Q1:A1", "-T3:1"],
         "t": ["-T1:4", "-Q1:A2", "-T3:2"], "y": ["-T3:3", "-Y1:1"], "z": ["-T3:4", "-Y1:2"],
         "c": ["-S1:14", "-A2:C1"], "l": ["-B4:2", "-A1:S1"], "p": ["-K7:T1", "-B7:1"],
         "q": ["-B7:2", "-K7:T2"]},
        {"ready": (None, []), "held": ("ready", [put("load", "over"), hold("-S1", "2")])},
        {"load": load})


@pytest.fixture(scope="module")
def circuit() -> Circuit:
    return Circuit(everything())


def faults_of(one: Device) -> list[Change]:
    return [Change("attribute", f"{one.id}/{attribute.name}", value)
            for attribute in KINDS[one.kind].attributes if isinstance(attribute.default, float)
            for value in ABSURD]


def outcome(circuit: Circuit, fault: Change) -> str:
    """Done after 7 seconds of the machine's time (2 to settle, 1, and 4 held), or a refusal."""
    try:
        return "done" if circuit.simulate([fault]).at("held").now == pytest.approx(7.0) else "late"
    except CircuitError as refused:
        return str(refused)


@pytest.mark.parametrize("name", [one.id for one in everything().devices.values()
                                  if faults_of(one)])
@pytest.mark.filterwarnings("error")
def test_no_absurd_number_in_a_device_keeps_the_circuit_busy_or_breaks_it(
    name: str, circuit: Circuit,
) -> None:
    """It is computed in few steps, or refused in a sentence that names the device."""
    for fault in faults_of(circuit.machine.devices[name]):
        before = circuit.solver.solves
        said = outcome(circuit, fault)
        assert said.startswith("done") or name in said, fault
        assert circuit.solver.solves - before < 400, fault


def test_a_button_with_a_thousand_million_steps_is_refused_at_once() -> None:
    one = device("-S1", "button", contact("13-14", "no", step=10**9))
    with pytest.raises(CircuitError, match=r"-S1 .*1000000000 steps"):
        Circuit(machine([one], {}, {"on": (None, [])})).simulate()
    sound = Circuit(machine([device("-S1", "button", contact("13-14", "no"))], {},
                            {"on": (None, [])}))
    with pytest.raises(CircuitError, match="-S1"):
        sound.simulate([Change("attribute", "-S1/steps", "1e9")])


@pytest.mark.parametrize("fault", [
    Change("attribute", "-K4/input", "B1-A2"), Change("attribute", "-Q1/coil", "13-14"),
    Change("attribute", "-T1/primary", "1"), Change("attribute", "-Y1/fast contact", "-Q9:1-2"),
    Change("attribute", "-K4/time", "soon")])
def test_a_fault_that_would_rewire_a_device_is_refused_by_name(
    fault: Change, circuit: Circuit,
) -> None:
    with pytest.raises(CircuitError, match=fault.target.split("/", maxsplit=1)[0]):
        circuit.simulate([fault])


@pytest.mark.parametrize("fault", [
    Change("attribute", "-Q8/time", "1"), Change("state", "-Q8", "in"),
    Change("contact", "-Q8:1-2", "open"), Change("element", "-Q1/wheel", "open"),
    Change("hop", "77:-A:1/-B:1", "open"), Change("bridge", "-Q1:A1/-Q1:A2", "0.1")])
def test_a_fault_in_what_the_circuit_does_not_have_says_so(fault: Change, circuit: Circuit) -> None:
    with pytest.raises(CircuitError, match="no "):
        circuit.simulate([fault])


@pytest.mark.parametrize("target", ["-Q1/coil", "-Q1:13-14", "-R1/body"])
@pytest.mark.parametrize("value", ["nan", "inf", "-5", "1e300", "xnan", "somewhat"])
def test_a_fault_to_no_sensible_resistance_is_refused(
    target: str, value: str, circuit: Circuit,
) -> None:
    what = "contact" if ":" in target else "element"
    with pytest.raises(CircuitError, match=f"cannot make {target} '{value}'"):
        # wrong kinds of change on purpose
        circuit.simulate([Change(what, target, value)])  # type: ignore[arg-type]


def test_a_device_cannot_be_stuck_in_a_state_that_it_does_not_have(circuit: Circuit) -> None:
    with pytest.raises(CircuitError, match="-Q1 cannot be stuck in the state 'halfway'"):
        circuit.simulate([Change("state", "-Q1", "halfway")])


TWICE = (Change("bridge", "-R1:1/-R1:2", "0"), Change("bridge", "-R1:2/-R1:1", "0"))


@pytest.fixture(scope="module")
def loop() -> Bench:
    return Bench(machine(
        [device("-X0", "mains", phases=1.0, voltage=230.0, impedance=0.0),
         device("-R1", "resistor", resistance=100.0)],
        {"L": ["-X0:L1", "-R1:1"], "N": ["-R1:2", "-X0:N"]}, {"on": (None, [])}),
        *TWICE, Change("bridge", "-X0:L1/PE", "0"))


@pytest.mark.parametrize(("faults", "device_"), [
    # two ways without any resistance side by side; an ideal source across a short
    (TWICE, "-R1"), ((Change("bridge", "-X0:L1/PE", "0"),), "-X0")])
def test_a_network_without_an_answer_names_the_devices_and_why(
    faults: tuple[Change, ...], device_: str, loop: Bench,
) -> None:
    with pytest.raises(CircuitError, match=rf"without any resistance meet at {device_}\b"):
        loop.volts("-R1:1", "-R1:2", "on", *faults, meter="V AC")


def test_after_a_network_without_an_answer_the_next_one_is_answered_rightly(loop: Bench) -> None:
    """Nothing half-made of the refused state may stay behind in the bank of inverses."""
    healthy = loop.volts("-R1:1", "-R1:2", "on", meter="V AC")
    halved = Change("element", "-R1/body", "0.03")
    for _ in range(3):
        with pytest.raises(CircuitError):
            loop.volts("-R1:1", "-R1:2", "on", *TWICE, meter="V AC")
        assert loop.volts("-R1:1", "-R1:2", "on", meter="V AC") == pytest.approx(healthy, abs=1e-9)
        # as much in the resistor as in the neutral's contact of 0.03 ohm
        assert loop.volts("-R1:1", "-R1:2", "on", halved, meter="V AC") == pytest.approx(
            115, rel=1e-6)


def test_a_test_at_a_point_that_is_not_there_says_so(loop: Bench) -> None:
    with pytest.raises(CircuitError, match="no point -R9:1"):
        loop.circuit.read(loop.circuit.simulate(), [measure("V AC", "-R9:1", "-R1:2", "on")])
