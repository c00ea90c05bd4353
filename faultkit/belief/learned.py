"""What confirmed repairs have taught: pseudo-counts beside the author's weights.

The share of a cause before any reading is `(strength * author's share + count) / (strength +
total)`: the mean of a Dirichlet distribution whose prior is worth `strength` repairs (Gelman et
al., Bayesian Data Analysis, 3.4). Without history it is the author's share.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from faultkit.prediction.table import Floats
from faultkit.vocabulary.diagnosis import Cause

STRENGTH = 50.0
"""Confirmed repairs that the author's weights are worth (rule of thumb, no source)."""


@dataclass(frozen=True, slots=True)
class Learned:
    """Confirmed causes of one machine type or asset."""

    counts: Mapping[str, float]
    """Cause id -> confirmed repairs, not negative; ids the machine does not have are ignored."""
    strength: float = STRENGTH
    """Repairs that the author's weights are worth; above 0."""


@dataclass(frozen=True, slots=True)
class LearnedWeight:
    """One cause, as the author has it and as history has it."""

    cause: str
    author: float
    """Author's share of all causes, in [0, 1]."""
    learned: float
    """Share with history."""
    count: float


def weighed(causes: Sequence[Cause], learned: Learned | None = None) -> Floats:
    """(causes,) weights in any common unit: the author's, or with history in repairs."""
    weight = np.array([cause.weight for cause in causes], dtype=np.float64)
    if learned is None or not weight.size:
        return weight
    counts = np.array([max(learned.counts.get(cause.id, 0.0), 0.0) for cause in causes])
    return np.asarray(learned.strength * weight / weight.sum() + counts)


def learned_from(causes: Sequence[Cause], confirmed: Mapping[str, float],
                 strength: float = STRENGTH) -> Learned:
    """Counts of causes from confirmed remedies: each remedy's by the author's weights.

    Which of the causes behind a remedy it was is not known, so the count is shared out.
    """
    whole: dict[str, float] = {}
    for cause in causes:
        whole[cause.remedy] = whole.get(cause.remedy, 0.0) + cause.weight
    counts = {cause.id: confirmed[cause.remedy] * cause.weight / whole[cause.remedy]
              for cause in causes if confirmed.get(cause.remedy) and whole[cause.remedy] > 0.0}
    return Learned(counts, strength)


def weights(causes: Sequence[Cause], learned: Learned | None) -> tuple[LearnedWeight, ...]:
    """Return both shares of every cause side by side, in the machine's order."""
    author, with_history = (w / w.sum() for w in (weighed(causes), weighed(causes, learned)))
    counts = learned.counts if learned is not None else {}
    return tuple(LearnedWeight(cause.id, float(a), float(b), float(counts.get(cause.id, 0.0)))
                 for cause, a, b in zip(causes, author, with_history, strict=True))
