"""Which test next, or none: fewest expected minutes to a proven repair."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faultkit.choice.costs import GIVING_UP, Context
from faultkit.choice.gain import gain_table, gains
from faultkit.choice.plan import LEAST_GAIN, Planner, Prospect, honest
from faultkit.choice.situation import Situation, repair_probability
from faultkit.prediction.table import Floats, Ints

BY_RATE = 6
"""Tests looked ahead for, by gain per minute."""
BY_RATE_COARSELY = 3
"""The same where many repairs are possible, and looking ahead can tell less."""
BY_SAVING = 3
"""And by minutes saved if it were the last test."""
REPAIRS = 2
"""Repairs looked ahead for: repair now, go on measuring if it did not cure."""
FOLLOWED = 32
"""Tests by gain per minute that take part in looking ahead."""
BY_GAIN = 8
"""And by gain alone."""
SLIM, TELLING = 0.4, 0.2
"""Nothing is repaired on less than this probability while a test tells this many bits, even
where trying it would be quicker: changing parts at random breeds new faults."""
COARSE_ERROR = 0.1
"""Share of a plan's minutes that a coarse look ahead may be wrong by."""
PLANNED = 0.99
"""Probability that the rows looked ahead for cover."""


@dataclass(frozen=True, slots=True, eq=False)
class Decision:
    """All open tests weighed, best first, against repairing now."""

    order: Ints
    """(T,) columns of the situation's tests, best first."""
    gain: Floats
    """(T,) bits about the remedy, by column."""
    plan: Floats
    """(T,) expected minutes when this test comes next, by column; nan if not worked out."""
    repair: float
    """Expected minutes when a repair comes next."""
    measure: bool
    """Whether the best test saves minutes, or no repair is probable enough to be tried."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """What looking ahead gives: expected minutes of the best few actions."""

    tests: dict[int, float]
    """Test, counted in the planner's tests -> minutes when it comes next."""
    repairs: dict[int, float]
    """Repair -> minutes when it comes next."""
    stop: float
    """Minutes when nothing more is measured."""


def decide(now: Situation, also: int | None = None) -> Decision:
    """Rank all open tests and say whether to measure on.

    Parameters
    ----------
    now : Situation
    also : int, optional
        Column of a test to look ahead for in any case.
    """
    gain = gains(gain_table(now.forecast.noisy(), now.repair), now.weight)
    by_rate = np.argsort(-gain / np.maximum(now.minutes, 1e-9), kind="stable")
    by_gain = np.argsort(-gain, kind="stable")
    kept = list(dict.fromkeys([*([] if also is None else [also]),
                               *by_rate[:FOLLOWED].tolist(), *by_gain[:BY_GAIN].tolist()]))
    planner, weight = _planner(now, np.array(kept, dtype=np.int64))
    outlook = look_ahead(planner, weight, now.context, 0, None if also is None else 0)
    plan = np.full(gain.size, np.nan)
    for position, minutes in outlook.tests.items():
        plan[kept[position]] = minutes
    looked_at = np.flatnonzero(np.isfinite(plan))
    rank = plan + _doubt(planner, plan, gain / np.maximum(now.minutes, 1e-9))
    looked_at = looked_at[np.argsort(rank[looked_at], kind="stable")]
    order = np.array(list(dict.fromkeys([*looked_at.tolist(), *by_rate.tolist()])), dtype=np.int64)
    repair = min([outlook.stop, *outlook.repairs.values()])
    best = min(outlook.tests.values(), default=np.inf)
    slim = repair_probability(now).max(initial=0.0) < SLIM and gain.max(initial=0.0) >= TELLING
    return Decision(order, gain, plan, repair, measure=bool(best < repair or slim))


def bits_between(now: Situation, mine: NDArray[np.bool_]) -> Floats:
    """(T,) bits by which each open test tells the rows `mine` (A,) from all others."""
    table = gain_table(now.forecast.noisy(), mine.astype(np.int64))
    return np.asarray(gains(table, now.weight))


def _doubt(planner: Planner, plan: Floats, rate: Floats) -> Floats:
    """(T,) minutes by which a plan must beat the plainest choice, most bits per minute.

    A coarse look ahead estimates what it does not follow: a difference of a few percent is its
    own error, and would let a test that tells next to nothing go first.
    """
    if not planner.coarse or np.isnan(plan).all():
        return np.zeros(plan.size)
    plainest = int(np.argmax(np.where(np.isnan(plan), -1.0, rate)))
    doubt = np.full(plan.size, COARSE_ERROR * plan[plainest])
    doubt[plainest] = 0.0
    return doubt


def look_ahead(planner: Planner, weight: Floats, context: Context, used: int,
               also: int | None = None) -> Outlook:
    """Expected minutes of the best few tests and repairs.

    Where many repairs are possible none of them is worth trying, and no test can be the last
    one: only the tests with the most gain per minute are followed.

    Parameters
    ----------
    planner : Planner
    weight : (A,)
        Probability of each row.
    context : Context
    used : int
        Tests already made, as bits.
    also : int, optional
        A test to look ahead for in any case.
    """
    view, weight = planner.narrow(planner.whole, weight)
    stop = planner.stop(view, weight, context)
    gain = gains(view.table, weight / weight.sum())
    if not gain.size:
        return Outlook({}, {}, stop)
    free = [t for t in range(gain.size) if not used >> t & 1 and gain[t] > LEAST_GAIN]
    rate = gain / np.maximum(planner.minutes(context), 1e-9)
    number = BY_RATE_COARSELY if planner.coarse else BY_RATE
    candidates = [*([] if also is None else [also]),
                  *sorted(free, key=lambda t: -float(rate[t]))[:number]]
    tried: list[int] = []
    if not planner.coarse:
        saving = planner.one_test_then_repair(view, weight, context)
        candidates += sorted(free, key=lambda t: float(saving[t]))[:BY_SAVING]
        tried = planner.best_repairs(view, weight, context, REPAIRS)
    bits = float(rate.max())
    tests = {}
    for test in dict.fromkeys(candidates):
        planner.look_afresh()
        tests[test] = planner.after_test(view, weight, context, used, test, bits)
    repairs = {}
    for repair in tried:
        planner.look_afresh()
        repairs[int(view.repairs[repair])] = planner.after_repair(
            view, weight, context, used, repair, bits)
    return Outlook(tests, repairs, stop)


def _planner(now: Situation, columns: Ints) -> tuple[Planner, Floats]:
    """Planner over some tests, and the weight of its rows.

    Rows that call for the same repair and read the same on all these tests are one row.
    """
    order = np.argsort(-now.weight, kind="stable")
    covered = np.cumsum(now.weight[order])
    rows = np.sort(order[:int(np.searchsorted(covered, PLANNED)) + 1])
    p = honest(now.forecast.p[np.ix_(rows, columns)])
    alike = np.column_stack([now.repair[rows], np.round(p.reshape(rows.size, -1), 2)])
    _, first, same = np.unique(alike, axis=0, return_index=True, return_inverse=True)
    weight = np.bincount(same.ravel(), now.weight[rows])
    prospect = Prospect(
        effort=now.effort, p=p[first], repair=now.repair[rows][first], repairs=now.repairs,
        tests=now.forecast.tests[columns], extra=now.extra[columns], giving_up=GIVING_UP)
    return Planner(prospect), weight / weight.sum()
