"""What each test may show: predictions closer than their spread are one outcome.

For the rows that are still live, the expected numbers of a test are sorted and cut where two
neighbours lie further apart than their spreads; `OL` and words are outcomes of their own.
Cuts are made anew for every set of live rows: what was a crowd becomes two camps when those
between are gone.
"""

from dataclasses import dataclass

import numpy as np

from faultkit.belief import Belief, Hypotheses
from faultkit.belief.likelihood import MISTAKE, UNKNOWN_HEALTHY
from faultkit.prediction.table import Floats, Ints

BINS = 6
"""Ranges of numbers a test is cut into at most."""
CUT = 1.5
"""Neighbours are cut where their distance exceeds this many times the sum of their spreads."""
LOGISTIC = 1.702
"""Scale at which the logistic curve is within 0.01 of the normal distribution (Bowling et
al. 2009); good enough to plan with, and quick."""


@dataclass(frozen=True, slots=True, eq=False)
class Forecast:
    """What tests may show under some rows.

    A rows (healthy is not among them; the unknown fault may be), T tests, K outcomes.
    """

    rows: Ints
    """(A,) rows of the hypotheses."""
    tests: Ints
    """(T,) tests by index."""
    p: Floats
    """(A, T, K) probability of each outcome without mistakes; sums to 1 over K."""
    possible: Floats
    """(T, K) 1 where the test has this outcome at all."""
    cuts: Floats
    """(T, BINS - 1) borders of the ranges, ascending; inf for no border."""
    mean: Floats
    """(A, T) expected number at the supply level as believed now; nan for words."""
    spread: Floats
    """(A, T)"""

    def noisy(self, column: int | slice = slice(None)) -> Floats:
        """(A, T, K), or (A, K) of one test: any outcome may be misread as any other."""
        possible = self.possible[column]
        count = possible.sum(axis=-1, keepdims=True)
        return np.asarray((1.0 - MISTAKE) * self.p[:, column] + MISTAKE * possible / count)


def forecast(space: Hypotheses, belief: Belief, rows: Ints, tests: Ints) -> Forecast:
    """Forecast of these tests under these rows (each by index; the unknown row is the last)."""
    unknown = len(space.prior) - 1
    described = np.append(rows[rows != unknown], unknown)  # its predictions: healthy
    at = np.ix_(described, tests)
    value, level = space.value[at], space.level[at]
    mean = value + level * (belief.supply - 1.0)
    spread = np.hypot(space.sigma[at], level * belief.supply_sd)
    worded = np.array([bool(space.prediction.words[t]) for t in tests], dtype=np.bool_)
    number = ~worded
    cuts = np.full((tests.size, BINS - 1), np.inf)
    cuts[number] = _cuts(mean[:, number], spread[:, number])
    outcomes = max(BINS + 1, space.word_p.shape[2])
    p = np.zeros((*mean.shape, outcomes))
    p[:, number, :BINS] = _numbers(mean[:, number], spread[:, number], cuts[number])
    p[:, number, BINS] = np.isinf(mean[:, number])
    p[:, worded, :space.word_p.shape[2]] = space.word_p[np.ix_(described, tests[worded])]
    possible = _possible(space, tests, cuts, p)
    anything = possible / possible.sum(axis=1, keepdims=True)
    blank = p.sum(axis=2) < 0.5
    p[blank] = anything[np.nonzero(blank)[1]]
    away = space.intermittent[described[:-1]]
    now_and_then = np.flatnonzero(away)
    part = away[now_and_then, np.newaxis, np.newaxis]
    full = np.empty((rows.size, *p.shape[1:]))
    full[rows == unknown] = UNKNOWN_HEALTHY * p[-1] + (1.0 - UNKNOWN_HEALTHY) * anything
    p[now_and_then] = (1.0 - part) * p[now_and_then] + part * p[-1]
    full[rows != unknown] = p[:-1]
    means = np.full((rows.size, tests.size), np.nan)
    spreads = np.ones_like(means)
    means[rows != unknown], spreads[rows != unknown] = mean[:-1], spread[:-1]
    return Forecast(rows, tests, full, possible, cuts, means, spreads)


def _cuts(mean: Floats, spread: Floats) -> Floats:
    """(T, BINS - 1) borders at the widest gaps, in units of the spread."""
    finite = np.isfinite(mean)
    order = np.argsort(np.where(finite, mean, np.inf), axis=0, kind="stable")
    m = np.take_along_axis(np.where(finite, mean, np.inf), order, axis=0)
    s = np.take_along_axis(spread, order, axis=0)
    if m.shape[0] < 2:
        return np.full((mean.shape[1], BINS - 1), np.inf)
    width = s[1:] + s[:-1]
    with np.errstate(invalid="ignore"):
        gap = (m[1:] - m[:-1]) / width
        border = m[:-1] + (m[1:] - m[:-1]) * s[:-1] / width
    real = np.isfinite(m[1:]) & (gap > CUT)
    gap = np.where(real, gap, -np.inf)
    border = np.where(real, border, np.inf)
    count = min(BINS - 1, gap.shape[0])
    widest = np.argpartition(-gap, count - 1, axis=0)[:count]
    chosen = np.take_along_axis(border, widest, axis=0)
    cuts = np.full((mean.shape[1], BINS - 1), np.inf)
    cuts[:, :count] = np.sort(chosen, axis=0).T
    return np.sort(cuts, axis=1)


def _numbers(mean: Floats, spread: Floats, cuts: Floats) -> Floats:
    """(A, T, BINS) probability that the reading lies in each range; 0 for OL and words."""
    finite = np.isfinite(mean)
    centre = np.where(finite, mean, 0.0)[:, :, np.newaxis]
    z = LOGISTIC * (cuts[np.newaxis] - centre) / spread[:, :, np.newaxis]
    below = 1.0 / (1.0 + np.exp(-np.clip(z, -500.0, 500.0)))
    below[np.broadcast_to(np.isinf(cuts), below.shape)] = 1.0
    edges = np.concatenate([np.zeros((*mean.shape, 1)), below, np.ones((*mean.shape, 1))], axis=2)
    return np.asarray(np.diff(edges, axis=2) * finite[:, :, np.newaxis])


def _possible(space: Hypotheses, tests: Ints, cuts: Floats, p: Floats) -> Floats:
    """(T, K) which outcomes a test has: its words, or its ranges and OL where one is expected."""
    possible = np.zeros(p.shape[1:])
    for i, test in enumerate(tests):
        words = len(space.prediction.words[test])
        if words:
            possible[i, :words] = 1.0
        else:
            ranges = int(np.isfinite(cuts[i]).sum()) + 1
            possible[i, :ranges] = 1.0
            possible[i, BINS] = float(p[:, i, BINS].max() > 0.0)
            if not p[:, i, :BINS].any():
                possible[i, :BINS] = 0.0
    possible[possible.sum(axis=1) == 0.0, 0] = 1.0
    return possible


def outcome_of(forecast_: Forecast, column: int, value: float) -> int:
    """Outcome (by index) that a number belongs to; `column` counts in the forecast's tests."""
    if np.isinf(value):
        return BINS
    return int(np.searchsorted(forecast_.cuts[column], value))
