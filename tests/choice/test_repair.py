"""In which order to repair when nothing more is measured."""

from itertools import permutations

import numpy as np
import pytest

from faultkit.choice.repair import repair_order, stop_value


def minutes_of(order: tuple[int, ...], p: np.ndarray, c: np.ndarray, giving_up: float) -> float:
    left, spent, best = 1.0, 0.0, giving_up
    for i in order:
        spent += left * float(c[i])
        left -= float(p[i])
        best = min(best, spent + left * giving_up)
    return best


@pytest.mark.outside
@pytest.mark.parametrize("seed", range(20))
def test_descending_probability_over_minutes_is_the_best_of_all_orders(seed: int) -> None:
    """Kadane & Simon 1977 (P over C); every order of six repairs tried."""
    rng = np.random.default_rng(seed)
    p = rng.dirichlet(np.ones(7))[:6]
    c = rng.lognormal(2.0, 0.8, 6)
    best = min(minutes_of(order, p, c, 200.0) for order in permutations(range(6)))
    assert minutes_of(tuple(repair_order(p, c).tolist()), p, c, 200.0) == pytest.approx(best)
    assert float(stop_value(p, c, c, np.array(1.0), 200.0)) == pytest.approx(best)


@pytest.mark.outside
def test_the_expected_cost_is_the_sum_of_costs_times_what_is_left() -> None:
    """Sum c_i (1 - sum of earlier p), Kadane & Simon 1977, by hand for two repairs."""
    p, c = np.array([0.25, 0.75]), np.array([4.0, 8.0])
    assert float(stop_value(p, c, c, np.array(1.0))) == pytest.approx(8.0 + 0.25 * 4.0)


def test_the_value_carries_the_weight_it_is_given() -> None:
    rng = np.random.default_rng(1)
    p = rng.dirichlet(np.ones(5), (3, 2))[..., :4]
    c = rng.uniform(5.0, 50.0, 4)
    whole = stop_value(p, c, c, np.ones((3, 2)))
    assert stop_value(0.2 * p, c, c, np.full((3, 2), 0.2)) == pytest.approx(0.2 * whole)


def test_a_hopeless_repair_is_not_tried() -> None:
    p, c = np.array([0.9, 0.001]), np.array([10.0, 500.0])
    assert float(stop_value(p, c, c, np.array(1.0), 100.0)) == pytest.approx(10.0 + 0.1 * 100.0)


def test_what_is_isolated_already_makes_the_next_repair_cheaper() -> None:
    p, later, first = np.array([1.0]), np.array([20.0]), np.array([12.0])
    assert float(stop_value(p, later, first, np.array(1.0))) == pytest.approx(12.0)
