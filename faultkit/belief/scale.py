"""What a meter may show at all: the density of a wrong or unforeseen reading."""

from dataclasses import dataclass

import numpy as np

from faultkit.prediction.table import Floats
from faultkit.vocabulary.diagnosis import Meter, Reading

OHMS: tuple[Meter, ...] = ("ohm", "Mohm")
"""Meters whose readings spread over decades."""
LIMIT: dict[Meter, float] = {"ohm": 4e7, "Mohm": 2e9}
"""Where these meters go over to OL, ohm (common practice, no source)."""
OL_BLUR = 0.15
"""Decades over which different meters go over to OL."""
OL_SEEN_AS_NUMBER = 0.3
"""Probability that an expected OL shows as a large number instead: damp, fingers, meter
(common practice, no source)."""
LARGE = 40.0
"""Such a number lies within this factor below the limit."""


@dataclass(frozen=True, slots=True)
class Scale:
    """The range of one test, over everything that is predicted for it."""

    meter: Meter
    low: float
    high: float
    """Range of finite readings, in the meter's SI unit; high > low."""
    finest: float
    """Smallest spread predicted; the knee of a scale in decades."""
    off: float
    """Probability that a wrong reading is OL."""
    words: tuple[str, ...]


def scale_of(meter: Meter, value: Floats, sigma: Floats, words: tuple[str, ...]) -> Scale:
    """Scale of one test from its column: `value` and `sigma` of shape (V,)."""
    finite = value[np.isfinite(value)]
    finest = float(sigma[np.isfinite(sigma)].min()) if np.isfinite(sigma).any() else 1.0
    if words or finite.size == 0:
        finite = np.array([0.0, LIMIT.get(meter, 1.0)])
    reach = float(np.ptp(finite))
    margin = max(0.2 * reach, 0.2 * float(np.abs(finite).max()), 5.0 * finest)
    high = float(finite.max()) + margin
    if meter in OHMS:
        return Scale(meter, 0.0, max(high, LIMIT[meter]), max(finest, 0.05), 0.3, words)
    low = float(finite.min()) - margin
    off = 0.3 if np.isinf(value).any() else 0.01
    return Scale(meter, low, high, finest, off, words)


def broad(scale: Scale, reading: Reading) -> float:
    """Density of a reading of which nothing is known; a probability for OL and for words.

    Uniform over the range of volts, amperes, seconds and millimetres; uniform over decades
    for ohms. Readings outside the range keep the same small density, so that nothing is
    impossible.
    """
    if reading.value is None:
        return 1.0 / max(len(scale.words), 1)
    if np.isinf(reading.value):
        return scale.off
    if scale.meter in OHMS:
        decades = np.log((scale.high + scale.finest) / scale.finest)
        return float((1.0 - scale.off) / (decades * (abs(reading.value) + scale.finest)))
    return (1.0 - scale.off) / (scale.high - scale.low)


def off_scale(scale: Scale, value: Floats) -> Floats:
    """Probability that OL is shown where `value` is to be read, same shape.

    1 for an expected OL (less the chance that it shows as a number), 0 far below the limit,
    blurred around it.
    """
    if scale.meter not in OHMS:
        return np.isinf(value).astype(np.float64)
    finite = np.where(np.isfinite(value), np.abs(value), LIMIT[scale.meter])
    decades = np.log10(np.maximum(finite, scale.finest) / LIMIT[scale.meter]) / OL_BLUR
    shown = 1.0 / (1.0 + np.exp(-decades))
    return np.where(np.isinf(value), 1.0 - OL_SEEN_AS_NUMBER, shown)


def large_density(scale: Scale, reading: float) -> float:
    """Density of a large finite reading where OL is expected; 0 below a large number."""
    if scale.meter not in OHMS:
        return 0.0
    limit = LIMIT[scale.meter]
    if not limit / LARGE < reading < 2.0 * limit:
        return 0.0
    return float(1.0 / (reading * np.log(2.0 * LARGE)))
