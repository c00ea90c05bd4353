"""The table that everything after the circuit works on: every cause by every test.

Rows are *variants*: each cause has one row for each severity, and the last row is the healthy
machine. Columns are the machine's tests; symptoms have a table of their own. A reading is
either a number (with `OL` as infinity) or a word.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from faultkit.vocabulary.diagnosis import Cause, Test
from faultkit.vocabulary.machine import Machine

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

APART = 3.0
"""Numbers count as different from this many standard deviations on."""
WORDS_APART = 0.05
"""Words count as different when this much probability has moved."""


@dataclass(frozen=True, eq=False)
class Prediction:
    """What every test reads and every symptom shows, healthy and under every variant.

    V variants (the last row is the healthy machine), T tests, S symptoms, W words at most.
    """

    machine: Machine
    causes: tuple[Cause, ...]
    tests: tuple[Test, ...]
    owner: Ints
    """(V,) index of the cause a variant belongs to; -1 for the healthy row."""
    share: Floats
    """(V,) probability of the variant given its cause; 1 for the healthy row."""
    value: Floats
    """(V, T) expected number in the meter's SI unit; inf for OL; nan where words are read."""
    level: Floats
    """(V, T) change of `value` per unit of supply level: value(s) = value + level * (s - 1)."""
    sigma: Floats
    """(V, T) standard deviation: meter, component tolerance, range of the author; never 0."""
    words: tuple[tuple[str, ...], ...]
    """(T) words of each test; empty for numbers."""
    word_p: Floats
    """(V, T, W) probability of each word; zero where numbers are read."""
    symptoms: tuple[str, ...]
    symptom_p: Floats
    """(V, S) probability that the symptom shows, in [0, 1]."""
    by_hand: NDArray[np.bool_]
    """(V, T) True where the author's word stands instead of the circuit's."""
    chatters: NDArray[np.bool_]
    """(V, conditions) True where the relays never settle."""
    blows: NDArray[np.int16] = field(default_factory=lambda: np.zeros((0, 0), dtype=np.int16))
    """(V, F) index of the condition in which a variant blows a fuse or trips a breaker, in the
    order of `fuses_of`; -1 where it does not. Empty for a table made by hand."""

    @cached_property
    def moved(self) -> NDArray[np.bool_]:
        """(V, T) True where a variant's reading differs from the healthy one beyond its spread.

        Two finite numbers differ beyond `APART` joint standard deviations, `OL` differs from
        every finite number, words differ when `WORDS_APART` of the probability has moved.
        """
        value, sigma = self.value, self.sigma
        off_scale, known = np.isinf(value), ~np.isnan(value)
        both = known & ~off_scale & np.isfinite(value[-1])
        spread = np.hypot(sigma, sigma[-1])
        with np.errstate(invalid="ignore"):
            far = both & (np.abs(value - value[-1]) > APART * spread)
        atom = (off_scale != off_scale[-1]) & known & known[-1]
        moved = far | atom
        worded = np.array([bool(words) for words in self.words], dtype=np.bool_)
        said = self.word_p[:, worded]
        moved[:, worded] = 0.5 * np.abs(said - said[-1]).sum(axis=2) > WORDS_APART
        return np.asarray(moved)


@dataclass(frozen=True, slots=True, eq=False)
class PairRows:
    """The same for pairs of causes: both faults at once, on the tests that matter.

    P rows, n tests of the T, all S symptoms.
    """

    owner: tuple[tuple[int, int], ...]
    """(P) indices of the two causes; a pair may have several rows (severities)."""
    share: Floats
    """(P,) probability of the row given its pair."""
    tests: Ints
    """(n,) columns of the prediction that are given here."""
    value: Floats
    """(P, n)"""
    level: Floats
    """(P, n)"""
    sigma: Floats
    """(P, n)"""
    word_p: Floats
    """(P, n, W)"""
    symptom_p: Floats
    """(P, S) for all symptoms."""


class PredictPairs(Protocol):
    """Computes the rows of pairs of causes; handed in, since only the circuit can do it."""

    def __call__(self, pairs: Sequence[tuple[int, int]], tests: Sequence[int]) -> PairRows:
        """Rows of these pairs on these tests, both by index in the prediction.

        A pair that cannot be computed (its changes exclude each other) is left out.
        """
        ...
