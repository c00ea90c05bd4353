"""How far readings of one meter scatter around what is computed.

The spread joins the meter's accuracy, the tolerance of components and the last digit. Figures
are usual for industrial multimeters and coils (common practice, no source; coil resistance
+-10 % at 20 C taken as two standard deviations).
"""

from math import hypot, inf, isfinite, nan

RELATIVE = {"V AC": 0.025, "V DC": 0.025, "V AC low": 0.03, "V DC low": 0.03, "ohm": 0.06,
            "mA": 0.02, "clamp A": 0.04, "Mohm": 0.3, "seconds": 0.08, "mm": 0.05, "Hz": 0.01}
"""Standard deviation as a share of the reading."""
LEAST = {"V AC": 0.3, "V DC": 0.1, "V AC low": 0.3, "V DC low": 0.1, "ohm": 0.25, "mA": 5e-5,
         "clamp A": 0.02, "Mohm": 2e4, "seconds": 0.04, "mm": 0.03, "Hz": 0.1}
"""Smallest standard deviation, in the SI unit of the meter (lead resistance, last digit)."""
LIVE_CHATTER = 0.4
"""Share of the reading by which it jumps while a relay chatters."""
WORD_SLIP = 0.02
"""Probability that a look at the machine gives another word than the true one."""


INSULATING = 2e6
"""Ohms from which on a multimeter measures the insulation, the damp and the fingers of this day
and not the wiring: the table says OL. An insulation tester (`Mohm`) is made for such values and
keeps them (common practice, no source)."""
GHOST = 25.0
"""Standard deviation in V of a point that hangs in the air, on a 10 Mohm meter for alternating
voltage: cores beside it couple 5 to 80 V into it (common practice, no source)."""
HANGS = 1e5
"""Ohms behind a voltage from which the point counts as hanging in the air."""


def relied_on(meter: str, value: float) -> float:
    """Return the reading that can be relied on: OL for what is mere insulation on an ohmmeter."""
    return inf if meter == "ohm" and value >= INSULATING else value


def spread(meter: str, value: float, *, chatters: bool = False, inner: float = 0.0) -> float:
    """Return the standard deviation of a reading in the meter's SI unit.

    Parameters
    ----------
    meter : str
        Meter of the test.
    value : float
        Expected reading; inf (OL) and nan (a word) give the smallest deviation.
    chatters : bool
        True if some relay chatters, so that the reading never stands still.
    inner : float
        Ohms behind a voltage.
    """
    least = LEAST.get(meter, nan)
    if not isfinite(value):
        return least if least == least else 1.0
    share = RELATIVE[meter] + (LIVE_CHATTER if chatters else 0.0)
    ghost = GHOST if meter == "V AC" and inner > HANGS else 0.0
    return hypot(share * abs(value), least, ghost)
