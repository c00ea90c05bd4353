"""The table that everything after the circuit works on: every cause by every test.

Rows are *variants*: each cause has one row for each severity, and the last row is the healthy
machine. Columns are the machine's tests; symptoms have a table of their own. A reading is
either a number (with `OL` as infinity) or a word.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faultkit.vocabulary.diagnosis import Cause, Test
from faultkit.vocabulary.machine import Machine

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
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
