"""Gains of all tests against the plain triple loop."""

import math

import numpy as np
import pytest

from faultkit.choice.gain import gain_table, gains


def by_loops(p: np.ndarray, group: np.ndarray, weight: np.ndarray) -> list[float]:
    """Mutual information of group and outcome, from its definition."""
    found = []
    for t in range(p.shape[1]):
        total = 0.0
        for g in sorted(set(group.tolist())):
            inside = group == g
            chance = float(weight[inside].sum())
            for k in range(p.shape[2]):
                joint = float((weight[inside] * p[inside, t, k]).sum())
                outcome = float((weight * p[:, t, k]).sum())
                if joint > 0.0:
                    total += joint * math.log2(joint / (chance * outcome))
        found.append(total)
    return found


@pytest.mark.parametrize("groups", [1, 3, 7, 12])
def test_gains_are_the_mutual_information_of_remedy_and_outcome(groups: int) -> None:
    rng = np.random.default_rng(groups)
    p = rng.dirichlet(np.full(4, 0.4), (12, 9))
    group = rng.integers(0, groups, 12) if groups < 12 else rng.permutation(12)
    weight = rng.dirichlet(np.ones(12))
    assert gains(gain_table(p, group), weight) == pytest.approx(
        by_loops(p, group, weight), abs=1e-12)


def test_a_test_that_only_splits_causes_with_one_remedy_tells_nothing() -> None:
    p = np.zeros((3, 2, 2))
    p[0, 0, 0] = p[1, 0, 1] = p[2, 0, 0] = 1.0  # splits 0 from 1
    p[0, 1, 0] = p[1, 1, 0] = p[2, 1, 1] = 1.0  # splits both from 2
    weight = np.array([0.4, 0.4, 0.2])
    same_remedy = gains(gain_table(p, np.array([0, 0, 1])), weight)
    assert same_remedy[0] < same_remedy[1]
    p[2, 0] = [0.5, 0.5]
    assert gains(gain_table(p, np.array([0, 0, 1])), weight)[0] == pytest.approx(0.0, abs=1e-12)


def test_rows_of_weight_zero_do_not_count() -> None:
    rng = np.random.default_rng(3)
    p = rng.dirichlet(np.ones(3), (6, 5))
    group = np.array([0, 0, 1, 2, 2, 3])
    weight = np.array([0.5, 0.0, 0.3, 0.0, 0.2, 0.0])
    kept = weight > 0.0
    assert gains(gain_table(p, group), weight) == pytest.approx(
        gains(gain_table(p[kept], group[kept]), weight[kept]), abs=1e-12)
