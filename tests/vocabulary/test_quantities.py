"""Quantities as authors write them and screens show them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.errors import QuantityError
from faultkit.vocabulary.quantities import parse_quantity, parse_range, show
from faultkit.vocabulary.quantities.showing import SCALES
from faultkit.vocabulary.quantities.units import UNITS


@pytest.mark.parametrize(("text", "unit", "value"), [
    ("110 V", "V", 110.0), ("110V", "V", 110.0), ("0.4 kV", "V", 400.0), ("12 mV", "V", 0.012),
    ("110 V AC", "V", 110.0), ("24 VDC", "V", 24.0), ("230V~", "V", 230.0), ("110", "V", 110.0),
    ("12 mA", "A", 0.012), ("500 µA", "A", 5e-4), ("500 \u03bcA", "A", 5e-4), ("2 A", "A", 2.0),
    ("3.2 kohm", "ohm", 3200.0), ("3.2 kΩ", "ohm", 3200.0), ("3.2 k\u2126", "ohm", 3200.0),
    ("3,2k", "ohm", 3200.0), ("1.5 Mohm", "ohm", 1.5e6), ("20 mohm", "ohm", 0.02),
    ("0,3 s", "s", 0.3), ("300 ms", "s", 0.3), ("2 min", "s", 120.0),
    ("8 min", "min", 8.0), ("90 s", "min", 1.5), ("1 h", "min", 60.0), ("8", "min", 8.0),
    ("20 m", "m", 20.0), ("150 cm", "m", 1.5), ("1.5 mm2", "mm2", 1.5), ("1.5 mm²", "mm2", 1.5),
    ("0.4", "mm", 0.4), ("400 µm", "mm", 0.4), ("50 Hz", "Hz", 50.0), ("160 VA", "VA", 160.0),
    ("2 %", "1", 0.02), ("0.02", "1", 0.02), ("125 %", "%", 125.0), ("125", "%", 125.0),
    ("-5 V", "V", -5.0), ("\u22125 V", "V", -5.0), ("+5 V", "V", 5.0), ("1e3", "ohm", 1000.0),
    ("1.234", "V", 1.234), ("1,234", "V", 1.234),
])
def test_a_quantity_is_read_in_the_unit_of_its_field(text: str, unit: str, value: float) -> None:
    assert parse_quantity(text, unit) == pytest.approx(value)


@pytest.mark.parametrize(("text", "ohms"), [
    ("3k2", 3200.0), ("4K7", 4700.0), ("4R7", 4.7), ("R47", 0.47), ("1M5", 1.5e6), ("k33", 330.0),
    ("10R0", 10.0), ("3k2 ohm", 3200.0), ("3k2Ω", 3200.0), ("4m7", 0.0047),
])
def test_a_letter_stands_for_the_decimal_mark(text: str, ohms: float) -> None:
    """IEC 60062: the letter R, k, M ... takes the place of the decimal mark."""
    assert parse_quantity(text, "ohm") == pytest.approx(ohms)


@pytest.mark.parametrize(("text", "unit"), [
    ("", "V"), (" ", "V"), ("V", "V"), ("ten", "V"), ("10 A", "V"), ("10 V", "ohm"), ("1 000", "V"),
    ("1_000", "V"), ("0x1F", "V"), ("1.2.3", "V"), ("5 s", "V"), ("4k7", "V"), ("m7", "ohm"),
    ("1e999", "ohm"), ("nan", "V"), ("inf", "V"), ("12:30", "s"), ("2 V", "1"), ("1" * 50, "V"),
    ("٣ V", "V"), ("--5", "V"),
])
def test_what_is_no_quantity_is_an_error_with_a_way_out(text: str, unit: str) -> None:
    with pytest.raises(QuantityError) as caught:
        parse_quantity(text, unit)
    assert caught.value.way_out


@pytest.mark.parametrize(("text", "unit", "ends"), [
    ("0.3 .. 0.6 mm", "mm", (0.3, 0.6)), ("0.3 mm .. 0.6 mm", "mm", (0.3, 0.6)),
    ("0,3..0,6", "mm", (0.3, 0.6)), ("1 .. 2 kohm", "ohm", (1000.0, 2000.0)),
    ("900 ohm .. 2 kohm", "ohm", (900.0, 2000.0)), ("5 V", "V", (5.0, 5.0)),
    ("-5 .. 5 V", "V", (-5.0, 5.0)), ("0 .. 0", "V", (0.0, 0.0)),
])
def test_a_range_has_two_ends(text: str, unit: str, ends: tuple[float, float]) -> None:
    assert parse_range(text, unit) == pytest.approx(ends)


@pytest.mark.parametrize("text", ["0.6 .. 0.3", "..", "1 ..", ".. 1", "1 .. 2 .. 3", "1 - 2"])
def test_a_range_that_is_none_is_an_error(text: str) -> None:
    with pytest.raises(QuantityError):
        parse_range(text, "mm")


@pytest.mark.parametrize(("value", "unit", "text"), [
    (110.0, "V", "110 V"), (0.0, "V", "0 V"), (0.05, "V", "50 mV"), (-24.5, "V", "-24.5 V"),
    (3200.0, "ohm", "3.2 kΩ"), (999.6, "ohm", "1 kΩ"), (0.05, "ohm", "0.05 Ω"),
    (2.2e6, "ohm", "2.2 MΩ"), (math.inf, "ohm", "OL"), (0.012, "A", "12 mA"), (2.0, "A", "2 A"),
    (0.3, "s", "0.3 s"), (0.015, "s", "15 ms"), (8.0, "min", "8 min"), (0.4, "mm", "0.4 mm"),
    (50.0, "Hz", "50 Hz"), (0.5, "1", "0.5"), (math.nan, "V", "-"), (1.5, "mm2", "1.5 mm2"),
    (125.0, "%", "125 %"), (1234567.0, "mm", "1230000 mm"),
])
def test_a_value_is_shown_with_its_unit(value: float, unit: str, text: str) -> None:
    assert show(value, unit) == text


@given(st.sampled_from(sorted(UNITS)),
       st.floats(1e-3, 1e8) | st.floats(-1e8, -1e-3) | st.just(0.0), st.integers(3, 5))
def test_what_is_shown_is_read_back_as_it_was(unit: str, value: float, digits: int) -> None:
    assert parse_quantity(show(value, unit, digits), unit) == pytest.approx(value, rel=0.006)


@given(st.sampled_from(sorted(UNITS)), st.text() | st.text("0123456789.,-+ kMmuVAΩohmR%s<>eE"))
def test_no_text_raises_anything_but_an_error_of_the_author(unit: str, text: str) -> None:
    for parse in (parse_quantity, parse_range):
        try:
            result = parse(text, unit)
        except QuantityError:
            continue
        ends = result if isinstance(result, tuple) else (result,)
        assert all(math.isfinite(end) for end in ends)


def test_every_unit_can_be_both_read_and_shown() -> None:
    assert set(SCALES) == set(UNITS)
