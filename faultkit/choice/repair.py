"""Repairing without another test: in which order, and what it costs.

With one fault and independent repairs, each of which tells whether it cured, the expected
minutes are least in descending order of probability over minutes (Kadane & Simon 1977; the
ratio rule of single-machine scheduling, Smith 1956).
"""

import numpy as np

from faultkit.choice.costs import GIVING_UP
from faultkit.prediction.table import Floats, Ints

LEAST_MINUTES = 1e-9


def repair_order(probability: Floats, minutes: Floats) -> Ints:
    """(..., R) indices in descending order of probability over minutes, both (..., R)."""
    ratio = probability / np.maximum(minutes, LEAST_MINUTES)
    return np.argsort(-ratio, axis=-1, kind="stable")


def stop_value(probability: Floats, minutes: Floats, first: Floats, total: Floats,
               giving_up: float = GIVING_UP) -> Floats:
    """Expected minutes to a proven repair when nothing more is measured.

    Remedies are tried in the best order for as long as that costs less than giving up.

    Parameters
    ----------
    probability : (..., R)
        Probability of each remedy.
    minutes : (..., R)
        Minutes of each, starting with the machine live.
    first : (..., R)
        Minutes of each as the very next thing done: less where the machine is dead already.
    total : (...)
        What the probabilities sum to, with a fault that none of the remedies cures. Need not
        be 1: the result carries the same factor.
    giving_up : float
        Minutes when no remedy has cured.

    Returns
    -------
    (...) minutes.
    """
    if not probability.shape[-1]:
        return np.asarray(total * giving_up)
    p, c = _rows(probability), _rows(np.broadcast_to(minutes, probability.shape))
    saved = _rows(np.broadcast_to(minutes - first, probability.shape))
    order, row = repair_order(p, c), np.arange(p.shape[0])[:, np.newaxis]
    p, c, saved = p[row, order], c[row, order], saved[row[:, 0], order[:, 0]]
    whole = total.reshape(-1, 1)
    cured = np.cumsum(p, axis=1)
    spent = np.cumsum(np.maximum(whole - cured + p, 0.0) * c, axis=1)
    least = (spent + np.maximum(whole - cured, 0.0) * giving_up).min(axis=1) - whole[:, 0] * saved
    return np.asarray(np.minimum(least.reshape(total.shape), total * giving_up))


def _rows(values: Floats) -> Floats:
    return values.reshape(-1, values.shape[-1])
