"""Quantities for screens and reports: `110 V`, `3.2 kΩ`, `12 mA`, `OL`."""

import math

SCALES: dict[str, tuple[tuple[float, str], ...]] = {
    "V": ((1e6, "MV"), (1e3, "kV"), (0.1, "V"), (1e-4, "mV"), (0.0, "uV")),
    "A": ((1e3, "kA"), (1.0, "A"), (1e-4, "mA"), (0.0, "uA")),
    "ohm": ((1e9, "GΩ"), (1e6, "MΩ"), (1e3, "kΩ"), (0.01, "Ω"), (0.0, "mΩ")),
    "W": ((1e6, "MW"), (1e3, "kW"), (0.1, "W"), (0.0, "mW")),
    "VA": ((1e3, "kVA"), (0.0, "VA")),
    "Hz": ((1e6, "MHz"), (1e3, "kHz"), (0.0, "Hz")),
    "s": ((0.1, "s"), (1e-4, "ms"), (0.0, "us")),
    "min": ((0.0, "min"),),
    "m": ((1.0, "m"), (0.0, "mm")),
    "mm": ((0.0, "mm"),),
    "mm2": ((0.0, "mm2"),),
    "%": ((0.0, "%"),),
    "1": ((0.0, ""),),
}
"""Unit -> (from this size on, written so), largest first."""

_WORTH = {"G": 1e9, "M": 1e6, "k": 1e3, "m": 1e-3, "u": 1e-6}


def significant(value: float, digits: int) -> float:
    """Rounded to so many significant digits."""
    if value == 0.0 or not math.isfinite(value):
        return value
    return float(f"{value:.{digits - 1}e}")


def show(value: float, unit: str, digits: int = 3) -> str:
    """Text of a value given in `unit`, to `digits` significant digits; infinity is `OL`."""
    if math.isinf(value):
        return "OL"
    if math.isnan(value):
        return "-"
    rounded = significant(value, digits)
    size = abs(rounded)
    smallest, symbol = next(scale for scale in SCALES[unit] if size >= scale[0])
    if size == 0.0:
        symbol = "Ω" if unit == "ohm" else ("" if unit == "1" else unit)
    elif smallest or symbol[:1] in _WORTH:
        rounded = rounded / _factor(symbol, unit)
    return f"{_plain(rounded, digits)} {symbol}".strip()


def _factor(symbol: str, unit: str) -> float:
    base = {"ohm": "Ω"}.get(unit, unit)
    return 1.0 if symbol == base else _WORTH[symbol[0]]


def _plain(number: float, digits: int) -> str:
    """Shortest decimal text; never three decimals after a whole number, which reads two ways."""
    number = significant(number, digits)
    text = f"{number:.12f}".rstrip("0").rstrip(".")
    whole, _, part = text.partition(".")
    if len(part) == 3 and whole.lstrip("-") != "0":
        text = f"{number:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text
