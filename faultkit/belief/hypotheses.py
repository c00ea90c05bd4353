"""What may be wrong: rows of predictions with their prior, and the suspects they belong to."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from faultkit.belief.learned import Learned, weighed
from faultkit.belief.scale import Scale, scale_of
from faultkit.graph import may_explain
from faultkit.prediction.table import Floats, Ints, Prediction

AFTER_REPAIR = 0.02
"""What is left of a cause's prior after its remedy did not cure: the repair itself failed."""
LEAST = 1e-12
"""Smallest prior: a weight of zero is not a proof."""


@dataclass(frozen=True, slots=True)
class Suspected:
    """One suspect: a cause, or a pair of causes, by their index in the prediction."""

    causes: tuple[int, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Column:
    """What one test reads under every row, and healthy (the last entry).

    Shapes (H,), words (H, W).
    """

    value: Floats
    level: Floats
    sigma: Floats
    word_p: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Hypotheses:
    """Everything that may be wrong, before anything is told.

    H rows: the variants of the causes, then those of the pairs, and last the unknown fault,
    which has a prior but no predictions of its own.
    """

    prediction: Prediction
    suspects: tuple[Suspected, ...]
    suspect: Ints
    """(H,) index of the suspect a row belongs to; -1 for the unknown row."""
    prior: Floats
    """(H,) probability, sums to 1."""
    intermittent: Floats
    """(H - 1,) probability that the fault is absent at the moment of one reading."""
    explains: Floats
    """(H, S) probability that a symptom shows; healthy in the last row."""
    value: Floats
    """(H, T) expected reading, healthy in the last row; nan where a pair was not predicted."""
    level: Floats
    """(H, T)"""
    sigma: Floats
    """(H, T)"""
    word_p: Floats
    """(H, T, W)"""
    moved: NDArray[np.bool_]
    """(H, T) True where the reading differs from the healthy one."""
    scales: tuple[Scale, ...]
    test_index: Mapping[str, int]
    symptom_index: Mapping[str, int]

    def column(self, test: int) -> Column:
        """Predictions of one test, by index."""
        return Column(self.value[:, test], self.level[:, test], self.sigma[:, test],
                      self.word_p[:, test, :])

    def by_suspect(self, rows: Floats) -> Floats:
        """(suspects,) sum of row probabilities (H,) per suspect."""
        count = len(self.suspects)
        return np.bincount(self.suspect[:-1], rows[:-1], minlength=count).astype(np.float64)


def hypotheses(prediction: Prediction, graph: "nx.DiGraph[str]",
               learned: Learned | None = None) -> Hypotheses:
    """Single causes and the unknown fault, with the symptoms that the graph lets them explain."""
    variants = prediction.owner >= 0
    weight = weighed(prediction.causes, learned)
    known = 1.0 - prediction.machine.unknown
    of_cause = known * weight / weight.sum() if weight.size else weight
    owner = prediction.owner[variants]
    causes = [cause.id for cause in prediction.causes]
    may = may_explain(graph, prediction.symptoms, causes)
    healthy = prediction.symptom_p[-1:]
    explains = np.where(may[owner], prediction.symptom_p[variants], healthy)
    prior = np.append(of_cause[owner] * prediction.share[variants], prediction.machine.unknown)
    value = prediction.value
    away = np.array([cause.intermittent for cause in prediction.causes])
    scales = tuple(
        scale_of(test.meter, value[:, i], prediction.sigma[:, i], prediction.words[i])
        for i, test in enumerate(prediction.tests))
    prior = np.maximum(prior, LEAST)
    return Hypotheses(
        prediction=prediction,
        suspects=tuple(Suspected((i,)) for i in range(len(causes))),
        suspect=np.append(owner, -1),
        prior=prior / prior.sum(),
        intermittent=away[owner],
        explains=np.vstack([explains, healthy]),
        value=value,
        level=prediction.level,
        sigma=prediction.sigma,
        word_p=prediction.word_p,
        moved=prediction.moved,
        scales=scales,
        test_index={test.id: i for i, test in enumerate(prediction.tests)},
        symptom_index={symptom: i for i, symptom in enumerate(prediction.symptoms)},
    )


def after_repairs(space: Hypotheses, remedies: Collection[str]) -> Hypotheses:
    """The same, when these remedies were carried out and the complaint stayed."""
    if not remedies:
        return space
    done = np.array([cause.remedy in remedies for cause in space.prediction.causes])
    factor = np.array([AFTER_REPAIR ** sum(bool(done[c]) for c in s.causes)
                       for s in space.suspects])
    prior = space.prior * np.append(factor[space.suspect[:-1]], 1.0)
    return replace(space, prior=prior / prior.sum())
