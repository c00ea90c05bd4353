"""How probable a reading or a symptom is under every row."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from faultkit.belief.hypotheses import Column, Hypotheses
from faultkit.belief.scale import Scale, broad, large_density, off_scale
from faultkit.belief.supply import GRID, smoothed
from faultkit.prediction.table import Floats
from faultkit.vocabulary.diagnosis import Reading

MISTAKE = 0.02
"""Probability that a reading is wrong: wrong terminal, wrong range, poor contact, misread
(common practice, no source)."""
TAIL = 0.05
"""Part of honest readings that scatter `WIDE` times as far: the machine differs a little."""
WIDE = 4.0
UNKNOWN_HEALTHY = 0.5
"""A fault that is not described leaves a reading healthy with this probability."""
FALSE_ALARM = 0.003
"""Probability that an operator complains of this very symptom although it does not show: of
many that a machine can have, a slip picks this one (common practice, no source)."""
MISSED = 0.03
"""Probability that a function is said to work although it does not: often it was not tried
(common practice, no source)."""


@dataclass(frozen=True, slots=True, eq=False)
class Weight:
    """What one reading says, at every supply level."""

    log: Floats
    """(H, G) log density of the reading."""
    wrong: Floats
    """(H, G) probability, given row and level, that the reading is a mistake."""
    healthy: Floats
    """(G,) log density of the reading on the healthy machine."""


def weigh_reading(space: Hypotheses, test: int, reading: Reading) -> Weight:
    """Weight of one reading of a test, by index, under every row.

    Each row is the mixture of its own prediction, the healthy one where the fault is
    intermittent, and a broad density for a mistaken reading, which keeps every row possible.
    """
    scale = space.scales[test]
    anything = broad(scale, reading)
    honest = _honest(space.column(test), scale, reading)
    honest = np.where(np.isnan(honest), anything, honest)
    healthy = honest[-1:]
    away = space.intermittent[:, np.newaxis]
    rows = (1.0 - away) * honest[:-1] + away * healthy
    unknown = UNKNOWN_HEALTHY * healthy + (1.0 - UNKNOWN_HEALTHY) * anything
    every = (1.0 - MISTAKE) * np.vstack([rows, unknown]) + MISTAKE * anything
    fine = (1.0 - MISTAKE) * healthy[0] + MISTAKE * anything
    return Weight(np.log(every), MISTAKE * anything / every, np.log(fine))


def _honest(column: Column, scale: Scale, reading: Reading) -> Floats:
    """(R + 1, G) density of a reading that is no mistake, healthy in the last row."""
    if reading.value is None:
        if reading.word not in scale.words:
            return np.full((column.value.size, GRID.size), np.nan)
        said = column.word_p[:, scale.words.index(reading.word)]
        said = np.where(column.word_p.sum(axis=1) > 0.0, said, np.nan)
        return np.repeat(said[:, np.newaxis], GRID.size, axis=1)
    expected = column.value[:, np.newaxis] + column.level[:, np.newaxis] * (GRID - 1.0)
    off = off_scale(scale, expected)
    if np.isinf(reading.value):
        return np.where(np.isnan(expected), np.nan, off)
    sigma = smoothed(column.sigma, column.level)[:, np.newaxis]
    with np.errstate(invalid="ignore"):
        z = (reading.value - expected) / sigma
    near = (1.0 - TAIL) * np.exp(-0.5 * z * z) + TAIL / WIDE * np.exp(-0.5 * (z / WIDE) ** 2)
    number = (1.0 - off) * near / (np.sqrt(2.0 * np.pi) * sigma)
    large = large_density(scale, reading.value)
    return np.where(np.isinf(expected), (1.0 - off) * large, number)


def weigh_symptom(space: Hypotheses, symptom: int, shows: bool) -> Floats:
    """(H - 1,) log probability of what is told about a symptom, for the described rows.

    What the unknown fault would show is not known; see `unknown_symptoms`.
    """
    away = space.intermittent
    shown = (1.0 - away) * space.explains[:-1, symptom] + away * space.explains[-1, symptom]
    heard = FALSE_ALARM + (1.0 - FALSE_ALARM - MISSED) * shown
    return np.asarray(np.log(heard if shows else 1.0 - heard))


def steady_fit(space: Hypotheses, told: Mapping[str, bool]) -> float:
    """Probability of all that is told under the row that fits it best, of faults that stay."""
    steady = space.intermittent == 0.0
    log = sum((weigh_symptom(space, space.symptom_index[s], shows)
               for s, shows in told.items()), start=np.zeros(steady.size))
    return float(np.exp(log[steady].max(initial=-np.inf)))


def unknown_symptoms(prior: Floats, rows: Floats, shows: int, works: int) -> float:
    """Log probability of all that is told, for the fault that is not described.

    It behaves like a fault drawn at random from the described ones (so that a complaint by
    itself does not speak for or against it), but never worse than a fault that shows any
    symptom in one case of ten.

    Parameters
    ----------
    prior, rows
        (H - 1,) prior of the described rows and the log probability of all that is told.
    shows, works
        How many symptoms are told to show and to work.
    """
    alike = float(np.log(prior @ np.exp(rows) / prior.sum())) if prior.size else -np.inf
    apart = shows * float(np.log(0.1)) + works * float(np.log(0.9))
    return max(alike, apart)
