"""What follows from a state, on small machines written by hand."""

import math

import pytest

from faultkit.errors import UsageError
from faultkit.job.assess import assess, consider, suspected
from faultkit.job.events import (
    ConditionChanged,
    Event,
    ReadingTaken,
    ReadingWithdrawn,
    Repaired,
    SymptomTold,
    TestOffered,
    TestSkipped,
)
from faultkit.job.knowledge import Knowledge, know
from faultkit.job.records import Assessment, JobState, carrying
from faultkit.job.step import step
from faultkit.vocabulary.diagnosis import Reading
from tests.belief.made_up import INF, MadeUp, chain

UP = SymptomTold("up", shows=True)


def took(test: str, reading: float | str) -> ReadingTaken:
    return ReadingTaken(test, Reading(None, reading) if isinstance(reading, str)
                        else Reading(reading))


def after(*events: Event) -> JobState:
    state = JobState("m")
    for event in events:
        state = step(state, event)
    return state


@pytest.fixture(scope="module")
def rung() -> Knowledge:
    return know(chain().prediction())


def found(knowledge: Knowledge, *events: Event) -> Assessment:
    return assess(after(*events), knowledge)


def test_following_the_proposals_leads_to_the_open_contact(rung: Knowledge) -> None:
    """S2 is open, the supply is 3 % low, every reading honest."""
    row = {f"p{i}": 106.7 if i <= 2 else 0.2 for i in range(7)} | {"coil-ohm": 205.0}
    state = after(UP)
    for _ in range(8):
        view = assess(state, rung)
        if view.finding:
            break
        test = view.next[0].test
        state = step(state, took(test, "out" if test == "k1" else row[test]))
    view = assess(state, rung)
    assert view.finding is not None
    assert view.finding.kind == "remedy"
    assert view.finding.remedies == ("S2.replace",)
    assert len(state.entries) <= 5
    assert view.suspects[0].cause == "S2.open"
    assert view.supply_level == pytest.approx(0.97, abs=0.015)


def test_probabilities_of_suspects_and_of_the_unknown_fault_fill_one(rung: Knowledge) -> None:
    view = found(rung, UP, took("p3", 110.0))
    shown = sum(s.probability for s in view.suspects) + view.unknown
    assert 0.99 < shown <= 1.0 + 1e-9
    assert [s.probability for s in view.suspects] == sorted(
        (s.probability for s in view.suspects), reverse=True)


def test_before_shows_the_suspects_without_the_last_reading(rung: Knowledge) -> None:
    earlier = {s.cause: s.probability for s in found(rung, UP, took("p3", 110.0)).suspects}
    now = found(rung, UP, took("p3", 110.0), took("p5", 0.3))
    for suspect in now.suspects:
        if suspect.cause in earlier:
            assert suspect.before == pytest.approx(earlier[suspect.cause])


def test_suspects_are_the_same_where_no_test_is_looked_for(rung: Knowledge) -> None:
    state = after(UP, took("p3", 110.0), took("p5", 0.3), Repaired("S3.replace", cured=False),
                  took("p4", 110.0))
    view = assess(state, rung)
    assert suspected(state, rung) == (view.suspects, view.unknown)


def test_withdrawing_a_reading_gives_exactly_the_assessment_without_it(rung: Knowledge) -> None:
    without = found(rung, UP, took("p3", 110.0))
    withdrawn = found(rung, UP, took("p3", 110.0), took("p5", 0.3), ReadingWithdrawn(2))
    assert repr(withdrawn) == repr(without)


def test_a_skipped_test_is_never_proposed_until_it_is_offered_again(rung: Knowledge) -> None:
    first = found(rung, UP).next[0].test
    skipped = found(rung, UP, TestSkipped(first))
    assert first not in [s.test for s in skipped.next]
    offered = found(rung, UP, TestSkipped(first), TestOffered(first))
    assert repr(offered) == repr(found(rung, UP))  # nan is not equal to nan, but reads the same


def test_a_test_that_was_made_is_not_proposed_again_unless_it_is_in_doubt(
    rung: Knowledge,
) -> None:
    made = found(rung, UP, took("p3", 110.0))
    assert "p3" not in [s.test for s in made.next]
    doubted = found(rung, UP, took("p2", 0.0), took("p1", 110.0), took("p3", 110.0),
                    took("p4", 0.5))
    named = {d.test for d in doubted.doubts}
    assert named
    assert named <= {s.test for s in doubted.next}


def test_outcomes_say_before_what_each_reading_would_mean(rung: Knowledge) -> None:
    view = found(rung, UP)
    p3 = next(s for s in view.next if s.test == "p3")
    assert sum(o.probability for o in p3.outcomes) == pytest.approx(1.0, abs=2e-3)
    full = max(p3.outcomes, key=lambda o: o.low)
    none = min(p3.outcomes, key=lambda o: o.high)
    assert full.reading.startswith("about 110")
    assert none.reading.startswith("below")
    assert "S2.open" in full.rules_out
    assert "S2.open" in none.points_to
    assert full.keeps < len(view.suspects)
    taken = found(rung, UP, took("p3", 110.0))
    assert carrying(s.probability for s in taken.suspects) == full.keeps
    assert tuple(s.cause for s in taken.suspects[:3]) == full.points_to


def test_what_is_left_is_counted_by_the_fewest_causes_that_carry_nine_tenths() -> None:
    assert carrying([0.5, 0.3, 0.15, 0.05]) == 3
    assert carrying([0.05, 0.95]) == 1
    assert carrying([]) == 0


def test_words_and_ol_are_outcomes_of_their_own(rung: Knowledge) -> None:
    outcomes = {s.test: s.outcomes for s in found(rung, UP).next}
    assert {o.reading for o in outcomes["k1"]} == {"in", "out"}
    assert all(math.isnan(o.low) for o in outcomes["k1"])
    opened = [o for o in outcomes["coil-ohm"] if o.reading == "OL"]
    assert opened
    assert math.isinf(opened[0].low)


def test_any_test_can_be_considered_even_a_skipped_one(rung: Knowledge) -> None:
    state = after(UP, TestSkipped("p3"))
    view = consider(state, rung, "p3")
    assert view.test == "p3"
    assert view.gain_bits > 0.5
    assert math.isfinite(view.plan_minutes)
    with pytest.raises(UsageError, match="p99"):
        consider(state, rung, "p99")


def test_minutes_are_those_of_test_way_and_switching(rung: Knowledge) -> None:
    view = found(rung, UP)
    for suggestion in view.next:
        own = rung.machine.tests[suggestion.test].minutes
        assert suggestion.minutes >= own + suggestion.travel + suggestion.changing - 1e-9
    live = next(s for s in view.next if s.test == "p3")
    assert live.changing == pytest.approx(0.5)  # live at the start: only hold UP
    there = next(s for s in found(rung, UP, took("p5", 110.0)).next if s.test == "p3")
    assert there.changing == 0.0


def safety_machine(*, direct: bool) -> MadeUp:
    """An emergency stop with an open contact; a lamp hints at it, its own pins show it."""
    made = MadeUp()
    made.symptom("up")
    made.test("lamp", "lit", words=("lit", "dark"), device="-P1")
    if direct:
        made.test("own", 0.1, meter="ohm", when="isolated", between=("-S0:11", "-S0:12"),
                  minutes=4.0)
    cells: dict[str, float | str] = {"lamp": "dark"}
    if direct:
        cells["own"] = INF
    made.cause("S0.open", cells, device="-S0", safety=True, weight=20.0, shows={"up": 1.0})
    made.cause("other", {}, shows={"up": 1.0}, weight=1.0)
    return made


def test_a_safety_device_must_be_measured_itself_before_its_remedy_is_proposed() -> None:
    knowledge = know(safety_machine(direct=True).prediction())
    hinted = found(knowledge, UP, took("lamp", "dark"))
    assert hinted.suspects[0].probability > 0.95
    assert hinted.finding is None
    assert hinted.next[0].test == "own"
    confirmed = found(knowledge, UP, took("lamp", "dark"), took("own", INF))
    assert confirmed.finding is not None
    assert confirmed.finding.remedies == ("S0.open.replace",)


def test_without_a_direct_test_the_finding_says_that_it_is_not_confirmed() -> None:
    knowledge = know(safety_machine(direct=False).prediction())
    view = found(knowledge, UP, took("lamp", "dark"))
    assert view.finding is not None
    assert "confirmed before the repair" in view.finding.says


def test_causes_that_no_test_splits_are_found_as_a_group_in_the_best_order() -> None:
    made = MadeUp()
    made.symptom("up")
    made.test("t", 0.0)
    made.cause("quick", {"t": 50.0}, weight=1.0, repair=5.0, shows={"up": 1.0})
    made.cause("slow", {"t": 50.0}, weight=1.5, repair=60.0, shows={"up": 1.0})
    made.cause("else", {}, weight=1.0, shows={"up": 1.0})
    view = found(know(made.prediction()), UP, took("t", 50.0), took("t", 50.0))
    assert view.finding is not None
    assert view.finding.kind == "group"
    assert view.finding.remedies == ("quick.replace", "slow.replace")
    assert view.finding.probability > 0.95


def test_a_healthy_machine_is_no_described_fault() -> None:
    made = MadeUp()
    for name in ("a", "b", "c"):
        made.test(name, 0.0)
        made.cause(name, {name: 50.0})
    view = found(know(made.prediction()), took("a", 0.0), took("b", 0.0), took("c", 0.0))
    assert view.unknown > 0.5
    assert view.finding is not None
    assert view.finding.kind == "none"
    assert view.finding.remedies == ()


def agreed(rung: Knowledge, *led: Event) -> Assessment:
    """The finding, after every second look that is asked for; S3 is open."""
    behind = {"p4": 0.2, "p5": 0.2, "p6": 0.2, "k1": 0.0}
    events = list(led)
    for _ in range(6):
        view = found(rung, *events)
        if view.finding is not None:
            return view
        test = view.next[0].test
        events.append(took(test, behind.get(test, 110.0)))
    return found(rung, *events)


def test_evidence_for_a_finding_names_the_readings_that_made_it(rung: Knowledge) -> None:
    view = agreed(rung, UP, took("p3", 110.0), took("p4", 0.3), took("p2", 110.0))
    assert view.finding is not None
    speaks = {e.about: e.bits for e in view.finding.evidence}
    assert speaks["p4"] > 3.0
    assert speaks["p3"] > 3.0
    assert abs(speaks["p2"]) < speaks["p4"]


def test_a_finding_that_one_reading_decides_waits_for_a_second_look(rung: Knowledge) -> None:
    led = (UP, took("p3", 110.0), took("p2", 110.0), took("p4", 0.3))
    waiting = found(rung, *led)
    assert waiting.suspects[0].remedy == "S3.replace"
    assert waiting.finding is None
    assert "number 3" in waiting.next[0].why
    assert waiting.next[0].test != "p2"
    view = agreed(rung, *led)
    assert view.finding is not None
    assert view.finding.remedies[0] == "S3.replace"


def test_a_second_look_that_disagrees_takes_the_finding_back(rung: Knowledge) -> None:
    led = (UP, took("p3", 110.0), took("p2", 110.0), took("p4", 0.3))
    test = found(rung, *led).next[0].test
    view = found(rung, *led, took(test, 110.0))
    assert view.finding is None or view.finding.remedies[0] != "S3.replace"


def test_after_a_repair_that_did_not_cure_its_remedy_is_out(rung: Knowledge) -> None:
    led = (UP, took("p3", 110.0), took("p4", 0.3))
    assert found(rung, *led).suspects[0].remedy == "S3.replace"
    view = found(rung, *led, Repaired("S3.replace", cured=False))
    chances = dict(view.remedies)
    assert chances["S3.replace"] < 0.01
    assert view.finding is None
    assert any("complaint stayed" in note for note in view.notes)


def test_nothing_is_found_before_anything_is_said(rung: Knowledge) -> None:
    view = assess(JobState("m"), rung)
    assert view.finding is None
    assert view.supply_level == 1.0
    assert view.next


def test_what_must_come_first_is_proposed_instead() -> None:
    made = MadeUp()
    made.symptom("up")
    made.test("prove-dead", 0.0, when="isolated", minutes=2.0)
    made.test("ohms", 5.0, meter="ohm", when="isolated", needs=["prove-dead"])
    made.cause("a", {"ohms": INF}, shows={"up": 1.0}, repair=60.0)
    made.cause("b", {}, shows={"up": 1.0}, repair=60.0)
    knowledge = know(made.prediction())
    view = found(knowledge, UP)
    assert view.next[0].test == "prove-dead"
    assert "before" in view.next[0].why
    assert view.next[0].minutes >= 3.0
    assert found(knowledge, UP, took("prove-dead", 0.0)).next[0].test == "ohms"
    assert not found(knowledge, UP, TestSkipped("prove-dead")).next


def test_a_reading_that_no_machine_test_gives_is_refused(rung: Knowledge) -> None:
    with pytest.raises(UsageError, match="nonsense"):
        found(rung, took("nonsense", 1.0))


def test_a_complaint_that_the_finding_does_not_explain_is_named() -> None:
    made = chain()
    made.symptom("horn")
    view = agreed(know(made.prediction()), UP, SymptomTold("horn", shows=True),
                  took("p3", 110.0), took("p4", 0.3), took("p2", 110.0))
    assert view.finding is not None
    assert "does not explain: horn does nothing" in view.finding.says
    alone = found(know(made.prediction()), SymptomTold("horn", shows=True))
    assert any("explains the complaint" in note for note in alone.notes)


def test_what_was_switched_since_the_last_reading_is_not_counted_again() -> None:
    made = MadeUp()
    made.symptom("up")
    made.test("volts", 110.0)
    made.test("ohms", 5.0, meter="ohm", when="isolated")
    made.cause("a", {"ohms": INF}, shows={"up": 1.0}, repair=60.0)
    made.cause("b", {}, shows={"up": 1.0}, repair=60.0)
    knowledge = know(made.prediction())
    dead = ConditionChanged("isolated", dead=True, steps=())
    before = found(knowledge, UP, took("volts", 110.0)).next[0]
    assert before.test == "ohms"
    assert before.changing > 0.0
    after = found(knowledge, UP, took("volts", 110.0), dead).next[0]
    assert after.changing == 0.0
    assert after.minutes == before.minutes - before.changing
    live_again = found(knowledge, UP, dead, took("volts", 110.0)).next[0]
    assert live_again.changing == before.changing
