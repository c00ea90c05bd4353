"""What repairs have taught, beside what the author says."""

import pytest

from faultkit.belief import Learned, hypotheses, learned_from, weights
from faultkit.graph import build_graph
from faultkit.job.knowledge import know
from faultkit.prediction.table import Prediction
from tests.belief.made_up import MadeUp


@pytest.fixture
def three() -> Prediction:
    made = MadeUp(unknown=0.1)
    made.test("t", 1.0)
    made.cause("a", {"t": 5.0}, weight=3.0, remedy="fix")
    made.cause("b", {"t": 9.0}, weight=1.0, remedy="fix")
    made.cause("c", {"t": 15.0}, weight=4.0)
    return made.prediction()


def prior(table: Prediction, learned: Learned | None) -> list[float]:
    return [float(p) for p in hypotheses(table, build_graph(table), learned).prior]


def test_without_history_the_author_is_right(three: Prediction) -> None:
    assert prior(three, None) == prior(three, Learned({})) == pytest.approx(
        [0.9 * 3 / 8, 0.9 / 8, 0.9 * 4 / 8, 0.1])


def test_history_counts_like_the_mean_of_a_dirichlet(three: Prediction) -> None:
    # (strength * share + count) / (strength + total), by hand: strength 8, six repairs of b
    found = prior(three, Learned({"b": 6.0}, strength=8.0))
    assert found == pytest.approx([0.9 * 3 / 14, 0.9 * 7 / 14, 0.9 * 4 / 14, 0.1])


def test_much_history_outweighs_the_author_and_the_unknown_fault_keeps_its_place(
        three: Prediction) -> None:
    found = prior(three, Learned({"b": 1e6}))
    assert found[1] == pytest.approx(0.9, abs=1e-3)
    assert found[3] == pytest.approx(0.1)


def test_a_cause_that_never_occurred_is_never_impossible(three: Prediction) -> None:
    assert min(prior(three, Learned({"b": 1e6}))) > 0.0


def test_causes_of_another_version_and_negative_counts_are_ignored(three: Prediction) -> None:
    assert prior(three, Learned({"gone": 100.0, "a": -5.0})) == prior(three, None)


def test_a_confirmed_remedy_is_shared_out_over_its_causes(three: Prediction) -> None:
    learned = learned_from(three.causes, {"fix": 4.0, "c.replace": 1.0, "other": 9.0})
    assert learned.counts == pytest.approx({"a": 3.0, "b": 1.0, "c": 1.0})


def test_both_weights_stand_side_by_side(three: Prediction) -> None:
    rows = weights(three.causes, Learned({"b": 6.0}, strength=8.0))
    assert [r.cause for r in rows] == ["a", "b", "c"]
    assert [r.author for r in rows] == pytest.approx([3 / 8, 1 / 8, 4 / 8])
    assert [r.learned for r in rows] == pytest.approx([3 / 14, 7 / 14, 4 / 14])
    assert [r.count for r in rows] == [0.0, 6.0, 0.0]
    assert [r.learned for r in weights(three.causes, None)] == [r.author for r in rows]


def test_a_job_can_be_worked_out_with_history_or_without(three: Prediction) -> None:
    learned = Learned({"b": 6.0})
    assert know(three, learned=learned).space.prior.tolist() == prior(three, learned)
    assert know(three).space.prior.tolist() == prior(three, None)
