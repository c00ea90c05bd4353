"""Quantities as an author writes them: a number, a unit, a range.

A decimal comma is a decimal comma. Letter codes such as `3k2` follow IEC 60062.
"""

import math
import re
import unicodedata

from faultkit.errors import QuantityError
from faultkit.vocabulary.quantities.units import (
    NAMES,
    PREFIXES,
    UNITS,
    other_unit,
    split_kind_of_current,
)

LONGEST = 40
"""Characters; a longer text is not a quantity."""

_MINUS = dict.fromkeys(map(ord, "\u2212\u2013\u2012\u2010\u2011\ufe63\uff0d"), "-")
_NUMBER = re.compile(r"[-+]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][-+]?[0-9]{1,3})?")
_CODE = re.compile(r"([0-9]*)([RkKMGm])([0-9]+)")


def fold(text: str) -> str:
    """Fold look-alike signs: minus and dash, micro, ohm sign, no-break blank, wide digits."""
    folded = unicodedata.normalize("NFKC", text).translate(_MINUS)
    return folded.replace("\u03bc", "u").replace("\u03a9", "Ω").strip()


def to_float(digits: str) -> float:
    """Number with a decimal point or comma as float; inf where it is too large."""
    return float(digits.replace(",", "."))


def letter_code(text: str) -> float | None:
    """Resistance in ohm of an IEC 60062 code such as `4k7`, `R47` or `1M5`, or None."""
    match = _CODE.fullmatch(text)
    if match is None:
        return None
    whole, letter, part = match.groups()
    if not whole and letter == "m":
        return None
    factor = 1.0 if letter == "R" else PREFIXES[letter]
    return float(f"{whole or '0'}.{part}") * factor


def split_number(text: str) -> tuple[str, str] | None:
    """Split a folded text into its number and what follows, or None if no number leads."""
    match = _NUMBER.match(text)
    return None if match is None else (match.group(), text[match.end():].strip())


def parse_quantity(text: str, unit: str) -> float:
    """Value of a quantity in `unit` (one of `UNITS`).

    `110 V`, `3.2 kohm`, `3k2`, `0,3 s`, `8 min`; a bare number is in `unit`; for the unit `1`
    a percentage becomes a share.

    Raises
    ------
    QuantityError
        If it is no number, or its unit does not fit.
    """
    folded = fold(text)
    wanted = NAMES[unit]
    if not folded:
        raise QuantityError(f"Here {wanted} is missing.", "Write the number and its unit.")
    if len(folded) > LONGEST:
        raise QuantityError(f"{folded[:20]!r}... is too long for {wanted}.",
                            "Write the number and its unit only.")
    if unit == "ohm":
        sign = -1.0 if folded.startswith("-") else 1.0
        head = folded.lstrip("-").removesuffix("ohm").removesuffix("Ω").rstrip()
        code = letter_code(head)
        if code is not None:
            return sign * code
    parts = split_number(folded)
    if parts is None:
        raise QuantityError(f"{folded!r} is not {wanted}.", "Write the number and its unit.")
    value = to_float(parts[0]) * _factor(parts[1], unit, folded)
    if not math.isfinite(value):
        raise QuantityError(f"{folded!r} is too large.", "Write a number that can be measured.")
    return value


def _factor(symbol: str, unit: str, whole: str) -> float:
    """What the spelling after the number is worth in `unit`."""
    table = UNITS[unit]
    symbol = split_kind_of_current(symbol)[0] if unit in {"V", "A"} else symbol
    if not symbol:
        return 1.0
    if symbol in table:
        return table[symbol]
    other = other_unit(symbol)
    if other:
        raise QuantityError(f"{whole!r} is {NAMES[other]}; here {NAMES[unit]} is wanted.",
                            "Check which field it belongs to.")
    known = ", ".join(list(table)[:4])
    raise QuantityError(f"{symbol!r} in {whole!r} is not a unit of {NAMES[unit]}.",
                        f"Write one of: {known} ..., or the bare number." if known
                        else "Write the bare number.")


def parse_range(text: str, unit: str) -> tuple[float, float]:
    """Low and high end, in `unit`, of `0.3 .. 0.6 mm`, or of a single quantity (both the same).

    The low end may leave out the unit: it then has that of the high end.

    Raises
    ------
    QuantityError
        If an end is no quantity, or the low end lies above the high one.
    """
    low_text, dots, high_text = text.partition("..")
    if not dots:
        value = parse_quantity(text, unit)
        return value, value
    high = parse_quantity(high_text, unit)
    folded = fold(low_text)
    parts = split_number(folded)
    if parts is not None and not parts[1]:
        behind = split_number(fold(high_text))
        folded = f"{folded} {behind[1]}" if behind is not None else folded
    low = parse_quantity(folded, unit)
    if low > high:
        raise QuantityError(f"The range {text.strip()!r} runs backwards.",
                            "Write the smaller value first.")
    return low, high
