"""What single readings do to the suspects."""

import math

import numpy as np
import pytest

from faultkit.belief import Belief, hypotheses, support, weigh
from faultkit.errors import UsageError
from faultkit.graph import build_graph
from faultkit.vocabulary.diagnosis import Reading
from tests.belief.made_up import INF, Cell, MadeUp, chain


def weighed(made: MadeUp, told: dict[str, bool], *taken: tuple[str, float | str]) -> Belief:
    prediction = made.prediction()
    space = hypotheses(prediction, build_graph(prediction))
    return weigh(space, told, [
        (test, Reading(None, r) if isinstance(r, str) else Reading(r)) for test, r in taken])


def share(made: MadeUp, belief: Belief, cause: str) -> float:
    return float(belief.suspects[list(made.causes).index(cause)])


def test_before_anything_is_known_the_weights_rule() -> None:
    made = MadeUp(unknown=0.1)
    made.test("t", 0.0)
    made.cause("often", {"t": 9.0}, weight=3.0)
    made.cause("seldom", {"t": 9.0}, weight=1.0)
    belief = weighed(made, {})
    assert share(made, belief, "often") == pytest.approx(0.675)
    assert share(made, belief, "seldom") == pytest.approx(0.225)
    assert belief.unknown == pytest.approx(0.1)


def test_one_reading_weighs_as_bayes_says_by_hand() -> None:
    """Two causes, one number, no share of the supply: densities written out again."""
    made = MadeUp(unknown=0.02)
    made.test("t", (0.0, 0.0, 2.0))
    made.cause("a", {"t": (10.0, 0.0, 2.0)})
    made.cause("b", {"t": (16.0, 0.0, 2.0)}, weight=3.0)
    belief = weighed(made, {}, ("t", 12.0))

    def normal(x: float, mean: float, sd: float) -> float:
        return math.exp(-0.5 * ((x - mean) / sd) ** 2) / (sd * math.sqrt(2 * math.pi))

    def seen(mean: float) -> float:
        return 0.95 * normal(12.0, mean, 2.0) + 0.05 * normal(12.0, mean, 8.0)

    anything = 0.99 / ((16.0 + 10.0) - (0.0 - 10.0))  # range 0..16, margin 5 spreads each side
    expected = np.array([
        0.98 * 0.25 * (0.98 * seen(10.0) + 0.02 * anything),
        0.98 * 0.75 * (0.98 * seen(16.0) + 0.02 * anything),
        0.02 * (0.98 * (0.5 * seen(0.0) + 0.5 * anything) + 0.02 * anything)])
    expected /= expected.sum()
    assert belief.rows == pytest.approx(expected, rel=1e-9)


def test_a_low_supply_once_measured_excuses_a_low_voltage_later() -> None:
    made = MadeUp()
    made.test("supply", (110.0, 110.0, 1.0))
    made.test("coil", (110.0, 110.0, 1.0))
    made.cause("drop", {"coil": (101.0, 101.0, 1.0)})
    made.cause("other", {})
    unmeasured = weighed(made, {}, ("coil", 101.0))
    measured_low = weighed(made, {}, ("supply", 101.5), ("coil", 101.0))
    measured_full = weighed(made, {}, ("supply", 110.0), ("coil", 101.0))
    assert share(made, measured_full, "drop") > 0.95
    assert share(made, measured_low, "drop") < 0.05
    assert share(made, measured_low, "drop") < share(made, unmeasured, "drop") < share(
        made, measured_full, "drop")
    assert measured_low.supply == pytest.approx(0.922, abs=0.01)
    assert measured_full.supply == pytest.approx(1.0, abs=0.01)
    assert measured_low.supply_sd < weighed(made, {}).supply_sd / 2


@pytest.mark.parametrize(("reading", "low", "high"), [
    (INF, 0.9, 1.0), (30e6, 0.8, 1.0), (300.0, 0.0, 0.05), (200.0, 0.0, 0.01)])
def test_an_open_coil_reads_ol_or_a_very_large_number(
    reading: float, low: float, high: float,
) -> None:
    made = MadeUp()
    made.test("coil", (200.0, 0.0, 15.0), meter="ohm", when="isolated")
    made.cause("open", {"coil": INF})
    made.cause("shorted-turns", {"coil": (90.0, 0.0, 15.0)})
    made.cause("elsewhere", {})
    assert low <= share(made, weighed(made, {}, ("coil", reading)), "open") <= high


def test_a_finite_resistance_beyond_the_meter_range_agrees_with_ol() -> None:
    made = MadeUp()
    made.test("gap", (1e9, 0.0, 1e7), meter="ohm", when="isolated")
    made.cause("wet", {"gap": (2e5, 0.0, 3e4)})
    made.cause("elsewhere", {})
    assert share(made, weighed(made, {}, ("gap", INF)), "elsewhere") > 0.9
    assert share(made, weighed(made, {}, ("gap", 1.9e5)), "wet") > 0.9


def test_words_weigh_by_their_table() -> None:
    made = MadeUp()
    made.test("look", "in", words=("in", "out", "chatters"))
    made.cause("a", {"look": {"in": 0.7, "out": 0.3}})
    made.cause("b", {"look": {"in": 0.1, "out": 0.9}})
    belief = weighed(made, {}, ("look", "out"))
    assert share(made, belief, "b") / share(made, belief, "a") == pytest.approx(
        (0.98 * 0.9 + 0.02 / 3) / (0.98 * 0.3 + 0.02 / 3))


def test_an_intermittent_cause_survives_a_healthy_reading() -> None:
    def after(intermittent: float) -> float:
        made = MadeUp()
        made.test("t", 0.0)
        made.cause("loose", {"t": 50.0}, intermittent=intermittent)
        made.cause("other", {})
        return share(made, weighed(made, {}, ("t", 0.0)), "loose")

    assert after(0.2) == pytest.approx(0.2 / 1.2, abs=0.03)
    assert after(0.0) < 0.01


def test_a_reading_that_fits_no_cause_raises_the_unknown_one() -> None:
    made = MadeUp()
    made.test("t", (0.0, 0.0, 1.0))
    made.test("u", (0.0, 0.0, 1.0))
    made.cause("a", {"t": 100.0})
    made.cause("b", {"u": 100.0})
    assert weighed(made, {}, ("t", 50.0), ("u", 50.0)).unknown > 0.9


def test_one_misreading_does_not_lose_the_truth_and_is_named() -> None:
    """S3 is open; the reading at p2 is wrong (a probe on the wrong terminal)."""
    made = chain()
    wrong: tuple[str, float | str] = ("p2", 0.0)
    others: list[tuple[str, float | str]] = [
        ("p1", 110.0), ("p3", 110.0), ("p4", 0.5), ("k1", "out")]
    undecided = weighed(made, {"up": True}, wrong, *others)
    assert share(made, undecided, "S3.open") > 0.2
    assert undecided.wrong[0] + undecided.wrong[2] > 0.95  # p2 or p3, nothing else
    repeated = weighed(made, {"up": True}, wrong, *others, ("p2", 109.0))
    assert share(made, repeated, "S3.open") > 0.95
    assert repeated.wrong[0] > 0.95
    assert max(repeated.wrong[1:]) < 0.05


def test_a_function_that_works_clears_what_would_stop_it() -> None:
    made = MadeUp()
    made.symptom("up")
    made.symptom("down")
    made.test("t", 0.0)
    made.cause("up-only", {"t": 1.0}, shows={"up": 1.0})
    made.cause("both", {"t": 2.0}, shows={"up": 1.0, "down": 1.0})
    belief = weighed(made, {"up": True, "down": False})
    assert share(made, belief, "up-only") > 0.9
    assert share(made, belief, "both") > 0.0


def test_a_complaint_alone_says_nothing_about_a_fault_that_is_not_described() -> None:
    made = chain()
    assert weighed(made, {"up": True}).unknown == pytest.approx(made.unknown, rel=0.05)


def test_evidence_adds_up_to_the_odds() -> None:
    made = MadeUp(unknown=0.02)
    made.test("t", (0.0, 0.0, 1.0))
    made.cause("a", {"t": 20.0})
    made.cause("b", {})
    prediction = made.prediction()
    space = hypotheses(prediction, build_graph(prediction))
    before, after = weigh(space, {}, []), weigh(space, {}, [("t", Reading(20.0))])
    mine = space.suspect == 0
    (bits,), _ = support(after, mine)
    odds = [float(b.rows[mine].sum() / b.rows[~mine].sum()) for b in (before, after)]
    assert bits == pytest.approx(math.log2(odds[1] / odds[0]))


def test_an_unknown_test_or_symptom_is_refused_by_name() -> None:
    with pytest.raises(UsageError, match="nonsense"):
        weighed(chain(), {}, ("nonsense", 1.0))
    with pytest.raises(UsageError, match="sings"):
        weighed(chain(), {"sings": True})


def test_a_pair_that_was_not_predicted_for_a_test_is_judged_broadly() -> None:
    cells: dict[str, Cell] = {"t": (float("nan"), 0.0, 1.0)}
    made = MadeUp()
    made.test("t", (0.0, 0.0, 1.0))
    made.cause("blank", cells)
    made.cause("other", {"t": 50.0})
    belief = weighed(made, {}, ("t", 25.0))
    assert share(made, belief, "blank") > share(made, belief, "other")
