"""Looking ahead against the exact optimum: the bound is what it reaches, with little room."""

import numpy as np
import pytest

from tests.choice.exact import random_problem

PROBLEMS = 60


@pytest.mark.parametrize(("repair_minutes", "switching", "mean", "worst"), [
    (10.0, False, 1.002, 1.05), (10.0, True, 1.005, 1.10),
    (3.0, False, 1.002, 1.05), (3.0, True, 1.006, 1.12)])
def test_looking_ahead_costs_hardly_more_than_the_optimum(
    repair_minutes: float, switching: bool, mean: float, worst: float,
) -> None:
    rng = np.random.default_rng(11)
    ratios = []
    for _ in range(PROBLEMS):
        problem = random_problem(rng, int(rng.integers(5, 11)), int(rng.integers(6, 14)),
                                 repair_minutes, switching)
        ratios.append(problem.cost_of_looking_ahead() / problem.optimum())
    assert min(ratios) >= 1.0 - 1e-9, "cheaper than the optimum: the optimum is not one"
    assert np.mean(ratios) <= mean
    assert max(ratios) <= worst
