"""Two faults at once: computed together, never added up."""

from dataclasses import replace
from math import inf

import numpy as np
import pytest

from faultkit.circuit.circuit import Circuit
from faultkit.prediction import Prediction
from faultkit.prediction.pairs import ROWS_A_PAIR, PairPredictor
from faultkit.prediction.table import PairRows
from tests.prediction.rung import cell, column_of, row_of, rung, table

TESTS = ("coil", "coil-ohm", "look", "smell", "gap", "walk/-S1:14/held")


def index(*causes: str) -> tuple[int, ...]:
    ids = [cause.id for cause in table().causes]
    return tuple(ids.index(cause) for cause in causes)


def pair(one: str, two: str, prediction: Prediction | None = None) -> PairRows:
    t = prediction or table()
    a, b = index(one, two)
    return PairPredictor(t, Circuit(rung()))([(a, b)], [column_of(t, test) for test in TESTS])


def read(rows: PairRows, test: str, row: int = 0) -> float:
    return float(rows.value[row, TESTS.index(test)])


def word(rows: PairRows, test: str) -> str:
    k = TESTS.index(test)
    words = table().words[column_of(table(), test)]
    return words[int(rows.word_p[0, k].argmax())]


def test_a_pair_shows_both_faults_in_one_row() -> None:
    """Neither the jumper alone nor the open coil alone reads like both."""
    rows = pair("jumper", "Q1.coil-open")
    assert rows.owner == (index("jumper", "Q1.coil-open"),)
    assert read(rows, "coil") == pytest.approx(cell(table(), "value", "Q1.coil-open", "coil"))
    # dead, the jumper puts fuse and secondary beside the lamp: 0.1 + 0.03 + 1 ohm
    assert read(rows, "coil-ohm") == pytest.approx(1 / (1 / 1.13 + 2 / 110**2), rel=1e-3)
    assert word(rows, "look") == "out"
    both_open = pair("Q1.coil-open", "H1.burnt")
    assert read(both_open, "coil-ohm") == inf


def test_one_fault_can_hide_the_other() -> None:
    """A jumper across a button whose contact is open: the button's fault is not to be seen."""
    rows = pair("S1.13-14.open", "jumper")
    assert read(rows, "coil") == pytest.approx(cell(table(), "value", "", "coil"), rel=1e-3)
    assert word(rows, "look") == "in"


def test_the_order_of_a_pair_does_not_matter() -> None:
    one, other = pair("jumper", "Q1.coil-open"), pair("Q1.coil-open", "jumper")
    assert np.allclose(one.value, other.value, atol=1e-6, equal_nan=True)
    assert np.array_equal(one.word_p, other.word_p)
    assert np.array_equal(one.symptom_p, other.symptom_p)


def test_pairs_have_the_shapes_that_belong_to_the_table() -> None:
    t = table()
    numbers = [column_of(t, test) for test in TESTS]
    pairs = [index("jumper", "Q1.coil-open"), index("F3.1-2.open", "worn")]
    rows = PairPredictor(t, Circuit(rung()))(
        [(a, b) for a, b in pairs], numbers)
    p, n = len(rows.owner), len(TESTS)
    assert rows.tests.tolist() == numbers
    assert rows.value.shape == rows.level.shape == rows.sigma.shape == (p, n)
    assert rows.word_p.shape == (p, n, t.word_p.shape[2])
    assert rows.symptom_p.shape == (p, len(t.symptoms))
    assert rows.share.shape == (p,)
    assert (rows.sigma > 0).all()


def test_a_pair_with_a_cause_without_wiring_has_the_words_of_both_authors() -> None:
    rows = pair("burnt", "worn")
    assert read(rows, "gap") == pytest.approx(1.2)
    assert read(rows, "coil") == 70
    # the second author's word stands where both speak of one test
    assert read(rows, "coil-ohm") == inf
    assert word(rows, "smell") == "burnt"


def test_either_cause_can_show_a_symptom() -> None:
    """0.9 by the author for one, nothing for the other; what the circuit shows, it shows."""
    rows = pair("burnt", "F3.1-2.open")
    assert rows.symptom_p[0].tolist() == [1, pytest.approx(0.9)]
    causes = list(table().causes)
    other = index("F3.1-2.open")[0]
    causes[other] = replace(causes[other], symptoms={"stinks": 0.5})
    rows = pair("burnt", "F3.1-2.open", replace(table(), causes=tuple(causes)))
    assert rows.symptom_p[0, 1] == pytest.approx(1 - 0.1 * 0.5)


@pytest.mark.parametrize(("one", "two"), [
    ("Q1.coil-open", "burnt"), ("Q1.coil-open", "Q1.coil-short"),
    ("F3.1-2.open", "F3.1-2.poor"), ("Q1.stuck-in", "Q1.stuck-out")])
def test_changes_to_one_target_exclude_each_other(one: str, two: str) -> None:
    rows = pair(one, two)
    assert rows.owner == ()
    assert rows.value.shape == (0, len(TESTS))
    assert rows.word_p.shape == (0, len(TESTS), table().word_p.shape[2])
    assert rows.symptom_p.shape == (0, len(table().symptoms))


def test_severities_that_are_possible_together_share_the_whole_probability() -> None:
    """One of two severities of `either` touches the button's contact, as `S1.13-14.open` does."""
    rows = pair("either", "S1.13-14.open")
    assert len(rows.owner) == 1
    assert rows.share.tolist() == [1]
    all_of_them = pair("either", "F3.1-2.poor")
    assert len(all_of_them.owner) == 4 == ROWS_A_PAIR
    assert all_of_them.share.tolist() == [0.25] * 4
    assert len({tuple(row) for row in all_of_them.value.round(3).tolist()}) > 1


def test_no_pair_has_more_rows_than_are_worth_computing() -> None:
    t = table()
    poor = [cause.id for cause in t.causes if len(cause.variants) > 1]
    a, b = poor[0], next(name for name in poor[1:] if name.split(".")[0] != poor[0].split(".")[0])
    assert len(pair(a, b).owner) <= ROWS_A_PAIR


def test_a_pair_is_computed_once_for_the_same_tests() -> None:
    circuit = Circuit(rung())
    predictor = PairPredictor(table(), circuit)
    numbers = [column_of(table(), test) for test in TESTS]
    asked = [index("jumper", "Q1.coil-open")]
    first = predictor([(a, b) for a, b in asked], numbers)
    solved = circuit.solver.solves
    again = predictor([(a, b) for a, b in asked], numbers)
    assert circuit.solver.solves == solved
    assert np.array_equal(first.value, again.value, equal_nan=True)
    fewer = predictor([(a, b) for a, b in asked], numbers[:2])
    assert np.allclose(fewer.value, first.value[:, :2])


def test_a_pair_that_cannot_be_solved_is_left_out_and_the_next_is_right() -> None:
    """Two ideal jumpers side by side have no single answer; they may spoil nothing after them."""
    t = table()
    jumper = index("jumper")[0]
    causes = list(t.causes)
    ideal = [replace(change, value="0") for change in causes[jumper].variants[0]]
    back = replace(ideal[0], target="-S1:14/-S1:13")
    other = index("worn")[0]
    causes[jumper] = replace(causes[jumper], variants=(tuple(ideal),))
    causes[other] = replace(causes[other], variants=((back,),), expect={})
    circuit = Circuit(rung(), [back])
    predictor = PairPredictor(replace(t, causes=tuple(causes)), circuit)
    numbers = [column_of(t, test) for test in TESTS]
    a, b = index("S1.13-14.open", "Q1.coil-open")
    rows = predictor([(jumper, other), (a, b)], numbers)
    assert rows.owner == ((a, b),)
    fresh = PairPredictor(t, Circuit(rung()))([(a, b)], numbers)
    assert np.allclose(rows.value, fresh.value, atol=1e-6, equal_nan=True)


def test_no_pairs_give_an_empty_table() -> None:
    rows = PairPredictor(table(), Circuit(rung()))([], [column_of(table(), "coil")])
    assert rows.owner == ()
    assert rows.value.shape == (0, 1)
    assert row_of(table(), "") == len(table().owner) - 1
