"""Weigh everything told and measured: from prior to posterior.

Sums run in an order of their own, never in that of the readings, so the order in which
readings were taken cannot matter, not even in the last bit.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faultkit.belief.hypotheses import Hypotheses
from faultkit.belief.likelihood import Weight, unknown_symptoms, weigh_reading, weigh_symptom
from faultkit.belief.supply import GRID, log_prior
from faultkit.errors import UsageError
from faultkit.prediction.table import Floats
from faultkit.vocabulary.diagnosis import Reading

Told = Mapping[str, bool]
"""Symptom id -> whether it shows."""
Taken = Sequence[tuple[str, Reading]]
"""Test id and reading, in any order."""


@dataclass(frozen=True, slots=True, eq=False)
class Belief:
    """How probable everything is now."""

    rows: Floats
    """(H,) probability of each row, sums to 1; the unknown fault last."""
    suspects: Floats
    """(suspects,) probability of each suspect."""
    unknown: float
    supply: float
    """Mean of the supply level."""
    supply_sd: float
    wrong: tuple[float, ...]
    """Probability that each reading is wrong, in the order given."""
    log_joint: Floats
    """(H, G) log of prior times likelihood."""
    weights: tuple[Weight, ...]
    """What each reading says, in the order given."""
    told: Mapping[str, Floats]
    """(H,) log probability of what is told about each symptom."""

    @property
    def log_evidence(self) -> float:
        """Log probability (density) of everything told and measured."""
        return log_sum(self.log_joint)


def weigh(space: Hypotheses, told: Told, taken: Taken) -> Belief:
    """Posterior after what was told and measured.

    Raises
    ------
    UsageError
        A symptom or test that the machine does not have.
    """
    symptoms = _weigh_told(space, told)
    tests = [_index(space.test_index, test, "test") for test, _ in taken]
    weights = [weigh_reading(space, test, reading)
               for test, (_, reading) in zip(tests, taken, strict=True)]
    order = sorted(range(len(tests)), key=lambda i: (tests[i], _sort_key(taken[i][1])))
    log_joint = np.log(space.prior)[:, np.newaxis] + log_prior()[np.newaxis, :]
    for name in sorted(symptoms):
        log_joint = log_joint + symptoms[name][:, np.newaxis]
    for i in order:
        log_joint = log_joint + weights[i].log
    return _belief(space, log_joint, tuple(weights), symptoms)


def _belief(space: Hypotheses, log_joint: Floats, weights: tuple[Weight, ...],
            told: Mapping[str, Floats]) -> Belief:
    joint = np.exp(log_joint - log_joint.max())
    joint /= joint.sum()
    # A probability too small for float64 is still not zero.
    rows = np.maximum(joint.sum(axis=1), np.finfo(np.float64).tiny)
    level = joint.sum(axis=0)
    mean = float(level @ GRID)
    return Belief(
        rows=rows,
        suspects=space.by_suspect(rows),
        unknown=float(rows[-1]),
        supply=mean,
        supply_sd=float(np.sqrt(level @ (GRID - mean) ** 2)),
        wrong=tuple(float((joint * weight.wrong).sum()) for weight in weights),
        log_joint=log_joint,
        weights=weights,
        told=told,
    )


def _weigh_told(space: Hypotheses, told: Told) -> dict[str, Floats]:
    """(H,) log probability per symptom; the unknown row carries its share of the joint one."""
    if not told:
        return {}
    rows = {name: weigh_symptom(space, _index(space.symptom_index, name, "symptom"), shows)
            for name, shows in told.items()}
    together = np.sum([rows[name] for name in sorted(rows)], axis=0)
    shows = sum(told.values())
    unknown = unknown_symptoms(space.prior[:-1], together, shows, len(told) - shows)
    return {name: np.append(row, unknown / len(rows)) for name, row in rows.items()}


def support(belief: Belief, mine: NDArray[np.bool_]) -> tuple[tuple[float, ...], dict[str, float]]:
    """How each reading and each symptom speaks for some rows against all others, in bits.

    log2 of the ratio of the probability of this reading, given all the others, under the
    rows `mine` (H,; True) and under the rest.
    """
    readings = tuple(_bits(belief.log_joint, weight.log, mine) for weight in belief.weights)
    symptoms = {name: _bits(belief.log_joint, log[:, np.newaxis], mine)
                for name, log in belief.told.items()}
    return readings, symptoms


def _bits(log_joint: Floats, log_weight: Floats, mine: NDArray[np.bool_]) -> float:
    if mine.all() or not mine.any():
        return 0.0
    others = log_joint - log_weight
    inside = log_sum(log_joint[mine]) - log_sum(others[mine])
    outside = log_sum(log_joint[~mine]) - log_sum(others[~mine])
    return float((inside - outside) / np.log(2.0))


def log_sum(logs: Floats) -> float:
    """Log of the sum of exponentials."""
    top = float(logs.max())
    return top + float(np.log(np.exp(logs - top).sum()))


def _index(known: Mapping[str, int], name: str, what: str) -> int:
    if name not in known:
        raise UsageError(f"This machine has no {what} {name!r}.")
    return known[name]


def _sort_key(reading: Reading) -> tuple[float, str]:
    return (-1.0 if reading.value is None else reading.value, reading.word)
