"""Exact optimum by dynamic programming, and what a policy really costs, on small problems.

Written without the code it checks, save for the minutes (`faultkit.choice.costs`), which
state the problem: sets of rows as bits, every test and every repair tried in every state.
"""

from functools import cache

import numpy as np

from faultkit.choice.costs import (
    Context,
    Effort,
    combined_repairs,
    context_after_repair,
    context_after_test,
    effort_of,
    test_costs,
)
from faultkit.choice.decide import look_ahead
from faultkit.choice.plan import Planner, Prospect
from faultkit.prediction.table import Floats, Ints
from tests.belief.made_up import MadeUp


class Problem:
    """Rows with clean outcomes: (A, T) integers, and priors (A,)."""

    def __init__(self, effort: Effort, outcome: Ints, prior: Floats, repair: Ints,
                 giving_up: float = 240.0) -> None:
        self.effort, self.outcome, self.prior, self.repair = effort, outcome, prior, repair
        self.giving_up = giving_up
        self.rows, self.tests = outcome.shape
        self.repairs = tuple((i,) for i in range(int(repair.max()) + 1))
        self.masks = [[(o, sum(1 << a for a in range(self.rows) if outcome[a, t] == o))
                       for o in sorted(set(outcome[:, t].tolist()))] for t in range(self.tests)]
        self.cures = [sum(1 << a for a in range(self.rows) if repair[a] == r)
                      for r in range(len(self.repairs))]
        self._tests: dict[Context, Floats] = {}
        self._repairs: dict[Context, Floats] = {}

    def weight(self, alive: int) -> float:
        return float(sum(self.prior[a] for a in range(self.rows) if alive >> a & 1))

    def test_minutes(self, context: Context) -> Floats:
        if context not in self._tests:
            self._tests[context] = test_costs(self.effort, context)[0]
        return self._tests[context]

    def repair_minutes(self, context: Context) -> Floats:
        if context not in self._repairs:
            self._repairs[context] = combined_repairs(self.effort, context, self.repairs)[0]
        return self._repairs[context]

    def optimum(self) -> float:
        """Least expected minutes from the start, all rows alive."""

        @cache
        def best(alive: int, context: Context) -> float:
            weight = self.weight(alive)
            if not alive:
                return 0.0
            value = weight * self.giving_up
            repair = self.repair_minutes(context)
            for r, cures in enumerate(self.cures):
                if alive & cures:
                    there = context_after_repair(self.effort, r)
                    value = min(value, weight * float(repair[r]) + best(alive & ~cures, there))
            minutes = self.test_minutes(context)
            for t, masks in enumerate(self.masks):
                parts = [alive & mask for _, mask in masks if alive & mask]
                if len(parts) > 1:
                    there = context_after_test(self.effort, t)
                    value = min(value, weight * float(minutes[t])
                                + sum(best(part, there) for part in parts))
            return value

        return best((1 << self.rows) - 1, self.effort.start)

    def planner(self) -> Planner:
        p = (self.outcome[:, :, np.newaxis] == np.arange(int(self.outcome.max()) + 1)).astype(float)
        return Planner(Prospect(self.effort, p, self.repair, self.repairs,
                                np.arange(self.tests), np.zeros(self.tests), self.giving_up))

    def cost_of_looking_ahead(self) -> float:
        """Expected minutes when `look_ahead` decides at every step."""
        planner = self.planner()

        @cache
        def cost(alive: int, context: Context) -> float:
            if not alive:
                return 0.0
            weight = self.weight(alive)
            rows = np.array([self.prior[a] if alive >> a & 1 else 0.0 for a in range(self.rows)])
            view = look_ahead(planner, rows, context, 0)
            test = min(view.tests, key=lambda t: view.tests[t], default=None)
            repair = min(view.repairs, key=lambda r: view.repairs[r])
            if test is not None and view.tests[test] < min(view.stop, view.repairs[repair]):
                there = context_after_test(self.effort, test)
                return (weight * float(self.test_minutes(context)[test])
                        + sum(cost(alive & mask, there) for _, mask in self.masks[test]
                              if alive & mask))
            there = context_after_repair(self.effort, repair)
            return (weight * float(self.repair_minutes(context)[repair])
                    + cost(alive & ~self.cures[repair], there))

        return cost((1 << self.rows) - 1, self.effort.start)


def random_problem(rng: np.random.Generator, rows: int, tests: int, repair_minutes: float,
                   switching: bool) -> Problem:
    """A chain of things to fail: prefix and range tests, some dead, over three places."""
    made = MadeUp()
    travel = 3.0 if switching else 0.0
    places = [*made.places.values()]
    made.places = {p.id: type(p)(p.id, p.says, travel if p.beside else 0.0, p.beside, p.origin)
                   for p in places}
    if not switching:
        made.conditions = {name: type(c)(c.id, c.says, c.after, c.steps, c.dead, 0.0, 0.0, 0.0,
                                         c.cautions, c.origin)
                           for name, c in made.conditions.items()}
    names = list(made.places)
    outcome = np.zeros((rows, tests), dtype=np.int64)
    for t in range(tests):
        low, high = sorted(rng.integers(0, rows + 1, 2).tolist())
        dead = rng.random() < 0.4
        inside = np.arange(rows) < high
        if dead:
            inside &= np.arange(rows) >= low
        outcome[:, t] = np.where(inside, 1 + (rng.random(rows) < 0.3), 0)
        made.test(f"t{t}", 0.0, minutes=float(rng.uniform(1.0, 5.0)),
                  place=names[int(rng.integers(len(names)))],
                  when="isolated" if dead else ("ready", "up")[int(rng.integers(2))])
    repair = rng.integers(0, max(2, rows * 3 // 4), rows)
    _, repair = np.unique(repair, return_inverse=True)
    for r in range(int(repair.max()) + 1):
        made.cause(f"c{r}", {}, remedy=f"r{r}", place=names[int(rng.integers(len(names)))],
                   repair=float(repair_minutes * rng.lognormal(0.0, 0.7)), proof=2.0)
    prior = rng.dirichlet(np.full(rows, 0.8))
    return Problem(effort_of(made.prediction()), outcome, prior, repair)
