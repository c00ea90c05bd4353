"""Faults hidden in the bundled hoist and found by following every proposal.

A sample for every run; `python -m tests.benchmarks.every_cause` does all of them and reports.
"""

import numpy as np
import pytest

from faultkit.commands.opening import cache_folder
from faultkit.graph import moved_by
from faultkit.job.finding import made_at
from tests.jobs.trial import Bench, Outcome, bench, double, single

pytestmark = pytest.mark.xdist_group("jobs")

EVERY = 23
"""Every so many causes of some 450 are hidden."""


@pytest.fixture(scope="module")
def on() -> Bench:
    """The hoist, from the cache that the commands use if it is there."""
    return bench("bridge-hoist", cache_folder())


def told(outcomes: list[Outcome]) -> list[Outcome]:
    """Jobs that somebody would call for."""
    return [one for one in outcomes if one.ending != "latent"]


def good(outcomes: list[Outcome]) -> int:
    """Jobs that ended with the right remedy, or one that no test tells from it."""
    return sum(one.ending in ("right", "equal") for one in outcomes)


def test_every_fault_of_a_safety_function_can_be_shown_directly(on: Bench) -> None:
    """A test at its own device moves, so that no finding about safety stays unconfirmed."""
    known = on.knowledge
    unseen = [cause.id for cause in known.prediction.causes if cause.safety and not any(
        made_at(known.machine.tests[test], cause.device)
        for test in moved_by(known.graph, cause.id))]
    assert not unseen


def test_hidden_causes_are_found_in_few_measurements(on: Bench) -> None:
    count = len(on.knowledge.prediction.causes)
    outcomes = told([single(on, cause, 11) for cause in range(3, count, EVERY)])
    assert len(outcomes) >= 12
    assert good(outcomes) >= len(outcomes) - 1, outcomes
    assert sum(one.measurements for one in outcomes) / len(outcomes) < 14


def test_one_wrong_reading_does_not_lose_the_fault(on: Bench) -> None:
    count = len(on.knowledge.prediction.causes)
    outcomes = told([single(on, cause, 12, wrong_reading=True)
                     for cause in range(5, count, 3 * EVERY)])
    assert len(outcomes) >= 4
    assert good(outcomes) >= len(outcomes) - 1, outcomes


def test_of_two_faults_one_is_found_and_after_its_repair_the_other(on: Bench) -> None:
    """Random pairs; the goal is that four in five end so."""
    chance = np.random.default_rng(7)
    count = len(on.knowledge.prediction.causes)
    drawn = [sorted(chance.choice(count, 2, replace=False).tolist()) for _ in range(10)]
    outcomes = told([double(on, (a, b), seed) for seed, (a, b) in enumerate(drawn)])
    assert len(outcomes) >= 8
    assert good(outcomes) >= 0.8 * len(outcomes), outcomes
    assert sum(one.second for one in outcomes) >= 0.8 * len(outcomes), outcomes
