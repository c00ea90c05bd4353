"""Timer relays: on-delay, off-delay and minimum pause, second by second."""

from math import inf

import pytest

from faultkit.vocabulary.diagnosis import Change
from tests.circuit.bench import Bench, after, let_go, on_24_volts, put
from tests.circuit.panels import contact, device, hold


@pytest.fixture(scope="module")
def on_delay() -> Bench:
    """A timer of 3 s that its own supply starts."""
    return Bench(on_24_volts(
        [device("-S1", "button", contact("13-14", "no")),
         device("-K4", "timer", contact("15-18", "no"), contact("15-16", "nc"), time=3.0)],
        ["-S1:13"], ["-K4:A2"], {"a": ["-S1:14", "-K4:A1"]},
        {"ready": (None, []), "held": ("ready", [hold("-S1")]),
         "too short": ("ready", [hold("-S1", seconds=2.9)]),
         "twice": ("ready", [hold("-S1", seconds=2.0), let_go("-S1", 0.5), hold("-S1")]),
         "let go": ("held", [let_go("-S1")])}))


def test_an_on_delay_comes_after_its_time_and_goes_with_its_supply(on_delay: Bench) -> None:
    assert on_delay.word("-K4", "ready") == "out"
    assert on_delay.seconds("-K4", "in", "held") == pytest.approx(3.0)
    assert on_delay.word("-K4", "too short") == "out"
    assert on_delay.seconds("-K4", "out", "let go") < 0.1
    assert on_delay.ohms("-K4:15", "-K4:18", "held") < 0.1
    assert on_delay.ohms("-K4:15", "-K4:16", "held") == inf


def test_an_interrupted_on_delay_begins_again(on_delay: Bench) -> None:
    assert on_delay.seconds("-K4", "in", "twice") == pytest.approx(3.0)


@pytest.mark.parametrize(("changed", "seconds"), [("x0.1", 0.3), ("x8", inf), ("1.5", 1.5)])
def test_a_wrongly_set_on_delay_comes_at_the_time_that_is_set(
    changed: str, seconds: float, on_delay: Bench,
) -> None:
    fault = Change("attribute", "-K4/time", changed)
    assert on_delay.seconds("-K4", "in", "held", fault) == pytest.approx(seconds)


def test_a_timer_dead_inside_takes_no_current_and_never_comes(on_delay: Bench) -> None:
    dead = Change("element", "-K4/supply", "open")
    assert on_delay.seconds("-K4", "in", "held", dead) == inf
    assert on_delay.amps("-K4:A1", "held", dead) < 1e-6
    assert on_delay.volts("-K4:A1", "-K4:A2", "held", dead) == pytest.approx(24, rel=1e-3)
    # healthy: 24 V over 1200 ohm
    assert on_delay.amps("-K4:A1", "held") == pytest.approx(0.02, rel=1e-3)


def with_input(function: str, seconds: float) -> Bench:
    """A timer on a supply of its own switch -S0, started by -S1 at its input."""
    return Bench(on_24_volts(
        [device("-S0", "selector", contact("13-14", "no")),
         device("-S1", "button", contact("13-14", "no")),
         device("-K4", "timer", contact("15-18", "no"), time=seconds, function=function,
                input="B1-A2")],
        ["-S0:13", "-S1:13"], ["-K4:A2"], {"a": ["-S0:14", "-K4:A1"], "b": ["-S1:14", "-K4:B1"]},
        {"ready": (None, []), "later": ("ready", [after(seconds)]),
         "held": ("later", [hold("-S1", seconds=1.0)]),
         "let go": ("held", [let_go("-S1", seconds + 1)]),
         "just let go": ("held", [let_go("-S1", 0.2)]),
         "held again": ("just let go", [hold("-S1", seconds=seconds + 1)]),
         "let go again": ("held again", [let_go("-S1", seconds + 1)]),
         "unfed": ("held", [put("-S0", "off")]),
         "fed again": ("unfed", [let_go("-S1"), put("-S0", "on", seconds + 1)])}))


def test_an_off_delay_comes_at_once_and_goes_its_time_after_the_input() -> None:
    bench = with_input("off-delay", 3.0)
    assert bench.word("-K4", "later") == "out"
    assert bench.seconds("-K4", "in", "held") < 0.1
    assert bench.word("-K4", "just let go") == "in"
    assert bench.seconds("-K4", "out", "let go") == pytest.approx(3.0)


def test_the_current_at_a_pin_is_that_of_all_that_ends_there() -> None:
    """A2 is the return of the supply, 24 V over 1200 ohm, and of the input, over 5000 ohm."""
    bench = with_input("off-delay", 3.0)
    amps = [bench.amps(f"-K4:{pin}", "held") for pin in ("A1", "B1", "A2")]
    assert amps == pytest.approx([0.02, 0.0048, 0.0248], rel=1e-3)


def test_an_off_delay_held_again_in_time_stays_in_and_begins_anew() -> None:
    bench = with_input("off-delay", 3.0)
    assert bench.word("-K4", "held again") == "in"
    assert bench.seconds("-K4", "out", "let go again") == pytest.approx(3.0)


def test_an_off_delay_goes_at_once_without_its_supply() -> None:
    bench = with_input("off-delay", 3.0)
    assert bench.seconds("-K4", "out", "unfed") < 0.1


def test_a_pause_timer_blocks_after_power_up_and_right_after_each_release() -> None:
    bench = with_input("pause", 5.0)
    assert bench.word("-K4", "ready") == "out"
    assert bench.word("-K4", "later") == "in"
    # while the input is on the output stays
    assert bench.word("-K4", "held") == "in"
    assert bench.word("-K4", "just let go") == "out"
    assert bench.seconds("-K4", "out", "let go") < 0.1
    assert bench.seconds("-K4", "in", "let go") == pytest.approx(5.0, abs=0.05)


def test_a_pause_that_is_not_waited_for_does_not_run_out_under_the_input() -> None:
    """Whoever presses too early and keeps pressing waits until he lets go, and then the pause."""
    bench = with_input("pause", 5.0)
    assert bench.word("-K4", "held again") == "out"
    assert bench.seconds("-K4", "in", "let go again") == pytest.approx(5.0, abs=0.05)


def test_a_pause_timer_blocks_again_after_its_supply_was_off() -> None:
    bench = with_input("pause", 5.0)
    assert bench.word("-K4", "unfed") == "out"
    assert bench.seconds("-K4", "in", "fed again") == pytest.approx(5.0, abs=0.05)


@pytest.mark.parametrize(("volts", "word"), [(0.69, "out"), (0.71, "in")])
def test_a_timer_works_from_its_share_of_rated_voltage(volts: float, word: str) -> None:
    """0.7 of rated voltage (kind's table; common practice, no source)."""
    bench = with_input("off-delay", 3.0)
    low = Change("attribute", "-G1/voltage", str(24 * volts))
    assert bench.word("-K4", "held", low) == word
