"""What a motor does: turns, hums, stands still, stops again."""

from math import sqrt

import pytest

from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.machine import Device
from tests.circuit.bench import Bench, let_go
from tests.circuit.panels import contact, device, hold, machine

POLES = (contact("1-2", "no"), contact("3-4", "no"), contact("5-6", "no"))


def motor_behind(button: str, *more: Device, **motor: float | str) -> Bench:
    """Three-phase mains, a three-pole switch held by hand, a motor of one or two windings."""
    windings = {name: str(motor[name]) for name in ("slow", "fast", "winding") if name in motor}
    devices = [device("-X0", "mains", impedance=0.01), device("-M1", "motor", **motor), *more]
    wires = {f"L{k}": [f"-X0:L{k}"] for k in (1, 2, 3)}
    for name, pins in windings.items():
        switch = f"{button} {name}" if len(windings) > 1 else button
        devices.append(device(switch, "button", *POLES))
        for k, pin in enumerate(pins.split("-")):
            wires[f"L{k + 1}"].append(f"{switch}:{2 * k + 1}")
            wires[f"{name}{k}"] = [f"{switch}:{2 * k + 2}", f"-M1:{pin}"]
    first, *others = [one.id for one in devices if one.kind == "button"]
    return Bench(machine(devices, wires, {
        "rest": (None, []), "held": ("rest", [hold(first, seconds=10.0)]),
        "let go": ("held", [let_go(first)]),
        **{f"also {other}": ("held", [hold(other)]) for other in others},
        **{f"only {other}": ("rest", [hold(other)]) for other in others}}))


@pytest.fixture(scope="module")
def motor() -> Bench:
    return motor_behind("-S1", winding="U-V-W")


def test_a_motor_turns_with_the_sequence_of_its_phases_and_stops_with_them(motor: Bench) -> None:
    words = [motor.word("-M1", condition) for condition in ("rest", "held", "let go")]
    assert words == ["still", "up", "still"]
    swapped = Change("attribute", "-X0/sequence", "-1")
    assert motor.word("-M1", "held", swapped) == "down"


def test_a_motor_draws_its_phase_voltage_over_its_impedance(motor: Bench) -> None:
    """400 V over root 3 and 25 ohm: 9.24 A."""
    assert motor.amps("-M1:U", "held") == pytest.approx(400 / sqrt(3) / 25, rel=3e-3)


@pytest.mark.parametrize("lost", ["-X0/L1", "-X0/L2", "-X0/L3", "-M1/winding-U", "-M1/winding-V",
                                  "-M1/winding-W"])
def test_a_motor_with_one_phase_lost_hums_and_does_not_turn(lost: str, motor: Bench) -> None:
    """Equal parts of both sequences (Fortescue): no torque at rest."""
    assert motor.word("-M1", "held", Change("element", lost, "open")) == "hums"


def test_the_two_phases_that_are_left_carry_0_866_of_the_current(motor: Bench) -> None:
    """U / 2Z instead of U / (root 3 Z)."""
    lost = Change("contact", "-S1:3-4", "open")
    share = motor.amps("-M1:U", "held", lost) / motor.amps("-M1:U", "held")
    assert share == pytest.approx(sqrt(3) / 2, rel=1e-3)
    assert motor.amps("-M1:V", "held", lost) < 1e-3


def test_a_winding_partly_shorted_turns_on_while_one_sequence_prevails(motor: Bench) -> None:
    """One phase of k Z beside two of Z in a star without neutral, by Fortescue.

    Negative over positive sequence of the currents: 0.2 for k = 0.5, 0.25 for k = 2 and 0.94
    for k = 50, where the two phases that are left carry nearly equal parts of both.
    """
    words = [motor.word("-M1", "held", Change("element", "-M1/winding-U", f"x{k}"))
             for k in (0.5, 2, 50)]
    assert words == ["up", "up", "hums"]


def test_with_two_phases_lost_it_is_still(motor: Bench) -> None:
    two = (Change("contact", "-S1:1-2", "open"), Change("contact", "-S1:3-4", "open"))
    assert motor.word("-M1", "held", *two) == "still"


@pytest.mark.parametrize(("level", "word"), [("0.7", "up"), ("0.5", "hums"), ("0.1", "still")])
def test_a_motor_without_enough_voltage_hums(level: str, word: str, motor: Bench) -> None:
    """Limits at 0.6 and 0.2 of rated current (common practice, no source)."""
    assert motor.word("-M1", "held", Change("attribute", "-X0/level", level)) == word


def test_a_seized_motor_hums_when_fed_and_is_still_otherwise(motor: Bench) -> None:
    seized = Change("state", "-M1", "hums")
    assert motor.word("-M1", "rest", seized) == "still"
    assert motor.word("-M1", "held", seized) == "hums"
    assert motor.word("-M1", "let go", seized) == "still"


def test_a_winding_reads_two_phases_and_open_where_it_is_open(motor: Bench) -> None:
    """2 x 2.5 ohm between any two terminals of a star."""
    for pair in ("UV", "VW", "WU"):
        a, b = (f"-M1:{pin}" for pin in pair)
        assert motor.ohms(a, b, "rest") == pytest.approx(5.0, rel=1e-3)
        opened = motor.ohms(a, b, "rest", Change("element", "-M1/winding-U", "open"))
        assert (opened > 1e6) == ("U" in pair)


@pytest.mark.parametrize(("brake", "word"), [("", "up"), ("-Y1", "hums")])
def test_a_motor_against_a_set_brake_hums(brake: str, word: str) -> None:
    bench = motor_behind("-S1", device("-Y1", "brake"), winding="U-V-W", brake=brake)
    assert bench.word("-Y1", "held") == "set"
    assert bench.word("-M1", "held") == word
    assert bench.word("-M1", "held", Change("state", "-Y1", "released")) == "up"


def test_two_windings_say_their_speed_and_together_only_hum() -> None:
    bench = motor_behind("-S", slow="1U-1V-1W", fast="2U-2V-2W")
    assert bench.word("-M1", "held") == "up slow"
    assert bench.word("-M1", "only -S fast") == "up fast"
    assert bench.word("-M1", "also -S fast") == "hums"


def test_a_motor_that_trips_its_breaker_has_run_and_stops_again() -> None:
    """9.2 A through a 5 A breaker: 0.1 s x (10 x 7.25 / 9.2) squared = 6.2 s, of 10 s held."""
    bench = Bench(machine(
        [device("-X0", "mains", impedance=0.01), device("-M1", "motor", winding="U-V-W"),
         device("-F1", "breaker", contact("1-2", "main"), contact("3-4", "main"),
                contact("5-6", "main"), rating=5.0), device("-S1", "button", *POLES)],
        {f"{name}{k}": [f"{a}:{end}", f"{b}:{start}"]
         for k, pin in enumerate("UVW")
         for name, a, end, b, start in (
             ("a", "-X0", f"L{k + 1}", "-F1", str(2 * k + 1)),
             ("b", "-F1", str(2 * k + 2), "-S1", str(2 * k + 1)),
             ("c", "-S1", str(2 * k + 2), "-M1", pin))},
        {"rest": (None, []), "short": ("rest", [hold("-S1")]),
         "long": ("rest", [hold("-S1", seconds=10.0)]), "again": ("long", [let_go("-S1"),
                                                                       hold("-S1")])}))
    assert bench.word("-M1", "short") == "up"
    amps = 400 / sqrt(3) / 25
    assert bench.seconds("-F1", "tripped", "long") == pytest.approx(
        0.1 * (72.5 / amps) ** 2, rel=0.01)
    assert bench.word("-M1", "long") == "stops again"
    assert bench.word("-M1", "again") == "still"
