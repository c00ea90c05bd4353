"""Two faults at once."""

from collections.abc import Sequence

import numpy as np

from faultkit.belief import fits_badly, hypotheses, weigh, with_pairs
from faultkit.belief.pairs import KEPT, LOOKED_AT, SECOND, likely_pairs
from faultkit.graph import build_graph
from faultkit.prediction.table import PairRows, Prediction
from faultkit.vocabulary.diagnosis import Reading
from tests.belief.made_up import MadeUp


def lamps(count: int = 6) -> MadeUp:
    """Lamps that fail one by one, each seen by itself."""
    made = MadeUp()
    for i in range(count):
        made.test(f"lamp{i}", (24.0, 0.0, 1.0))
    for i in range(count):
        made.cause(f"bulb{i}", {f"lamp{i}": (0.0, 0.0, 1.0)}, weight=1.0 + i)
    return made


class BothDark:
    """Both lamps dark; counts what it was asked for."""

    def __init__(self, prediction: Prediction) -> None:
        self.prediction = prediction
        self.asked: list[int] = []

    def __call__(self, pairs: Sequence[tuple[int, int]], tests: Sequence[int]) -> PairRows:
        self.asked.append(len(pairs))
        chosen = np.array(list(tests), dtype=np.int64)
        value = np.array([[0.0 if t in pair else 24.0 for t in chosen] for pair in pairs])
        shape = (len(pairs), chosen.size)
        return PairRows(tuple(pairs), np.ones(len(pairs)), chosen, value.reshape(shape),
                        np.zeros(shape), np.ones(shape),
                        np.zeros((*shape, self.prediction.word_p.shape[2])),
                        np.zeros((len(pairs), 0)))


DARK = [("lamp1", Reading(0.1)), ("lamp4", Reading(0.2)), ("lamp0", Reading(24.1)),
        ("lamp2", Reading(23.9))]


def test_two_faults_are_found_when_no_single_one_fits() -> None:
    prediction = lamps().prediction()
    space = hypotheses(prediction, build_graph(prediction))
    assert fits_badly(weigh(space, {}, DARK))
    wide = with_pairs(space, {}, DARK, BothDark(prediction))
    belief = weigh(wide, {}, DARK)
    assert wide.suspects[int(belief.suspects.argmax())].causes == (1, 4)
    assert belief.suspects.max() > 0.5
    assert abs(belief.rows.sum() - 1.0) < 1e-12


def test_a_single_fault_that_fits_asks_for_no_pairs() -> None:
    prediction = lamps().prediction()
    space = hypotheses(prediction, build_graph(prediction))
    assert not fits_badly(weigh(space, {}, [("lamp1", Reading(0.1)), ("lamp2", Reading(24.0))]))


def test_only_the_most_probable_pairs_are_computed() -> None:
    prediction = lamps(12).prediction()
    space = hypotheses(prediction, build_graph(prediction))
    predict = BothDark(prediction)
    with_pairs(space, {}, DARK, predict)
    assert predict.asked == [LOOKED_AT, KEPT]


def test_a_pair_starts_with_the_product_of_its_causes() -> None:
    prediction = lamps(3).prediction()
    space = hypotheses(prediction, build_graph(prediction))
    wide = with_pairs(space, {}, DARK[:1], BothDark(prediction))
    single = space.by_suspect(space.prior)
    double = wide.by_suspect(wide.prior)
    pair = next(i for i, s in enumerate(wide.suspects) if s.causes == (0, 2))
    expected = SECOND * 2.0 * single[0] * single[2] / single.sum()
    assert np.isclose(double[pair] / double[0], expected / single[0])


def test_without_anything_to_compute_them_with_the_single_causes_stay() -> None:
    prediction = lamps(2).prediction()
    space = hypotheses(prediction, build_graph(prediction))

    def none(pairs: Sequence[tuple[int, int]], tests: Sequence[int]) -> PairRows:
        empty = np.zeros((0, len(tests)))
        return PairRows((), np.zeros(0), np.array(list(tests)), empty, empty, empty,
                        np.zeros((0, len(tests), 0)), np.zeros((0, 0)))

    assert with_pairs(space, {}, DARK[:1], none) is space


def test_a_cause_that_moves_everything_now_and_then_does_not_crowd_out_the_right_pair() -> None:
    """An intermittent master fault explains any healthy reading, but not beside a solid one."""
    made = lamps(5)
    everything = {f"lamp{i}": (0.0, 0.0, 1.0) for i in range(5)}
    made.cause("supply", everything, weight=50.0)
    made.cause("loose", everything, weight=50.0, intermittent=0.5)
    prediction = made.prediction()
    space = hypotheses(prediction, build_graph(prediction))
    singles = weigh(space, {}, DARK)
    best = likely_pairs(space, singles, {}, DARK, 4)
    assert (1, 4) in best
    assert (5, 6) not in best  # the dead supply leaves no lamp lit
