"""Small textbook problems in which a state is to be identified by tests of equal cost.

They know no repairs. To put them to the planner every state gets a repair of its own, all of
equal and forbidding cost: then whoever measures best to identify the state acts best.
"""

from functools import cache

import numpy as np

from faultkit.choice.costs import ENTERING, Effort, effort_of
from faultkit.choice.gain import gain_table, gains
from faultkit.prediction.table import Floats, Ints
from tests.belief.made_up import MadeUp, condition
from tests.choice.exact import Problem

REPAIR = 1e4


def plain_effort(tests: int, states: int) -> Effort:
    """Every test one minute, every repair the same, one place and one condition."""
    made = MadeUp()
    made.places = {"panel": made.places["panel"]}
    made.conditions = {"ready": condition("ready", dead=False)}
    for t in range(tests):
        made.test(f"t{t}", "0", words=("0",), minutes=1.0 - ENTERING)
    for s in range(states):
        made.cause(f"s{s}", {}, repair=REPAIR, proof=0.0, dead=False)
    return effort_of(made.prediction())


def problem_of(outcome: Ints, prior: Floats) -> Problem:
    states, tests = outcome.shape
    return Problem(plain_effort(tests, states), outcome, prior, np.arange(states), 1e6)


def least_tests(outcome: Ints, prior: Floats) -> float:
    """Fewest expected tests that identify the state: every tree, by dynamic programming."""
    states, tests = outcome.shape

    @cache
    def best(alive: frozenset[int]) -> float:
        if len(alive) == 1:
            return 0.0
        weight = float(sum(prior[s] for s in alive))
        values = []
        for t in range(tests):
            parts = parted(outcome, alive, t)
            if len(parts) > 1:
                values.append(weight + sum(best(part) for part in parts))
        return min(values)

    return best(frozenset(range(states)))


def minutes_by_gain(outcome: Ints, prior: Floats) -> float:
    """Expected tests when the test with the highest gain is always made."""
    states = outcome.shape[0]
    p = (outcome[:, :, None] == np.arange(int(outcome.max()) + 1)).astype(np.float64)
    table = gain_table(p, np.arange(states))

    def cost(alive: frozenset[int]) -> float:
        if len(alive) == 1:
            return 0.0
        weight = np.array([prior[s] if s in alive else 0.0 for s in range(states)])
        test = int(gains(table, weight / weight.sum()).argmax())
        return float(weight.sum()) + sum(cost(part) for part in parted(outcome, alive, test))

    return cost(frozenset(range(states)))


def parted(outcome: Ints, alive: frozenset[int], test: int) -> list[frozenset[int]]:
    return [frozenset(s for s in alive if outcome[s, test] == o)
            for o in sorted({int(outcome[s, test]) for s in alive})]


def entropy(prior: Floats) -> float:
    """Bits."""
    kept = prior[prior > 0.0]
    return float(-(kept * np.log2(kept)).sum())


def huffman(prior: Floats) -> float:
    """Mean length of the best binary code (Huffman 1952)."""
    heap, total = sorted(prior.tolist()), 0.0
    while len(heap) > 1:
        joined = heap.pop(0) + heap.pop(0)
        total += joined
        heap = sorted([*heap, joined])
    return total
