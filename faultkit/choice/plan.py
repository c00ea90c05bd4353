"""Look ahead: expected minutes to a proven repair if a simple rule decides from there on.

A *rollout* (Bertsekas & Castanon 1999 use the word for this): each of the best few actions is
followed by a base rule to the end, and the action with the fewest expected minutes is taken.
The base rule here makes the test with the most information about the remedy per minute and
stops measuring wherever that is cheaper, which it knows exactly because it looks to the end.

Readings are taken as honest while looking ahead; mistakes are dealt with when they happen.
All values carry the probability of getting there as a factor, so they simply add up.
"""

from dataclasses import dataclass, field

import numpy as np

from faultkit.choice.costs import (
    Context,
    Effort,
    combined_repairs,
    context_after_repair,
    context_after_test,
    test_costs,
)
from faultkit.choice.gain import GainTable, gain_table, gains
from faultkit.choice.repair import repair_order, stop_value
from faultkit.prediction.table import Floats, Ints

NEVER = 0.02
"""Outcomes less probable than this under a row are left out while looking ahead."""
UNLIKELY = 2e-3
"""Branches less probable than this are not followed: repair from there."""
LEAST_GAIN = 1e-6
"""A test that tells less than this many bits splits nothing."""
BRANCHES = 4000
"""Most branches followed in one decision; beyond it, repair from there."""


@dataclass(frozen=True, slots=True, eq=False)
class Prospect:
    """What looking ahead needs. A rows, T tests, K outcomes, R repairs."""

    effort: Effort
    p: Floats
    """(A, T, K) honest outcomes; sums to 1 over K."""
    repair: Ints
    """(A,) repair of each row; R for a fault that has none."""
    repairs: tuple[tuple[int, ...], ...]
    """Remedies, by index, of each repair."""
    tests: Ints
    """(T,) tests by index, for places and conditions."""
    extra: Floats
    """(T,) minutes of tests that must come first."""
    giving_up: float


@dataclass(slots=True, eq=False)
class Planner:
    """Values of the base rule, remembered while one decision is made."""

    prospect: Prospect
    table: GainTable = field(init=False)
    left: int = BRANCHES
    _known: dict[tuple[Context, int, bytes], float] = field(default_factory=dict)
    _minutes: dict[Context, Floats] = field(default_factory=dict)
    _repairs: dict[Context, tuple[Floats, Floats]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.table = gain_table(self.prospect.p, self.prospect.repair)

    def minutes(self, context: Context) -> Floats:
        """(T,) minutes of each test from a context."""
        if context not in self._minutes:
            every, _, _ = test_costs(self.prospect.effort, context)
            self._minutes[context] = every[self.prospect.tests] + self.prospect.extra
        return self._minutes[context]

    def repair_minutes(self, context: Context) -> tuple[Floats, Floats]:
        """(R,) minutes of each repair from a context: next, and later."""
        if context not in self._repairs:
            self._repairs[context] = combined_repairs(
                self.prospect.effort, context, self.prospect.repairs)
        return self._repairs[context]

    def probability(self, weight: Floats) -> Floats:
        """(R,) probability of each repair."""
        count = len(self.prospect.repairs)
        return np.bincount(self.prospect.repair, weight, count + 1)[:count].astype(np.float64)

    def stop(self, weight: Floats, context: Context) -> float:
        """Minutes when nothing more is measured, times the weight."""
        first, later = self.repair_minutes(context)
        return float(stop_value(self.probability(weight), later, first,
                                np.asarray(weight.sum()), self.prospect.giving_up))

    def follow(self, weight: Floats, context: Context, used: int) -> float:
        """Minutes under the base rule, times the weight.

        Parameters
        ----------
        weight : (A,)
            Probability of each row and of getting here.
        context : Context
        used : int
            Tests made on the way, as bits.
        """
        stop = self.stop(weight, context)
        if weight.sum() < UNLIKELY or np.count_nonzero(self.probability(weight)) < 2:
            return stop
        key = (context, used, np.round(weight, 9).tobytes())
        if key not in self._known:
            self._known[key] = min(stop, self._measure_on(weight, context, used, stop))
        return self._known[key]

    def _measure_on(self, weight: Floats, context: Context, used: int, stop: float) -> float:
        if self.left <= 0:
            return stop
        gain = gains(self.table, weight / weight.sum())
        rate = gain / np.maximum(self.minutes(context), 1e-9)
        for test in np.argsort(-rate, kind="stable").tolist():
            if gain[test] < LEAST_GAIN:
                return stop
            if not used >> test & 1:
                return self.after_test(weight, context, used, test)
        return stop

    def after_test(self, weight: Floats, context: Context, used: int, test: int) -> float:
        """Minutes when this test comes next and the base rule decides from there on."""
        self.left -= 1
        value = float(self.minutes(context)[test]) * float(weight.sum())
        there = context_after_test(self.prospect.effort, int(self.prospect.tests[test]))
        for outcome in range(self.prospect.p.shape[2]):
            branch = weight * self.prospect.p[:, test, outcome]
            if branch.any():
                value += self.follow(branch, there, used | 1 << test)
        return value

    def after_repair(self, weight: Floats, context: Context, used: int, repair: int) -> float:
        """Minutes when this repair comes next and, not cured, the base rule decides."""
        first, _ = self.repair_minutes(context)
        value = float(first[repair]) * float(weight.sum())
        remedy = self.prospect.repairs[repair][-1]
        there = context_after_repair(self.prospect.effort, remedy)
        rest = np.where(self.prospect.repair == repair, 0.0, weight)
        return value + (self.follow(rest, there, used) if rest.any() else 0.0)

    def one_test_then_repair(self, weight: Floats, context: Context) -> Floats:
        """(T,) minutes when one test is made and then repaired by what it showed."""
        prospect, count = self.prospect, len(self.prospect.repairs)
        joint = np.zeros((count + 1, *prospect.p.shape[1:]))
        np.add.at(joint, prospect.repair, weight[:, np.newaxis, np.newaxis] * prospect.p)
        there = [context_after_test(prospect.effort, int(t)) for t in prospect.tests]
        first = np.array([self.repair_minutes(c)[0] for c in there]).reshape(-1, 1, count)
        later = np.array([self.repair_minutes(c)[1] for c in there]).reshape(-1, 1, count)
        after = stop_value(np.moveaxis(joint[:count], 0, -1), later, first, joint.sum(axis=0),
                           prospect.giving_up)
        return np.asarray(self.minutes(context) * weight.sum() + after.sum(axis=1))

    def best_repairs(self, weight: Floats, context: Context, number: int) -> list[int]:
        """The first few repairs in the best order."""
        first, _ = self.repair_minutes(context)
        probability = self.probability(weight)
        order = repair_order(probability, first)[:number]
        return [int(r) for r in order if probability[r] > 0.0]


def honest(p: Floats) -> Floats:
    """(A, T, K) outcomes with what hardly ever happens left out."""
    kept = np.where(p < NEVER, 0.0, p)
    return np.asarray(kept / kept.sum(axis=2, keepdims=True))
