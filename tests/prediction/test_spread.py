"""How far readings of each meter scatter."""

from math import hypot, inf, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.prediction.spread import LEAST, LIVE_CHATTER, RELATIVE, spread

METERS = sorted(RELATIVE)


def test_every_meter_that_gives_numbers_has_both_figures() -> None:
    assert set(RELATIVE) == set(LEAST)
    assert all(0 < share < 1 for share in RELATIVE.values())
    assert all(least > 0 for least in LEAST.values())


@given(st.sampled_from(METERS), st.floats(-1e9, 1e9), st.booleans())
def test_a_spread_is_never_nothing_and_the_same_on_both_sides_of_zero(
    meter: str, value: float, restless: bool,
) -> None:
    assert spread(meter, value, chatters=restless) >= LEAST[meter]
    assert spread(meter, value, chatters=restless) == spread(meter, -value, chatters=restless)


@given(st.sampled_from(METERS), st.floats(0, 1e9), st.floats(1, 10))
def test_a_spread_grows_with_the_reading_and_while_relays_chatter(
    meter: str, value: float, more: float,
) -> None:
    assert spread(meter, value * more) >= spread(meter, value)
    assert spread(meter, value, chatters=True) >= spread(meter, value)


@pytest.mark.parametrize(("meter", "value", "expected"), [
    # industrial multimeter and coil tolerance (common practice, no source)
    ("V AC", 110.0, hypot(2.75, 0.3)), ("ohm", 0.0, 0.25), ("ohm", 1000.0, hypot(60, 0.25)),
    ("mA", 0.02, hypot(4e-4, 5e-5)), ("seconds", 0.5, hypot(0.04, 0.04))])
def test_a_spread_joins_a_share_of_the_reading_and_the_last_digit(
    meter: str, value: float, expected: float,
) -> None:
    assert spread(meter, value) == pytest.approx(expected)


def test_a_reading_while_relays_chatter_scatters_by_nearly_half() -> None:
    assert spread("V AC", 100.0, chatters=True) == pytest.approx(
        hypot(100 * (0.025 + LIVE_CHATTER), 0.3))


@pytest.mark.parametrize(("meter", "inner", "volts"), [
    # ghost voltages of 5 to 80 V on a 10 Mohm meter, none on 2 to 3 kohm (common practice, no
    # source)
    ("V AC", 1e7, 25.0), ("V AC", 1e3, 0.0), ("V AC low", 1e7, 0.0), ("V DC", 1e7, 0.0)])
def test_only_an_ac_voltage_at_a_point_that_hangs_in_the_air_is_a_ghost(
    meter: str, inner: float, volts: float,
) -> None:
    assert spread(meter, 0.0, inner=inner) == pytest.approx(hypot(LEAST[meter], volts))


@pytest.mark.parametrize("value", [inf, nan])
def test_over_the_limit_and_words_have_the_least_spread(value: float) -> None:
    assert spread("ohm", value) == LEAST["ohm"]
    assert spread("words", value) == 1.0
