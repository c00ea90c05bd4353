"""Published and mathematical examples of sequential testing."""

from itertools import combinations

import numpy as np
import pytest

from faultkit.choice.gain import gain_table, gains
from tests.outside.identifying import (
    REPAIR,
    entropy,
    huffman,
    least_tests,
    minutes_by_gain,
    problem_of,
)

pytestmark = pytest.mark.outside

# Pattipati & Alexandridis 1990: six states, five tests, unit costs (matrix from memory; that
# the published optimum of 2.18 comes out supports it).
PRIOR = np.array([0.70, 0.01, 0.02, 0.10, 0.05, 0.12])
OUTCOME = np.array([[int(c) for c in row] for row in
                    ("00000", "01001", "00110", "10011", "11000", "11110")])


def test_the_six_states_cost_2_18_at_best_and_2_86_by_plain_gain() -> None:
    assert least_tests(OUTCOME, PRIOR) == pytest.approx(2.18)
    assert minutes_by_gain(OUTCOME, PRIOR) == pytest.approx(2.86)
    assert entropy(PRIOR) == pytest.approx(1.4549, abs=1e-4)
    assert huffman(PRIOR) == pytest.approx(1.59)


def test_the_first_gains_of_the_six_states_are_as_worked_by_hand() -> None:
    p = (OUTCOME[:, :, None] == np.arange(2)).astype(float)
    assert gains(gain_table(p, np.arange(6)), PRIOR) == pytest.approx(
        [0.8415, 0.6801, 0.5842, 0.7950, 0.4999], abs=1e-4)


def test_looking_ahead_finds_the_optimum_of_the_six_states() -> None:
    problem = problem_of(OUTCOME, PRIOR)
    assert problem.cost_of_looking_ahead() - REPAIR == pytest.approx(2.18, abs=1e-6)


@pytest.mark.parametrize("seed", range(8))
def test_when_every_split_is_possible_the_huffman_code_is_the_bound(seed: int) -> None:
    """Mean binary tests >= H and < H + 1; the best tree is the Huffman code."""
    rng = np.random.default_rng(seed)
    states = 5
    splits = [s for n in range(1, states) for s in combinations(range(states), n) if 0 in s]
    outcome = np.array([[int(state in split) for split in splits] for state in range(states)])
    prior = rng.dirichlet(np.full(states, 0.7))
    best = least_tests(outcome, prior)
    assert best == pytest.approx(huffman(prior))
    assert entropy(prior) <= best + 1e-12 < entropy(prior) + 1.0
    ahead = problem_of(outcome, prior).cost_of_looking_ahead() - REPAIR
    assert best - 1e-6 <= ahead <= 1.02 * best


def weighings(light: list[int], heavy: list[int], both: list[int], genuine: list[int],
              ) -> list[tuple[list[int], list[int]]]:
    """Every weighing that differs in kind: how many coins of each class lie on each pan."""
    classes = [light, heavy, both, genuine]
    found = []

    def lay(index: int, left: list[int], right: list[int]) -> None:
        if index == 4:
            if left and len(left) == len(right):
                found.append((left, right))
            return
        coins = classes[index]
        for a in range(len(coins) + 1):
            for b in range(len(coins) - a + 1):
                lay(index + 1, [*left, *coins[:a]], [*right, *coins[a:a + b]])

    lay(0, [], [])
    return found


def weigh_coins(states: list[tuple[int, int]], coins: int, left: int) -> int:
    """Weighings needed at worst when the one with the highest gain is made; 99 for too many."""
    if len(states) <= 1:
        return 0
    if left == 0:
        return 99
    lights = {c for c, sign in states if sign < 0}
    heavies = {c for c, sign in states if sign > 0}
    options = weighings(sorted(lights - heavies), sorted(heavies - lights),
                        sorted(lights & heavies), sorted(set(range(coins)) - lights - heavies))
    outcome = np.array([[1 + (sign if c in a else -sign if c in b else 0) for a, b in options]
                        for c, sign in states])
    p = (outcome[:, :, None] == np.arange(3)).astype(float)
    prior = np.full(len(states), 1.0 / len(states))
    best = int(gains(gain_table(p, np.arange(len(states))), prior).argmax())
    return 1 + max(weigh_coins([s for s, o in zip(states, outcome[:, best], strict=True) if o == k],
                               coins, left - 1) for k in range(3))


def test_the_odd_one_of_twelve_coins_and_its_sign_take_three_weighings() -> None:
    """24 states <= 27 outcomes; three weighings suffice and two cannot (9 outcomes)."""
    states = [(coin, sign) for coin in range(12) for sign in (-1, 1)]
    assert weigh_coins(states, 12, 3) == 3
    assert weigh_coins(states, 12, 2) >= 99


def test_the_odd_one_of_three_coins_takes_two_weighings() -> None:
    assert weigh_coins([(coin, sign) for coin in range(3) for sign in (-1, 1)], 3, 2) == 2
