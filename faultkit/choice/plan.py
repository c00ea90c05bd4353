"""Look ahead: expected minutes to a proven repair if a simple rule decides from there on.

A *rollout* (Bertsekas & Castanon 1999 use the word for this): each of the best few actions is
followed by a base rule to the end, and the action with the fewest expected minutes is taken.
The base rule makes the test with the most information about the remedy per minute and stops
measuring wherever that is cheaper, which it knows exactly because it looks to the end. Where
few repairs are left it also tries the test that would save most if it were the last one, and
the best repair.

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
from faultkit.choice.gain import GainTable, gain_table, gains, narrowed, xlog2x
from faultkit.choice.repair import repair_order, stop_value
from faultkit.prediction.table import Floats, Ints

NEVER = 0.02
"""Outcomes less probable than this under a row are left out while looking ahead."""
FINE, COARSE = 0.002, 0.03
"""Branches less probable than this are not followed: fine where few repairs are possible, and
repaired from there, so that values are those of a policy and never too low; coarse where many
are, and estimated from there."""
MANY = 12
"""Number of repairs from which on looking ahead is coarse."""
LIKELY, FEW = 0.02, 8
"""Branches at least this probable, with at most so many repairs left, are looked into more
closely."""
LEAST_GAIN = 1e-6
"""A test that tells less than this many bits splits nothing."""
BRANCHES, BRANCHES_COARSELY = 100, 30
"""Tests and repairs followed for one action, fine and coarse; what is beyond is taken as above.
More of them in a coarse look ahead changed neither the minutes nor the findings of whole jobs."""


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


@dataclass(frozen=True, slots=True, eq=False)
class View:
    """The rows that are still possible at some point ahead."""

    rows: Ints
    """(A,) rows of the prospect."""
    repair: Ints
    """(A,) repair of each row, counted in `repairs`; beyond the last for one that has none."""
    repairs: Ints
    """(R,) repairs of the prospect that some row calls for."""
    table: GainTable
    belongs: Floats
    """(R, A) 1 where a row calls for a repair."""

    def probability(self, weight: Floats) -> Floats:
        """(R,) probability of each repair."""
        return np.asarray(self.belongs @ weight)


@dataclass(slots=True, eq=False)
class Planner:
    """Values of the base rule, remembered while one decision is made."""

    prospect: Prospect
    whole: View = field(init=False)
    coarse: bool = field(init=False)
    """Whether so many repairs are possible that looking ahead has to be coarse."""
    grain: float = field(init=False)
    """Branches less probable than this are not followed."""
    left: int = 0
    _known: dict[tuple[Context, int, bytes, bytes], float] = field(default_factory=dict)
    _views: dict[bytes, View] = field(default_factory=dict)
    _minutes: dict[Context, Floats] = field(default_factory=dict)
    _repairs: dict[Context, tuple[Floats, Floats]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        rows = np.arange(self.prospect.repair.size)
        table = gain_table(self.prospect.p, self.prospect.repair)
        self.whole = self._view(rows, table)
        self.coarse = self.whole.repairs.size > MANY
        self.grain = COARSE if self.coarse else FINE
        self.look_afresh()

    def _view(self, rows: Ints, table: GainTable) -> View:
        repair = self.prospect.repair[rows]
        known = np.unique(repair[repair < len(self.prospect.repairs)])
        return View(rows, np.searchsorted(known, repair), known, table,
                    (known[:, np.newaxis] == repair).astype(np.float64))

    def narrow(self, view: View, weight: Floats) -> tuple[View, Floats]:
        """View of the rows with a weight, and their weights."""
        alive = np.flatnonzero(weight)
        if alive.size == view.rows.size:
            return view, weight
        rows = view.rows[alive]
        key = rows.tobytes()
        if key not in self._views:
            table = narrowed(view.table, alive, self.prospect.repair[rows])
            self._views[key] = self._view(rows, table)
        return self._views[key], weight[alive]

    def minutes(self, context: Context) -> Floats:
        """(T,) minutes of each test from a context."""
        if context not in self._minutes:
            every, _, _ = test_costs(self.prospect.effort, context)
            self._minutes[context] = every[self.prospect.tests] + self.prospect.extra
        return self._minutes[context]

    def repair_minutes(self, view: View, context: Context) -> tuple[Floats, Floats]:
        """(R,) minutes of each repair from a context: next, and later."""
        if context not in self._repairs:
            self._repairs[context] = combined_repairs(
                self.prospect.effort, context, self.prospect.repairs)
        first, later = self._repairs[context]
        return first[view.repairs], later[view.repairs]

    def stop(self, view: View, weight: Floats, context: Context) -> float:
        """Minutes when nothing more is measured, times the weight."""
        first, later = self.repair_minutes(view, context)
        return float(stop_value(view.probability(weight), later, first,
                                np.asarray(weight.sum()), self.prospect.giving_up))

    def follow(self, view: View, weight: Floats, context: Context, used: int,
               rate: float) -> float:
        """Minutes under the base rule, times the weight.

        Parameters
        ----------
        view : View
        weight : (A,)
            Probability of each row and of getting here.
        context : Context
        used : int
            Tests made on the way, as bits.
        rate : float
            Bits per minute that the last test gave, for an estimate.
        """
        if weight.sum() < self.grain or self.left <= 0:
            return (self._estimate(view, weight, context, rate) if self.coarse
                    else self.stop(view, weight, context))
        view, weight = self.narrow(view, weight)
        stop = self.stop(view, weight, context)
        if view.repairs.size + (view.repair.max() >= view.repairs.size) < 2:
            return stop
        key = (context, used, view.rows.tobytes(), np.round(weight, 9).tobytes())
        if key not in self._known:
            self._known[key] = min(stop, self._go_on(view, weight, context, used))
        return self._known[key]

    def _estimate(self, view: View, weight: Floats, context: Context, rate: float) -> float:
        """Minutes if every bit still missing costs what the last ones did, times the weight."""
        probability, total = view.probability(weight), float(weight.sum())
        missing = xlog2x(np.array(total)) - xlog2x(probability).sum() - xlog2x(
            np.maximum(total - probability.sum(), 0.0))
        first, _ = self.repair_minutes(view, context)
        unknown = max(total - float(probability.sum()), 0.0)
        return float(missing / max(rate, 1e-3) + probability @ first
                     + unknown * self.prospect.giving_up)

    def _go_on(self, view: View, weight: Floats, context: Context, used: int) -> float:
        """Minutes of the best way on other than repairing to the end; inf for none."""
        gain = gains(view.table, weight / weight.sum())
        free = [t for t in np.flatnonzero(gain >= LEAST_GAIN).tolist() if not used >> t & 1]
        if not free:
            return np.inf
        rate = gain / np.maximum(self.minutes(context), 1e-9)
        best = max(free, key=lambda t: float(rate[t]))
        tests = {best}
        repairs: list[int] = []
        if weight.sum() >= LIKELY and view.repairs.size <= FEW:
            saving = self.one_test_then_repair(view, weight, context)
            tests.add(min(free, key=lambda t: float(saving[t])))
            repairs = self.best_repairs(view, weight, context, 1)
        bits = float(rate[best])
        return min([*(self.after_test(view, weight, context, used, t, bits) for t in sorted(tests)),
                    *(self.after_repair(view, weight, context, used, r, bits) for r in repairs)])

    def look_afresh(self) -> None:
        """Grant the branches that one more action may take."""
        self.left = BRANCHES_COARSELY if self.coarse else BRANCHES

    def after_test(self, view: View, weight: Floats, context: Context, used: int, test: int,
                   rate: float) -> float:
        """Minutes when this test comes next and the base rule decides from there on."""
        self.left -= 1
        value = float(self.minutes(context)[test]) * float(weight.sum())
        there = context_after_test(self.prospect.effort, int(self.prospect.tests[test]))
        for outcome in range(int(view.table.begins[test]), int(view.table.begins[test + 1])):
            branch = weight * view.table.p[:, outcome]
            if branch.any():
                value += self.follow(view, branch, there, used | 1 << test, rate)
        return value

    def after_repair(self, view: View, weight: Floats, context: Context, used: int, repair: int,
                     rate: float) -> float:
        """Minutes when this repair (counted in the view) comes next and did not cure."""
        self.left -= 1
        first, _ = self.repair_minutes(view, context)
        value = float(first[repair]) * float(weight.sum())
        remedy = self.prospect.repairs[int(view.repairs[repair])][-1]
        there = context_after_repair(self.prospect.effort, remedy)
        rest = np.where(view.repair == repair, 0.0, weight)
        return value + (self.follow(view, rest, there, used, rate) if rest.any() else 0.0)

    def one_test_then_repair(self, view: View, weight: Floats, context: Context) -> Floats:
        """(T,) minutes when one test is made and then repaired by what it showed."""
        begins = view.table.begins
        there = [context_after_test(self.prospect.effort, int(t)) for t in self.prospect.tests]
        both = [self.repair_minutes(view, c) for c in there]
        of_test = np.repeat(np.arange(begins.size - 1), np.diff(begins))
        first = np.array([f for f, _ in both])[of_test]
        later = np.array([c for _, c in both])[of_test]
        joint = view.belongs @ (weight[:, np.newaxis] * view.table.p)
        after = stop_value(joint.T, later, first, weight @ view.table.p, self.prospect.giving_up)
        return np.asarray(self.minutes(context) * weight.sum()
                          + np.add.reduceat(after, begins[:-1]))

    def best_repairs(self, view: View, weight: Floats, context: Context, number: int) -> list[int]:
        """The first few repairs (counted in the view) in the best order."""
        first, _ = self.repair_minutes(view, context)
        return [int(r) for r in repair_order(view.probability(weight), first)[:number]]


def honest(p: Floats) -> Floats:
    """(A, T, K) outcomes with what hardly ever happens left out."""
    kept = np.where(p < NEVER, 0.0, p)
    return np.asarray(kept / kept.sum(axis=2, keepdims=True))
