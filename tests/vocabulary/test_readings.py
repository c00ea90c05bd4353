"""Readings as electricians type them."""

import math
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.errors import ReadingError
from faultkit.vocabulary.diagnosis import Meter, Reading
from faultkit.vocabulary.quantities import parse_reading, show_reading
from faultkit.vocabulary.quantities.readings import LAST_DIGIT, SCALES

METERS: tuple[Meter, ...] = get_args(Meter)
WORDS = ("in", "out", "drops again", "chatters")


@pytest.mark.parametrize(("text", "meter", "value"), [
    ("24,5", "V DC", 24.5), ("24.5", "V DC", 24.5), ("-24,5", "V DC", -24.5),
    ("\u221224,5", "V DC", -24.5), ("230 V", "V AC", 230.0), ("230 v ac", "V AC", 230.0),
    ("0", "V AC", 0.0), (" 110 ", "V AC low", 110.0), ("24 V", "V DC low", 24.0),
    ("1,2k", "ohm", 1200.0), ("4k7", "ohm", 4700.0), ("0.5", "ohm", 0.5), (".5", "ohm", 0.5),
    ("3 Ohm", "ohm", 3.0), ("2,2 MΩ", "ohm", 2.2e6), ("0,123", "ohm", 0.123),
    ("12", "mA", 0.012), ("12 mA", "mA", 0.012), ("0.012 A", "mA", 0.012), ("4,0", "mA", 0.004),
    ("1.5", "clamp A", 1.5), ("350 mA", "clamp A", 0.35),
    ("12", "Mohm", 12e6), ("0,5", "Mohm", 5e5), ("500 kohm", "Mohm", 5e5),
    ("12 Mohm", "Mohm", 12e6),
    ("0,3", "seconds", 0.3), ("300 ms", "seconds", 0.3), ("2 min", "seconds", 120.0),
    ("0,4", "mm", 0.4), ("0.4 mm", "mm", 0.4), ("50", "Hz", 50.0), ("1.234,5", "ohm", 1234.5),
    ("1,234.5", "ohm", 1234.5), ("12.345.678", "ohm", 12345678.0),
    ("1234", "ohm", 1234.0), ("1.2340", "ohm", 1.234), ("0.234", "ohm", 0.234),
])
def test_a_number_is_stored_in_the_si_unit_of_the_meter(
        text: str, meter: Meter, value: float) -> None:
    reading = parse_reading(text, meter)
    assert reading.value == pytest.approx(value)


@pytest.mark.parametrize("text", ["OL", "ol", "O.L", "0L", "0.L", "∞", "inf", ">10M", "> 40 Mohm"])
def test_an_overload_of_an_ohmmeter_is_a_reading(text: str) -> None:
    assert parse_reading(text, "ohm") == Reading(math.inf)


@pytest.mark.parametrize("text", [">550", "> 550 Mohm", "OL"])
def test_an_insulation_tester_has_an_overload_too(text: str) -> None:
    assert parse_reading(text, "Mohm") == Reading(math.inf)


def test_what_never_happened_is_an_overload_of_time() -> None:
    assert parse_reading("never", "seconds") == parse_reading("OL", "seconds") == Reading(math.inf)


@pytest.mark.parametrize(("text", "first", "second"), [
    ("1.234", "1234", "1.2340"), ("1,234", "1234", "1,2340"), ("-1.234", "-1234", "-1.2340"),
    ("12.345", "12345", "12.3450"), ("1.234 k", "1234 k", "1.2340 k"), ("123,456", "123456",
                                                                        "123,4560"),
])
def test_three_digits_after_the_mark_are_asked_about(text: str, first: str, second: str) -> None:
    with pytest.raises(ReadingError) as caught:
        parse_reading(text, "V DC")
    assert caught.value.title.endswith("?")
    assert first in caught.value.way_out
    assert second in caught.value.way_out


@pytest.mark.parametrize(("text", "meter"), [
    ("-3", "ohm"), ("-3", "Mohm"), ("-230", "V AC"), ("-230", "V AC low"), ("4000", "V AC"),
    ("4000", "V DC"), ("-4000", "V DC"), ("4 kV", "V AC"), ("-1", "seconds"), ("-0.1", "mm"),
    ("-50", "Hz"), ("-2", "clamp A"), ("20000", "mA"), ("99999", "clamp A"), ("99 h", "seconds"),
    ("OL", "V AC"), ("OL", "mA"), ("OL", "mm"), ("230 V", "ohm"), ("12 mA", "V DC"),
    ("4 ohm", "mA"),
    ("24 V DC", "V AC"), ("230 V AC", "V DC"), ("3 s", "mm"), (">10", "ohm"), (">10M", "V AC"),
    ("<0.1", "ohm"), ("", "ohm"), ("  ", "V AC"), ("ten", "V AC"), ("1.2.3", "V AC"),
    ("1,2,3", "V AC"), ("5 V", "seconds"), ("9" * 99, "ohm"), ("1e99", "ohm"), ("-", "ohm"),
])
def test_what_cannot_be_is_refused_with_a_way_out(text: str, meter: Meter) -> None:
    with pytest.raises(ReadingError) as caught:
        parse_reading(text, meter)
    assert caught.value.title
    assert caught.value.way_out


@pytest.mark.parametrize(("text", "word"), [
    ("in", "in"), ("IN", "in"), ("i", "in"), ("Out", "out"), ("drops", "drops again"),
    (" drops  again ", "drops again"), ("CH", "chatters"),
])
def test_a_word_is_found_by_its_beginning(text: str, word: str) -> None:
    assert parse_reading(text, "words", WORDS) == Reading(None, word)


def test_a_whole_word_wins_over_a_longer_one() -> None:
    assert parse_reading("up", "words", ("up slow", "up", "up fast")) == Reading(None, "up")


def test_a_beginning_of_several_words_is_asked_about() -> None:
    with pytest.raises(ReadingError, match="'up' can be up slow or up fast") as caught:
        parse_reading("up", "words", ("up slow", "up fast", "down"))
    assert "Which one?" in caught.value.way_out


@pytest.mark.parametrize("text", ["x", "5", "OL", "inn"])
def test_an_unknown_word_is_answered_with_those_there_are(text: str) -> None:
    with pytest.raises(ReadingError) as caught:
        parse_reading(text, "words", WORDS)
    assert "drops again" in caught.value.way_out


@pytest.mark.parametrize(("text", "meter", "echo"), [
    ("24,5", "V DC", "24.5 V DC"), ("230", "V AC low", "230 V AC"), ("4k7", "ohm", "4.7 kΩ"),
    ("OL", "ohm", "OL"), ("12", "mA", "12 mA"), ("229,7", "V AC", "229.7 V AC"),
    ("12", "Mohm", "12 MΩ"), ("0,4", "mm", "0.4 mm"), ("0.3", "seconds", "0.3 s"),
])
def test_what_was_understood_is_echoed(text: str, meter: Meter, echo: str) -> None:
    assert show_reading(parse_reading(text, meter), meter) == echo


@given(st.sampled_from(sorted(SCALES)), st.floats(0.0, 1.0))
def test_an_echo_typed_again_is_the_same_reading(meter: Meter, share: float) -> None:
    value = round(share * SCALES[meter].high, 6) if meter != "Mohm" else share * 1e9
    again = parse_reading(show_reading(Reading(value), meter), meter).value
    # less than the last digit of a meter is echoed as zero
    assert again == pytest.approx(value, rel=0.006, abs=LAST_DIGIT.get(SCALES[meter].unit, 1e-9))


def test_less_than_the_last_digit_is_echoed_as_zero() -> None:
    assert show_reading(Reading(3e-7), "V DC") == "0 V DC"
    assert show_reading(Reading(3e-4), "V DC") == "0.3 mV DC"


@given(st.sampled_from(METERS), st.text() | st.text("0123456789.,-+ kMmuVAΩohmRL%s<>eEoO"))
def test_no_text_raises_anything_but_a_reading_error(meter: Meter, text: str) -> None:
    try:
        reading = parse_reading(text, meter, WORDS)
    except ReadingError:
        return
    assert show_reading(reading, meter)
    assert (reading.value is None) == (meter == "words")
    assert reading.value is None or reading.value == math.inf or math.isfinite(reading.value)


@given(st.text(), st.lists(st.text(), max_size=4))
def test_no_list_of_words_breaks_the_parser(text: str, words: list[str]) -> None:
    try:
        word = parse_reading(text, "words", words).word
    except ReadingError:
        return
    assert word in words


def test_every_meter_but_words_has_a_scale() -> None:
    assert set(SCALES) == set(METERS) - {"words"}
