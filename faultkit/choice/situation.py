"""The situation that a choice is made in: live rows, open tests, where one stands, and minutes."""

from collections.abc import Collection
from dataclasses import dataclass

import networkx as nx
import numpy as np

from faultkit.belief import Belief, Hypotheses
from faultkit.choice.costs import Context, Effort, combined_repairs, own_minutes, test_costs
from faultkit.choice.outcomes import Forecast, forecast
from faultkit.graph import missing_needs, splitting_tests
from faultkit.prediction.table import Floats, Ints

COVERED = 0.999
"""Probability that the live rows cover; the rest is too improbable to plan for."""
MOST_ROWS = 400
LIVE = 1e-3
"""Causes at least this probable are live: what they move can be offered."""


@dataclass(frozen=True, slots=True, eq=False)
class Situation:
    """What is live and what is open. A rows, T tests, K outcomes, R repairs."""

    effort: Effort
    context: Context
    forecast: Forecast
    weight: Floats
    """(A,) probability of each live row, sums to 1."""
    repair: Ints
    """(A,) repair each row calls for; R for the unknown fault, which has none."""
    repairs: tuple[tuple[int, ...], ...]
    """Remedies, by index, of each repair; two for a pair of causes."""
    minutes: Floats
    """(T,) minutes of each test from here, tests that must come first included."""
    extra: Floats
    """(T,) part of `minutes` for tests that must come first."""
    travel: Floats
    changing: Floats
    first: tuple[str, ...]
    """(T) test to make now: the test itself, or the first that must come before it."""


def situation(space: Hypotheses, belief: Belief, graph: "nx.DiGraph[str]", effort: Effort,
              context: Context, done: Collection[str], barred: Collection[str],
              also: str = "") -> Situation:
    """What can be chosen from now.

    Parameters
    ----------
    done
        Tests already made: they count as prerequisites.
    barred
        Tests not to be offered: skipped, or made and not in doubt.
    also
        A test to be among them in any case, barred or not.
    """
    machine = space.prediction.machine
    rows = _live_rows(belief)
    names = [c.id for c in space.prediction.causes]
    live = {names[c] for i in np.flatnonzero(belief.suspects >= LIVE)
            for c in space.suspects[int(i)].causes}
    tests, first = _open_tests(space, graph, live, done, frozenset(barred) - {also}, also)
    cast = forecast(space, belief, rows, tests)
    minutes, travel, changing = test_costs(effort, context)
    weight = belief.rows[rows]
    repairs, repair = _repairs(space, effort, rows)
    before = np.array([
        sum(own_minutes(machine, machine.tests[n])
            for n in missing_needs(graph, space.prediction.tests[t].id, done))
        for t in tests]) if tests.size else np.zeros(0)
    return Situation(effort, context, cast, weight / weight.sum(), repair, repairs,
                     minutes[tests] + before, before, travel[tests], changing[tests], first)


def _live_rows(belief: Belief) -> Ints:
    """The most probable rows that cover nearly everything, and the unknown one."""
    order = np.argsort(-belief.rows[:-1], kind="stable")
    covered = np.cumsum(belief.rows[order]) / max(1.0 - belief.unknown, 1e-300)
    count = min(int(np.searchsorted(covered, COVERED)) + 1, MOST_ROWS, order.size)
    return np.append(np.sort(order[:count]), belief.rows.size - 1)


def _open_tests(space: Hypotheses, graph: "nx.DiGraph[str]", live: Collection[str],
                done: Collection[str], barred: Collection[str],
                also: str) -> tuple[Ints, tuple[str, ...]]:
    """Tests that split the live causes, by index, and what is to be made first for each."""
    chosen: list[int] = []
    first: list[str] = []
    for test in splitting_tests(graph, live) | ({also} if also else frozenset()):
        if test in barred:
            continue
        needs = missing_needs(graph, test, done)
        if test == also or not any(need in barred for need in needs):
            chosen.append(space.test_index[test])
            first.append((*needs, test)[0])
    order = np.argsort(np.array(chosen, dtype=np.int64), kind="stable")
    return (np.array(chosen, dtype=np.int64)[order], tuple(first[int(i)] for i in order))


def _repairs(space: Hypotheses, effort: Effort,
             rows: Ints) -> tuple[tuple[tuple[int, ...], ...], Ints]:
    """What each row calls for, numbered in order of appearance; the unknown fault comes last."""
    number: dict[tuple[int, ...], int] = {}
    repair = np.zeros(rows.size, dtype=np.int64)
    for i, row in enumerate(rows[:-1]):
        causes = space.suspects[int(space.suspect[row])].causes
        remedies = {effort.remedy_index[space.prediction.causes[c].remedy] for c in causes}
        repair[i] = number.setdefault(tuple(sorted(remedies)), len(number))
    repair[-1] = len(number)
    return tuple(number), repair


def repair_minutes(now: Situation, context: Context) -> tuple[Floats, Floats]:
    """(R,) minutes of each repair from a context: as the next thing done, and later."""
    return combined_repairs(now.effort, context, now.repairs)


def repair_probability(now: Situation) -> Floats:
    """(R,) probability of each repair; the unknown fault is what is missing to 1."""
    count = len(now.repairs)
    return np.bincount(now.repair, now.weight, minlength=count + 1)[:count].astype(np.float64)
