"""Relays that watch phases and motor temperature."""

from math import inf

import pytest

from faultkit.vocabulary.diagnosis import Change
from tests.circuit.bench import Bench, after, let_go, on_24_volts
from tests.circuit.panels import contact, device, hold, machine


@pytest.fixture(scope="module")
def phases() -> Bench:
    """A phase relay on three-phase mains; -S1 opens L3, or leaves it a divided voltage."""
    return Bench(machine(
        [device("-X0", "mains"), device("-F7", "phase relay", contact("11-14", "no")),
         device("-S1", "button", contact("11-12", "nc"))],
        {"L1": ["-X0:L1", "-F7:L1"], "L2": ["-X0:L2", "-F7:L2"], "L3": ["-X0:L3", "-S1:11"],
         "3": ["-S1:12", "-F7:L3"]},
        {"ready": (None, []), "lost": ("ready", [hold("-S1")]), "back": ("lost", [let_go("-S1")])}))


def test_a_phase_relay_is_in_on_three_phases_in_order(phases: Bench) -> None:
    assert phases.word("-F7", "ready") == "in"
    assert phases.ohms("-F7:11", "-F7:14", "ready") < 0.1


def test_a_phase_relay_lets_go_of_a_missing_phase_after_its_delay(phases: Bench) -> None:
    """One phase of three leaves 1/3 of negative sequence (Fortescue), half of the positive."""
    assert phases.seconds("-F7", "out", "lost") == pytest.approx(0.2)
    assert phases.seconds("-F7", "in", "back") == pytest.approx(0.1)


@pytest.mark.parametrize("pole", ["L1", "L2", "L3"])
def test_a_phase_missing_from_the_supply_keeps_it_out(pole: str, phases: Bench) -> None:
    assert phases.word("-F7", "ready", Change("element", f"-X0/{pole}", "open")) == "out"


def test_two_phases_swapped_keep_it_out(phases: Bench) -> None:
    assert phases.word("-F7", "ready", Change("attribute", "-X0/sequence", "-1")) == "out"


@pytest.mark.parametrize(("level", "word"), [("0.79", "out"), ("0.81", "in")])
def test_a_phase_relay_lets_go_below_its_low_limit(level: str, word: str, phases: Bench) -> None:
    assert phases.word("-F7", "ready", Change("attribute", "-X0/level", level)) == word


def test_a_phase_relay_stuck_in_sees_nothing(phases: Bench) -> None:
    assert phases.word("-F7", "lost", Change("state", "-F7", "in")) == "in"


@pytest.mark.parametrize(("upper", "lower", "word"), [
    # a third phase of x times the others: negative over positive sequence (1 - x) / (2 + x);
    # x = 0.8 gives 0.07, x = 0.7 gives 0.11, and the limit is 0.1 (kind's table)
    (25.0, 100.0, "in"), (30.0, 70.0, "out")])
def test_a_phase_relay_lets_go_of_an_unbalance(upper: float, lower: float, word: str) -> None:
    bench = Bench(machine(
        [device("-X0", "mains", impedance=0.01), device("-F7", "phase relay", low=0.5),
         device("-R1", "resistor", resistance=upper), device("-R2", "resistor", resistance=lower)],
        {"L1": ["-X0:L1", "-F7:L1"], "L2": ["-X0:L2", "-F7:L2"], "L3": ["-X0:L3", "-R1:1"],
         "3": ["-R1:2", "-R2:1", "-F7:L3"], "N": ["-R2:2", "-X0:N"]}, {"ready": (None, [])}))
    assert bench.word("-F7", "ready") == word


@pytest.fixture(scope="module")
def motor_loop() -> Bench:
    """Three cold thermistors; -S1 adds 3500 ohm to the loop and -S2 adds 1900 ohm."""
    return Bench(on_24_volts(
        [device("-K7", "thermistor relay", contact("11-14", "no")), device("-B7", "ptc"),
         device("-R1", "resistor", resistance=3500.0), device("-R2", "resistor", resistance=1900.0),
         device("-S1", "button", contact("11-12", "nc")),
         device("-S2", "button", contact("11-12", "nc"))],
        ["-K7:A1"], ["-K7:A2"],
        {"t": ["-K7:T1", "-B7:1"], "u": ["-B7:2", "-R1:1", "-S1:11"],
         "v": ["-R1:2", "-S1:12", "-R2:1", "-S2:11"], "w": ["-R2:2", "-S2:12", "-K7:T2"]},
        {"ready": (None, []), "warm": ("ready", [hold("-S2")]),
         "hot": ("warm", [hold("-S1", seconds=1.0)]),
         "cooling": ("hot", [let_go("-S1", 10.0)]),
         "cold": ("cooling", [let_go("-S2")]), "later": ("cooling", [after(60.0)])}))


def test_a_warm_motor_runs_on_and_a_hot_one_stops(motor_loop: Bench) -> None:
    """180 and 1900 ohm stay below 3600 ohm, another 3500 ohm do not."""
    assert motor_loop.word("-K7", "ready") == "in"
    assert motor_loop.word("-K7", "warm") == "in"
    assert motor_loop.seconds("-K7", "out", "hot") == pytest.approx(0.05)


def test_after_a_stop_the_motor_must_cool_below_the_come_back_limit(motor_loop: Bench) -> None:
    """2080 ohm are not yet below 3 x 550 ohm (DIN 44081, TNAT-5 K); 180 ohm are."""
    assert motor_loop.word("-K7", "cooling") == "out"
    assert motor_loop.word("-K7", "later") == "out"
    assert motor_loop.seconds("-K7", "in", "cold") == pytest.approx(0.05)


@pytest.mark.parametrize(("ohms", "word"), [
    # 20 ohm and less is a short (common practice, no source); 9000 ohm hot
    ("19", "out"), ("21", "in"), ("short", "out"), ("open", "out"), ("9000", "out"),
    # three of at most 250 ohm when cold (DIN 44081)
    ("750", "in")])
def test_a_thermistor_chain_is_judged_by_its_ohms(
    ohms: str, word: str, motor_loop: Bench,
) -> None:
    assert motor_loop.word("-K7", "ready", Change("element", "-B7/chain", ohms)) == word


def test_a_sound_chain_reads_three_cold_thermistors(motor_loop: Bench) -> None:
    """3 x 60 ohm beside the relay's own megohm (kind's table)."""
    assert motor_loop.ohms("-B7:1", "-B7:2", "ready") == pytest.approx(180, rel=1e-3)
    opened = Change("element", "-B7/chain", "open")
    assert motor_loop.ohms("-B7:1", "-B7:2", "ready", opened) > 0.9e6


def test_without_its_supply_the_thermistor_relay_is_out(motor_loop: Bench) -> None:
    dead = Change("element", "-K7/supply", "open")
    assert motor_loop.word("-K7", "ready", dead) == "out"
    assert motor_loop.volts("-K7:T1", "-K7:T2", "ready", dead) == pytest.approx(0, abs=1e-3)
    assert motor_loop.seconds("-K7", "in", "ready", dead) == inf
