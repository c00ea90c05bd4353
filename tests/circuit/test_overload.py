"""Load pin and overload limiter: set-point, delay, come-back, loop faults, starving, moisture."""

from math import inf

import pytest

from faultkit.vocabulary.diagnosis import Change
from tests.circuit.bench import Bench, let_go, on_24_volts, put
from tests.circuit.panels import contact, device, hold

LOADS = {"empty": 0.0, "half": 50.0, "just back": 89.0, "not yet": 91.0, "rated": 100.0,
         "below": 109.0, "above": 111.0, "over": 118.0}


@pytest.fixture(scope="module")
def loop() -> Bench:
    """Supply, load pin, resistor bridged by a button, limiter: one 4 to 20 mA loop."""
    later = {name: ("ready", [put("load", name)]) for name in LOADS}
    return Bench(on_24_volts(
        [device("-A1", "limiter", contact("11-14", "no")), device("-B4", "load pin"),
         device("-R1", "resistor", resistance=1100.0),
         device("-S1", "button", contact("11-12", "nc"))],
        ["-A1:A1", "-B4:1"], ["-A1:A2", "-A1:S2"],
        {"a": ["-B4:2", "-R1:1", "-S1:11"], "b": ["-R1:2", "-S1:12", "-A1:S1"]},
        {"ready": (None, []), **later,
         "jerk": ("rated", [put("load", "over", 0.2), put("load", "rated")]),
         "half down": ("over", [put("load", "not yet")]),
         "down": ("over", [put("load", "just back")]),
         "on with load": (None, [put("load", "rated")]),
         "starved": ("rated", [hold("-S1")]), "empty and starved": ("ready", [hold("-S1")]),
         "fed again": ("starved", [let_go("-S1")])},
        {"load": LOADS}))


@pytest.mark.parametrize(("load", "milliamps"), [
    # 4 mA + 16 mA x load / 125 %: IEC 60381-1 live zero, span of the kind's table
    ("empty", 4.0), ("half", 10.4), ("rated", 16.8), ("over", 19.104)])
def test_the_loop_carries_the_current_that_means_the_load(
    load: str, milliamps: float, loop: Bench,
) -> None:
    assert loop.amps("-A1:S1", load) * 1000 == pytest.approx(milliamps, rel=1e-4)
    assert loop.volts("-A1:S1", "-A1:S2", load) == pytest.approx(milliamps / 10, rel=1e-4)


def test_a_limiter_trips_above_its_set_point_after_its_delay(loop: Bench) -> None:
    assert loop.word("-A1", "below") == "in"
    assert loop.seconds("-A1", "out", "below") == inf
    assert loop.seconds("-A1", "out", "above") == pytest.approx(0.3)
    assert loop.word("-A1", "over") == "out"


def test_a_jerk_shorter_than_the_delay_does_not_trip(loop: Bench) -> None:
    assert loop.word("-A1", "jerk") == "in"


def test_a_tripped_limiter_holds_until_the_load_is_set_down(loop: Bench) -> None:
    """It comes back below 90 % only; power-up with the same load it takes."""
    assert loop.word("-A1", "half down") == "out"
    assert loop.word("-A1", "down") == "in"
    assert loop.word("-A1", "on with load") == "in"


@pytest.mark.parametrize(("trip", "load", "word"), [
    ("40", "half", "out"), ("40", "empty", "in"), ("200", "over", "in")])
def test_a_limiter_trips_where_it_is_set_and_not_where_it_should(
    trip: str, load: str, word: str, loop: Bench,
) -> None:
    assert loop.word("-A1", load, Change("attribute", "-A1/trip", trip)) == word


def test_a_long_delay_lets_the_overload_hang(loop: Bench) -> None:
    late = Change("attribute", "-A1/delay", "5")
    assert loop.seconds("-A1", "out", "over", late) == inf


def test_a_broken_loop_is_a_fault_and_no_light_load(loop: Bench) -> None:
    """At or below 3.6 mA the loop is broken: NAMUR NE 43."""
    broken = Change("element", "-B4/signal", "open")
    assert loop.word("-A1", "empty", broken) == "out"
    assert loop.amps("-A1:S1", "empty", broken) < 1e-6
    assert loop.volts("-B4:1", "-B4:2", "empty", broken) == pytest.approx(24, rel=0.01)


def test_half_the_span_makes_rated_load_look_like_twice_as_much(loop: Bench) -> None:
    """4 + 16 x 100 / 62.5 = 29.6 mA, of which the transmitter gives 22 mA: a loop fault."""
    wrong = Change("attribute", "-B4/span", "x0.5")
    assert loop.amps("-A1:S1", "half", wrong) * 1000 == pytest.approx(16.8, rel=1e-4)
    assert loop.amps("-A1:S1", "rated", wrong) * 1000 == pytest.approx(22, rel=1e-4)
    assert loop.word("-A1", "rated", wrong) == "out"


@pytest.mark.parametrize(("leak", "milliamps", "word"), [
    # I = (4 mA + 24 V / R) / (1 + 100 ohm / R)
    ("1600", (4 + 24 / 1.6) / (1 + 100 / 1600), "in"),
    ("1200", (4 + 24 / 1.2) / (1 + 100 / 1200), "out")])
def test_moisture_adds_its_current_to_the_signal(
    leak: str, milliamps: float, word: str, loop: Bench,
) -> None:
    wet = Change("element", "-B4/leak", leak)
    assert loop.amps("-A1:S1", "empty", wet) * 1000 == pytest.approx(milliamps, rel=2e-3)
    assert loop.word("-A1", "empty", wet) == word


def test_moisture_that_passes_unnoticed_when_empty_stops_a_lighter_load(loop: Bench) -> None:
    wet = Change("element", "-B4/leak", "1600")
    assert loop.word("-A1", "half") == "in"
    assert loop.word("-A1", "half", wet) == "out"


def test_a_load_pin_starved_of_voltage_signals_less_than_the_load(loop: Bench) -> None:
    """24 V - 16.8 mA x 1200 ohm leaves 3.8 V; it needs 8 V x 16.8 / 22 = 6.1 V.

    As a resistance of 8 V / 22 mA it draws 15.3 mA instead.
    """
    assert loop.amps("-A1:S1", "rated") * 1000 == pytest.approx(16.8, rel=1e-4)
    assert loop.amps("-A1:S1", "starved") * 1000 == pytest.approx(
        24e3 / (1200 + 8 / 0.022), rel=2e-3)
    # at 4 mA the loop takes 4.8 V only
    assert loop.amps("-A1:S1", "empty and starved") * 1000 == pytest.approx(4, rel=1e-4)


def test_a_starved_load_pin_settles_and_comes_back_with_its_voltage(loop: Bench) -> None:
    assert loop.circuit.simulate().at("starved").chattering == frozenset()
    assert loop.amps("-A1:S1", "fed again") * 1000 == pytest.approx(16.8, rel=1e-4)


def test_without_its_supply_the_limiter_is_out(loop: Bench) -> None:
    dead = Change("element", "-A1/supply", "open")
    assert loop.word("-A1", "empty", dead) == "out"
