"""Laws that hold whatever is measured."""

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from faultkit.belief import Belief, hypotheses, weigh
from faultkit.graph import build_graph
from faultkit.vocabulary.diagnosis import Reading
from tests.belief.made_up import chain

PREDICTION = chain(5).prediction()
SPACE = hypotheses(PREDICTION, build_graph(PREDICTION))
NUMBERS = [t.id for t in PREDICTION.tests if not t.words]

numbers = st.one_of(st.floats(0.0, 1e9), st.just(math.inf)).map(Reading)
one_reading = st.one_of(
    st.tuples(st.sampled_from(NUMBERS), numbers),
    st.tuples(st.just("k1"), st.sampled_from(["in", "out"]).map(lambda w: Reading(None, w))))
readings = st.lists(one_reading, max_size=8)
told = st.dictionaries(st.just("up"), st.booleans())
Taken = list[tuple[str, Reading]]


def same(one: Belief, other: Belief) -> bool:
    return bool(np.array_equal(one.log_joint, other.log_joint)
                and np.array_equal(one.rows, other.rows) and one.supply == other.supply)


@given(told, readings)
@settings(max_examples=60, deadline=None)
def test_probabilities_sum_to_one_and_none_is_zero(said: dict[str, bool], taken: Taken) -> None:
    belief = weigh(SPACE, said, taken)
    assert math.isclose(belief.rows.sum(), 1.0, abs_tol=1e-12)
    assert math.isclose(belief.suspects.sum() + belief.unknown, 1.0, abs_tol=1e-12)
    assert (belief.suspects > 0.0).all()
    assert belief.unknown > 0.0
    assert all(0.0 <= wrong <= 1.0 for wrong in belief.wrong)


@given(told, readings, st.randoms())
@settings(max_examples=60, deadline=None)
def test_the_order_of_readings_does_not_matter_in_the_last_bit(
    said: dict[str, bool], taken: Taken, shuffler: "np.random.Generator",
) -> None:
    mixed = list(taken)
    shuffler.shuffle(mixed)
    assert same(weigh(SPACE, said, taken), weigh(SPACE, said, mixed))


@given(told, readings, one_reading, st.integers(0, 8))
@settings(max_examples=60, deadline=None)
def test_a_reading_that_is_withdrawn_was_never_there(
    said: dict[str, bool], taken: Taken, extra: tuple[str, Reading], where: int,
) -> None:
    with_it = [*taken[:where], extra, *taken[where:]]
    position = min(where, len(taken))
    assert same(weigh(SPACE, said, [*with_it[:position], *with_it[position + 1:]]),
                weigh(SPACE, said, taken))


@given(readings)
@settings(max_examples=60, deadline=None)
def test_one_reading_more_never_moves_odds_beyond_what_a_mistake_allows(taken: Taken) -> None:
    """A reading may be wrong, so a cause loses at most a bounded factor to another one."""
    before = weigh(SPACE, {"up": True}, taken)
    after = weigh(SPACE, {"up": True}, [*taken, ("p3", Reading(0.0))])
    ratio = np.log(after.suspects / before.suspects)
    assert np.ptp(ratio) < math.log(1e5)
