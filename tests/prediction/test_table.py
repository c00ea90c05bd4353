"""The table of a small machine: shapes, the healthy row, the author's word, what is dropped."""

from math import inf, isinf

import numpy as np
import pytest

from faultkit.circuit.circuit import Circuit
from faultkit.prediction import predict
from faultkit.prediction.predict import tells_apart
from tests.prediction.rung import RUNG, cell, chance, column_of, machine, row_of, rung, table


def test_the_table_has_a_row_for_each_severity_and_the_healthy_one_last() -> None:
    t = table()
    severities = [max(1, len(cause.variants)) for cause in t.causes]
    assert len(t.owner) == sum(severities) + 1
    assert np.bincount(t.owner[:-1]).tolist() == severities
    assert t.owner[-1] == -1
    assert t.owner[:-1].tolist() == sorted(t.owner[:-1].tolist())


def test_the_severities_of_a_cause_share_its_probability() -> None:
    t = table()
    shares = np.bincount(t.owner[:-1], t.share[:-1])
    assert shares == pytest.approx(np.ones(len(t.causes)))
    assert t.share[-1] == 1
    assert t.share[row_of(t, "either")] == 0.5


def test_every_column_fits_every_row() -> None:
    t = table()
    v, n, s = len(t.owner), len(t.tests), len(t.symptoms)
    assert t.value.shape == t.level.shape == t.sigma.shape == t.by_hand.shape == (v, n)
    assert t.word_p.shape == (v, n, max(len(words) for words in t.words))
    assert t.symptom_p.shape == (v, s)
    assert t.chatters.shape == (v, len(rung().conditions))
    assert len(t.words) == n


def test_a_test_gives_either_numbers_or_words_under_every_cause() -> None:
    t = table()
    for k, test in enumerate(t.tests):
        if t.words[k]:
            assert np.isnan(t.value[:, k]).all(), test.id
            assert t.word_p[:, k].sum(axis=1) == pytest.approx(np.ones(len(t.owner)))
        else:
            assert not np.isnan(t.value[:, k]).any(), test.id
            assert not t.word_p[:, k].any(), test.id
    assert (t.sigma > 0).all()
    assert ((t.symptom_p >= 0) & (t.symptom_p <= 1)).all()


def test_the_healthy_row_is_the_machine_as_its_diagram_says() -> None:
    t = table()
    # 110 V at rated load; a coil in and a lamp are little load, so nearly the no-load voltage
    assert 110 < cell(t, "value", "", "coil") < 115
    assert cell(t, "level", "", "coil") == pytest.approx(cell(t, "value", "", "coil"))
    # coil and lamp side by side: 70 ohm and 110 V squared over 2 W
    assert cell(t, "value", "", "coil-ohm") == pytest.approx(1 / (1 / 70 + 2 / 110**2), rel=1e-3)
    assert cell(t, "level", "", "coil-ohm") == 0
    assert cell(t, "value", "", "pull") == pytest.approx(0.02)
    assert chance(t, "", "look", "in") > 0.98
    assert chance(t, "", "smell", "none") > 0.98
    assert cell(t, "value", "", "gap") == pytest.approx(0.45)
    assert t.symptom_p[-1].tolist() == [0, 0]


def test_a_generated_cause_is_what_the_circuit_computes() -> None:
    t = table()
    assert cell(t, "value", "F3.1-2.open", "coil") < 0.01
    assert isinf(cell(t, "value", "F3.1-2.open", "pull"))
    assert chance(t, "F3.1-2.open", "look", "out") > 0.98
    assert t.symptom_p[row_of(t, "F3.1-2.open")].tolist() == [1, 0]
    assert cell(t, "value", "Q1.coil-open", "coil-ohm") == pytest.approx(110**2 / 2, rel=1e-3)


def test_each_severity_has_its_own_readings() -> None:
    t = table()
    assert cell(t, "value", "either", "coil", 0) < 0.01
    assert cell(t, "value", "either", "coil", 1) == pytest.approx(
        cell(t, "value", "", "coil"), rel=1e-2)


def test_the_authors_word_overrides_what_is_computed_and_nothing_else() -> None:
    t = table()
    assert cell(t, "value", "burnt", "coil") == 70
    assert cell(t, "level", "burnt", "coil") == 0
    # a range of 60 .. 80 holds four deviations
    assert cell(t, "sigma", "burnt", "coil") == pytest.approx(5)
    assert cell(t, "by_hand", "burnt", "coil")
    assert cell(t, "value", "burnt", "coil-ohm") == cell(t, "value", "Q1.coil-open", "coil-ohm")
    assert not cell(t, "by_hand", "burnt", "coil-ohm")
    assert chance(t, "burnt", "smell", "burnt") == pytest.approx(0.8, abs=0.02)
    assert t.symptom_p[row_of(t, "burnt")].tolist() == [1, 0.9]


def test_a_cause_without_wiring_is_healthy_but_for_the_authors_word() -> None:
    t = table()
    own, healthy = row_of(t, "worn"), row_of(t, "")
    different = [t.tests[k].id for k in range(len(t.tests))
                 if not np.array_equal(t.value[own, k], t.value[healthy, k], equal_nan=True)]
    assert different == ["coil-ohm", "gap"]
    assert cell(t, "value", "worn", "gap") == pytest.approx(1.2)
    assert cell(t, "value", "worn", "coil-ohm") == inf


def test_a_hand_written_test_reads_healthy_under_every_other_cause() -> None:
    t = table()
    others = [k for k in range(len(t.owner)) if k != row_of(t, "worn")]
    assert np.unique(t.value[others, column_of(t, "gap")]).tolist() == [pytest.approx(0.45)]
    assert t.by_hand[:, column_of(t, "gap")].all()


def test_generated_tests_that_tell_nothing_are_dropped_and_named_ones_are_kept() -> None:
    ids = {test.id for test in table().tests}
    assert {"silly/-Q1:A2/rest", "silly/-Q1:A2/held"} <= set(rung().tests)
    assert not any(name.startswith("silly") for name in ids)
    assert {"walk/-T1:3/rest", "walk/-S1:14/held", "coil", "gap", "smell"} <= ids
    named = machine(RUNG.replace(
        "  smell:", "  dull: {does: x, meter: V AC, between: [-T1:4, -Q1:A2], in: held}\n"
                    "  smell:"))
    assert "dull" in {test.id for test in predict(named).tests}


def test_the_order_of_tests_is_that_of_the_machine() -> None:
    t = table()
    order = list(rung().tests)
    kept = [order.index(test.id) for test in t.tests]
    assert kept == sorted(kept)


def test_a_given_circuit_is_used_and_gives_the_same_table() -> None:
    circuit = Circuit(rung())
    again = predict(rung(), circuit=circuit)
    assert circuit.solver.solves > 100
    assert np.allclose(again.value, table().value, rtol=1e-6, atol=1e-6, equal_nan=True)
    assert np.array_equal(again.word_p, table().word_p)


def test_whoever_waits_is_told_how_far_the_table_is() -> None:
    told: list[tuple[int, int]] = []
    t = predict(rung(), narrate=lambda done, all_: told.append((done, all_)))
    assert told
    assert {total for _, total in told} == {len(t.owner)}
    assert [done for done, _ in told] == sorted(done for done, _ in told)


def test_the_voltage_behind_a_contact_that_should_be_closed_hangs_in_the_air() -> None:
    """With coil and lamp behind it a point is tied to the return; with neither it is not."""
    t = table()
    point = "walk/-F3:2/rest"
    assert cell(t, "sigma", "S1.13-14.open", "walk/-S1:14/held") < 1
    assert cell(t, "sigma", "F3.1-2.open", point) > 20
    assert cell(t, "sigma", "", point) < 5


@pytest.mark.parametrize(("value", "sigma", "apart"), [
    ([110, 110, 110], [3, 3, 3], False), ([110, 111, 109], [3, 3, 3], False),
    ([110, 0.0, 110], [3, 0.3, 3], True), ([inf, inf], [1, 1], False),
    ([inf, 70], [1, 4], True),
    # a chattering row that reads most of all does not hide that 0 and 110 V differ
    ([0.0, 110, 115], [0.3, 3, 50], True),
    # insulation is known to a third only, but 0.1 and 100 Mohm differ
    ([1e5, 1e8], [3e4, 3e7], True), ([8e7, 1e8], [2.4e7, 3e7], False)])
def test_a_test_tells_apart_what_lies_outside_the_spread_of_some_row(
    value: list[float], sigma: list[float], *, apart: bool,
) -> None:
    assert tells_apart(np.array(value), np.array(sigma), np.zeros((len(value), 1))) == apart


@pytest.mark.parametrize(("words", "apart"), [
    ([[1.0, 0.0], [1.0, 0.0]], False), ([[1.0, 0.0], [0.0, 1.0]], True),
    ([[0.6, 0.4], [0.4, 0.6]], False)])
def test_words_are_told_apart_by_their_probabilities(
    words: list[list[float]], *, apart: bool,
) -> None:
    empty = np.full(2, np.nan)
    assert tells_apart(empty, np.ones(2), np.array(words)) == apart


def test_a_row_tells_in_which_conditions_relays_chatter_and_what_is_read_then_is_vague() -> None:
    """The contactor's own NC contact in its coil: it buzzes while the button is held."""
    buzzing = machine(RUNG.replace('"7": [-S1:14, -Q1:A1, -H1:X1]',
                                   '"7": [-S1:14, -Q1:21, -H1:X1]\n  "8": [-Q1:22, -Q1:A1]'))
    t = predict(buzzing)
    conditions = list(buzzing.conditions)
    assert t.chatters[-1].tolist() == [name == "held" for name in conditions]
    assert chance(t, "", "look", "chatters") > 0.98
    lamp = f"walk/-S1:14/{conditions[-1]}"
    share = cell(t, "sigma", "", lamp) / cell(t, "value", "", lamp)
    assert share == pytest.approx(0.425, abs=0.01)
    assert not t.chatters[row_of(t, "Q1.stuck-out")].any()


def test_the_table_knows_what_blows_a_fuse_and_in_which_condition_first() -> None:
    t = table()
    conditions = list(rung().conditions)
    assert t.blows.shape == (len(t.owner), 1)
    assert conditions[t.blows[row_of(t, "Q1.coil-short"), 0]] == "held"
    assert t.blows[row_of(t, "Q1.coil-open"), 0] == -1
    assert t.blows[-1, 0] == -1
