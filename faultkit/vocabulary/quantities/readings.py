"""What an electrician types after a measurement, and the echo of what was understood.

Readings are stored in the meter's SI unit: V, A, ohm, s, Hz; millimetres stay millimetres.
A bare number typed for `mA` is in mA, for `Mohm` in megohm. A reading that can be meant two
ways is asked about, one that cannot be is refused; nothing is guessed.
"""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

from faultkit.errors import QuantityError, ReadingError
from faultkit.vocabulary.diagnosis import Meter, Reading
from faultkit.vocabulary.quantities.numbers import LONGEST, fold, letter_code, parse_quantity
from faultkit.vocabulary.quantities.showing import show
from faultkit.vocabulary.quantities.units import NAMES, other_unit, split_kind_of_current

_OVERLOAD = re.compile(r"(?:[oO0]\.?[lL]\.?|inf|infinity|∞|1\s*\.\s*---)", re.IGNORECASE)
_GROUPED = re.compile(r"[-+]?[0-9]{1,3}(?:(?:\.[0-9]{3})+,[0-9]+|(?:,[0-9]{3})+\.[0-9]+"
                      r"|(?:\.[0-9]{3}){2,}|(?:,[0-9]{3}){2,})(?![0-9.,])")
_TWO_WAYS = re.compile(r"([-+]?[1-9][0-9]{0,2})([.,])([0-9]{3})(?![0-9.,eE])")


@dataclass(frozen=True, slots=True)
class Scale:
    """What a meter can show."""

    unit: str
    """SI unit of the stored value."""
    typed: float
    """Worth of a bare typed number in that unit."""
    low: float
    high: float
    why_low: str
    why_high: str
    overload: bool
    """True where `OL` is a reading."""
    kind: str = ""
    """`AC` or `DC` where the meter is switched to one."""


_NEGATIVE_OHMS = "A resistance cannot be negative: voltage is present or the leads are loose."
_NEGATIVE_AC = "An AC voltage has no sign; a sign shows that the meter stands on DC."
_TOO_HIGH = "There is no such voltage in a hoist control panel."


def _volts(kind: str) -> Scale:
    if kind == "AC":
        return Scale("V", 1.0, 0.0, 1000.0, _NEGATIVE_AC, _TOO_HIGH, overload=False, kind=kind)
    return Scale("V", 1.0, -1500.0, 1500.0, _TOO_HIGH, _TOO_HIGH, overload=False, kind=kind)


SCALES: dict[str, Scale] = {
    "V AC": _volts("AC"), "V AC low": _volts("AC"),
    "V DC": _volts("DC"), "V DC low": _volts("DC"),
    "ohm": Scale("ohm", 1.0, 0.0, 1e9, _NEGATIVE_OHMS,
                 "No multimeter shows so much: it would show OL.", overload=True),
    "Mohm": Scale("ohm", 1e6, 0.0, 1e12, _NEGATIVE_OHMS,
                  "No insulation tester shows so much: it would show OL.", overload=True),
    "mA": Scale("A", 1e-3, -10.0, 10.0, "A multimeter cannot carry so much current.",
                "A multimeter cannot carry so much current.", overload=False),
    "clamp A": Scale("A", 1.0, 0.0, 2000.0, "A clamp shows no sign on AC.",
                     "There is no such current in a hoist control panel.", overload=False),
    "seconds": Scale("s", 1.0, 0.0, 3600.0, "A time cannot be negative.",
                     "Nobody waits that long: type OL if it never happened.", overload=True),
    "mm": Scale("mm", 1.0, 0.0, 10000.0, "A length cannot be negative.",
                "That is too long to be right.", overload=False),
    "Hz": Scale("Hz", 1.0, 0.0, 100000.0, "A frequency cannot be negative.",
                "That is too high for a hoist control panel.", overload=False),
}
"""Meter -> what it can show. 1000 V AC and 1500 V DC bound low voltage (IEC 60038)."""


def parse_reading(text: str, meter: Meter, words: Sequence[str] = ()) -> Reading:
    """Reading that a typed text stands for.

    Words match by their beginning, whatever the case. Numbers may carry a decimal comma, a
    prefix, a unit, an IEC 60062 letter; `OL` and `>10M` are an overload.

    Raises
    ------
    ReadingError
        With a question or a way out, if the text is not understood, can be meant two ways,
        does not fit the meter, or cannot be.
    """
    folded = fold(text)
    if not folded:
        raise ReadingError("Nothing was typed.", "Type what the meter shows.")
    if len(folded) > LONGEST:
        raise ReadingError("That is too long for a reading.", "Type only what the meter shows.")
    if meter == "words":
        return Reading(None, _word(folded, words))
    scale = SCALES[meter]
    if _OVERLOAD.fullmatch(folded) or (meter == "seconds" and folded.lower() == "never"):
        return _overload(scale)
    if folded[0] in "<>≥≤~":
        return _beyond(folded, meter, scale)
    value = _number(folded, meter, scale)
    _possible(value, folded, scale)
    return Reading(value)


LAST_DIGIT = {"V": 1e-4, "A": 1e-6, "ohm": 1e-3, "s": 1e-3}
"""Unit -> smallest value that a meter still shows; less than that is zero."""


def show_reading(reading: Reading, meter: Meter) -> str:
    """Echo of a reading with its unit, to four digits: `24.5 V DC`, `OL`, `drops again`."""
    if reading.value is None:
        return reading.word
    scale = SCALES[meter]
    value = 0.0 if abs(reading.value) < LAST_DIGIT.get(scale.unit, 0.0) else reading.value
    text = show(value, scale.unit, digits=4)
    return f"{text} {scale.kind}" if scale.kind else text


def _word(typed: str, words: Sequence[str]) -> str:
    """The one word that is meant."""
    wanted = " ".join(typed.casefold().split())
    choice = ", ".join(words)
    exact = [word for word in words if word.casefold() == wanted]
    if exact:
        return exact[0]
    fits = [word for word in words if word.casefold().startswith(wanted)]
    if len(fits) == 1:
        return fits[0]
    if fits:
        raise ReadingError(f"{typed!r} can be {_either(fits)}.", "Which one? Type more of it.")
    raise ReadingError(f"{typed!r} is not one of the words of this test.",
                       f"Type one of: {choice}.")


def _either(words: Sequence[str]) -> str:
    return " or ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else words[0]


def _overload(scale: Scale) -> Reading:
    if not scale.overload:
        raise ReadingError("OL on this range means that the meter stands on too small a range.",
                           "Choose the next higher range and measure again.")
    return Reading(math.inf)


def _beyond(folded: str, meter: Meter, scale: Scale) -> Reading:
    """`>10M` on a resistance range is what the meter cannot show any more."""
    if folded[0] in ">≥" and scale.unit == "ohm":
        value = _number(folded[1:].lstrip("= "), meter, scale)
        if value >= 1e6:
            return Reading(math.inf)
    raise ReadingError(f"{folded!r} is not a number on a meter.",
                       "Type the number that it shows, or OL when it shows an overload.")


def _number(folded: str, meter: Meter, scale: Scale) -> float:
    """Value in the SI unit of the meter."""
    grouped = _GROUPED.match(folded)
    if grouped is not None:
        number = grouped.group()
        mark = max(number.rfind("."), number.rfind(","))
        single = number.count(number[mark]) == 1
        whole, part = (number[:mark], number[mark + 1:]) if single else (number, "")
        folded = re.sub(r"[.,]", "", whole) + ("." + part if part else "") + folded[grouped.end():]
    else:
        _ask_when_two_ways(folded)
    bare = re.fullmatch(r"[-+0-9.,]+(?:[eE][-+]?[0-9]+)?", folded) is not None
    _fits_the_meter(folded, meter, scale)
    try:
        value = parse_quantity(folded, scale.unit)
    except QuantityError as error:
        raise ReadingError(f"{folded!r} is not understood as {NAMES[scale.unit]}.",
                           "Type the number that the meter shows, such as 24.5 or 24,5"
                           + (", or OL." if scale.overload else ".")) from error
    return value * scale.typed if bare else value


def _ask_when_two_ways(folded: str) -> None:
    """`1.234` is one and a bit to some and more than a thousand to others."""
    match = _TWO_WAYS.match(folded)
    if match is None or letter_code(folded) is not None:
        return
    whole, mark, part = match.groups()
    rest = folded[match.end():]
    raise ReadingError(
        f"Is {folded!r} {whole}{part}{rest}, or {whole} and a part?",
        f"Type {whole}{part}{rest} or {whole}{mark}{part}0{rest}.")


def _fits_the_meter(folded: str, meter: Meter, scale: Scale) -> None:
    """A unit that was typed must be one of this meter."""
    symbol = re.sub(r"^[-+0-9.,\s]+(?:[eE][-+]?[0-9]+)?", "", folded)
    symbol, kind = split_kind_of_current(symbol)
    if kind and scale.kind and kind != scale.kind:
        raise ReadingError(f"{folded!r} is {kind}, but this test is made on {meter}.",
                           f"Switch the meter to {scale.kind} and measure again.")
    other = other_unit(symbol)
    if other and other != scale.unit and symbol not in {"min", "h"} and not (
            scale.unit == "mm" and other == "m"):
        raise ReadingError(f"{folded!r} is {NAMES[other]}, but this test is read in {meter}.",
                           "Check the meter and the test, then type what it shows.")


def _possible(value: float, folded: str, scale: Scale) -> None:
    if value < scale.low:
        raise ReadingError(f"{folded!r} cannot be. {scale.why_low}",
                           "Check the meter and type it again.")
    if value > scale.high:
        raise ReadingError(f"{folded!r} cannot be. {scale.why_high}",
                           "Check the unit and type it again.")
