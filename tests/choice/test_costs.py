"""Minutes of tests and repairs, with the way and the switching."""

import numpy as np
import pytest

from faultkit.choice.costs import (
    ENTERING,
    LIVE_SURCHARGE,
    Context,
    context_after_repair,
    effort_of,
    repair_costs,
    test_costs,
)
from faultkit.vocabulary.machine import Place
from faultkit.vocabulary.origin import GENERATED
from tests.belief.made_up import INF, MadeUp, condition

# the function is named like a test but is none; functions declare no such attribute
test_costs.__test__ = False  # type: ignore[attr-defined]


@pytest.fixture
def made() -> MadeUp:
    made = MadeUp()
    made.places["hood"] = Place("hood", "Brake hood", 4.0, "hoist", GENERATED)
    made.places["pendant"] = Place("pendant", "Pendant", 2.0, "panel", GENERATED)
    made.conditions["isolated-up"] = condition("isolated-up", dead=True, minutes=1.0)
    made.test("volts", 110.0, minutes=1.5)
    made.test("look", "in", words=("in", "out"), when="up", minutes=0.2)
    made.test("ohms", 5.0, meter="ohm", when="isolated")
    made.test("ohms-up", 5.0, meter="ohm", when="isolated-up")
    made.test("gap", 0.4, meter="mm", when="isolated", place="hood", minutes=12.0)
    made.cause("coil", {"ohms": INF}, repair=10.0, proof=3.0, place="hood")
    made.cause("setting", {"gap": 1.0}, repair=5.0, proof=1.0, dead=False, place="panel")
    return made


def test_a_test_costs_its_minutes_the_way_the_switching_and_the_care(made: MadeUp) -> None:
    effort = effort_of(made.prediction())
    minutes, travel, changing = test_costs(effort, Context(0, 0))
    assert minutes - ENTERING == pytest.approx([
        1.5 + LIVE_SURCHARGE + 3.0,  # isolated -> ready: restoring
        0.2 + 3.0 + 0.5,             # a look needs no probes; up takes half a minute more
        1.0, 1.0 + 1.0,              # from isolated to isolated with the button held
        12.0 + 10.0])                # panel -> hoist -> hood
    assert travel == pytest.approx([0.0, 0.0, 0.0, 0.0, 10.0])
    assert changing == pytest.approx([3.0, 3.5, 0.0, 1.0, 0.0])


def test_a_job_begins_live_for_nobody_has_isolated_the_machine_yet(made: MadeUp) -> None:
    effort = effort_of(made.prediction())
    assert not effort.dead[effort.start.condition]
    ohms = 2
    assert test_costs(effort, effort.start)[0][ohms] == pytest.approx(8.0 + 1.0 + ENTERING)


def test_going_dead_costs_the_isolation_once_so_dead_tests_come_together(made: MadeUp) -> None:
    effort = effort_of(made.prediction())
    live, dead = Context(0, 1), Context(0, 0)
    ohms = 2
    assert test_costs(effort, live)[0][ohms] == pytest.approx(8.0 + 1.0 + ENTERING)
    assert test_costs(effort, dead)[0][ohms] == pytest.approx(1.0 + ENTERING)


def test_places_are_a_tree_and_the_way_leads_over_the_common_place(made: MadeUp) -> None:
    effort = effort_of(made.prediction())
    names = list(made.places)
    hood, pendant = names.index("hood"), names.index("pendant")
    assert effort.travel[hood, pendant] == pytest.approx(4.0 + 6.0 + 2.0)
    assert np.array_equal(effort.travel, effort.travel.T)
    assert not effort.travel.diagonal().any()


def test_a_repair_costs_way_isolation_work_restoring_and_proof(made: MadeUp) -> None:
    effort = effort_of(made.prediction())
    first, later = repair_costs(effort, Context(0, 1))
    assert first == pytest.approx([10.0 + 3.0 + 10.0 + 8.0 + 3.0, 5.0 + 1.0])
    assert later == pytest.approx(first)
    first, later = repair_costs(effort, Context(0, 0))
    assert first == pytest.approx([10.0 + 3.0 + 10.0 + 3.0, 5.0 + 1.0 + 3.0])
    assert later == pytest.approx([34.0, 6.0])


def test_after_a_repair_one_stands_there_with_the_machine_live(made: MadeUp) -> None:
    effort = effort_of(made.prediction())
    there = context_after_repair(effort, 0)
    assert there.place == list(made.places).index("hood")
    assert not effort.dead[there.condition]
