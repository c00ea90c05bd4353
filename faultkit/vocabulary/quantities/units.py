"""Which spellings of a unit are understood, and what each is worth.

A unit is named as in the device tables: `V`, `A`, `ohm`, `s`, `min`, `m`, `mm`, `mm2`, `W`,
`VA`, `Hz`, `%` (a number of percent) and `1` (a share; `3 %` is 0.03).
"""

PREFIXES = {"": 1.0, "k": 1e3, "K": 1e3, "M": 1e6, "G": 1e9, "m": 1e-3, "u": 1e-6, "n": 1e-9}
"""SI prefixes; the micro sign is folded to `u` before they are looked up. A capital K is what
many meters and hands write for kilo."""


def _prefixed(*symbols: str, bare: bool = False) -> dict[str, float]:
    table = {prefix + symbol: factor for symbol in symbols
             for prefix, factor in PREFIXES.items()}
    if bare:
        table |= {prefix: factor for prefix, factor in PREFIXES.items() if prefix}
    return table


UNITS: dict[str, dict[str, float]] = {
    "V": _prefixed("V", "v", bare=True),
    "A": _prefixed("A", "a", bare=True),
    "ohm": _prefixed("ohm", "Ohm", "OHM", "ohms", "Ohms", "Ω", "R", bare=True),
    "W": _prefixed("W", bare=True),
    "VA": _prefixed("VA", bare=True),
    "Hz": _prefixed("Hz", "hz", "HZ", bare=True),
    "s": {"s": 1.0, "sec": 1.0, "S": 1.0, "ms": 1e-3, "us": 1e-6, "min": 60.0, "h": 3600.0},
    "min": {"min": 1.0, "s": 1 / 60, "h": 60.0},
    "m": {"m": 1.0, "mm": 1e-3, "cm": 1e-2, "km": 1e3},
    "mm": {"mm": 1.0, "um": 1e-3, "cm": 10.0, "m": 1e3},
    "mm2": {"mm2": 1.0, "mm²": 1.0},
    "%": {"%": 1.0},
    "1": {"%": 1e-2},
}
"""Unit of a field -> spelling -> factor to that unit. A bare number is in the unit itself."""

NAMES = {
    "V": "a voltage in V", "A": "a current in A or mA", "ohm": "a resistance in ohm or kohm",
    "W": "a power in W", "VA": "a power in VA", "Hz": "a frequency in Hz", "s": "a time in s",
    "min": "a time in min", "m": "a length in m", "mm": "a length in mm",
    "mm2": "a cross-section in mm2", "%": "a number of percent", "1": "a plain number or percent",
}
"""How a unit is asked for in a message."""

KINDS_OF_CURRENT = {"AC": "AC", "DC": "DC", "ac": "AC", "dc": "DC", "~": "AC", "=": "DC"}
"""What may follow a voltage or a current, and what it means."""


def split_kind_of_current(symbol: str) -> tuple[str, str]:
    """Split `V AC`, `VAC`, `V~` into the unit and `AC`, `DC` or nothing."""
    for ending, kind in KINDS_OF_CURRENT.items():
        if symbol.endswith(ending):
            head = symbol[: -len(ending)].rstrip()
            if head[-1:] in {"V", "v", "A", "a"}:
                return head, kind
    return symbol, ""


def other_unit(symbol: str) -> str:
    """Name of the unit that a spelling belongs to, or nothing. Bare prefixes name no unit."""
    if symbol in PREFIXES:
        return ""
    return next((unit for unit, table in UNITS.items() if symbol in table), "")
