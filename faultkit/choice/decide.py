"""Which test next, or none: fewest expected minutes to a proven repair."""

from dataclasses import dataclass

import numpy as np

from faultkit.choice.costs import GIVING_UP
from faultkit.choice.gain import gain_table, gains
from faultkit.choice.plan import Planner, Prospect, honest
from faultkit.choice.saving import one_test_then_repair
from faultkit.choice.situation import Situation
from faultkit.prediction.table import Floats, Ints

BY_RATE = 6
"""Tests looked ahead for, by gain per minute."""
BY_SAVING = 3
"""And by minutes saved if it were the last test."""
REPAIRS = 2
"""Repairs looked ahead for: repair now, go on measuring if it did not cure."""
FOLLOWED = 40
"""Tests that the base rule may choose among while looking ahead."""
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
    """Whether the best test saves minutes."""


def decide(now: Situation, also: int | None = None) -> Decision:
    """Rank all open tests and say whether to measure on.

    Parameters
    ----------
    now : Situation
    also : int, optional
        Column of a test to look ahead for in any case.
    """
    noisy = now.forecast.noisy()
    gain = gains(gain_table(noisy, now.repair), now.weight)
    rate = gain / np.maximum(now.minutes, 1e-9)
    by_rate = np.argsort(-rate, kind="stable")
    saving = one_test_then_repair(now, noisy)
    ahead = list(dict.fromkeys([
        *by_rate[:BY_RATE].tolist(),
        *np.argsort(saving, kind="stable")[:BY_SAVING].tolist(),
        *([] if also is None else [also]),
    ]))
    kept = np.array(list(dict.fromkeys([*ahead, *by_rate[:FOLLOWED].tolist()])), dtype=np.int64)
    planner, weight = _planner(now, kept)
    plan = np.full(gain.size, np.nan)
    for position, column in enumerate(kept[:len(ahead)].tolist()):
        plan[column] = planner.after_test(weight, now.context, 0, position)
    repair = min([planner.stop(weight, now.context), *(
        planner.after_repair(weight, now.context, r)
        for r in planner.best_repairs(weight, now.context, REPAIRS))])
    looked_at = sorted(ahead, key=lambda column: float(plan[column]))
    order = np.array(list(dict.fromkeys([*looked_at, *by_rate.tolist()])), dtype=np.int64)
    best = float(plan[looked_at[0]]) if looked_at else np.inf
    return Decision(order, gain, plan, repair, measure=best < repair)


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
