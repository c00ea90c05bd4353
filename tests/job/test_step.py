"""One event at a time."""

import pytest

from faultkit.errors import UsageError
from faultkit.job.events import (
    BridgeFound,
    BridgeRemoved,
    CalledOut,
    Closed,
    Event,
    LoadSecured,
    ProofMade,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Reopened,
    Repaired,
    RepairWithdrawn,
    SymptomTold,
    SymptomWithdrawn,
    TestOffered,
    TestSkipped,
)
from faultkit.job.records import Entry, JobState, Proof, Repair
from faultkit.job.step import step
from faultkit.vocabulary.diagnosis import Reading

ONE, TWO = Reading(1.0), Reading(2.0)


def after(*events: Event) -> JobState:
    state = JobState("m")
    for event in events:
        state = step(state, event)
    return state


def test_readings_are_numbered_in_the_order_taken_and_numbers_are_never_used_again() -> None:
    state = after(ReadingTaken("a", ONE), ReadingTaken("b", ONE), ReadingWithdrawn(2),
                  ReadingTaken("c", TWO))
    assert state.entries == (Entry(1, "a", ONE), Entry(3, "c", TWO))
    assert state.taken == 3


def test_a_changed_reading_keeps_its_number_and_place() -> None:
    state = after(ReadingTaken("a", ONE), ReadingTaken("b", ONE), ReadingChanged(1, TWO))
    assert state.entries == (Entry(1, "a", TWO), Entry(2, "b", ONE))


@pytest.mark.parametrize("event", [ReadingChanged(7, ONE), ReadingWithdrawn(7)])
def test_a_reading_that_is_not_there_cannot_be_changed(event: Event) -> None:
    with pytest.raises(UsageError, match="no reading 7"):
        after(ReadingTaken("a", ONE), event)


def test_a_reading_from_before_the_repair_cannot_be_changed_any_more() -> None:
    with pytest.raises(UsageError, match="before the last repair"):
        after(ReadingTaken("a", ONE), Repaired("r", cured=False), ReadingChanged(1, TWO))


def test_the_last_word_on_a_symptom_counts() -> None:
    assert after(SymptomTold("s", shows=True), SymptomTold("t", shows=True),
                 SymptomTold("s", shows=False)).told == (
        SymptomTold("t", shows=True), SymptomTold("s", shows=False))
    assert after(SymptomTold("s", shows=True), SymptomWithdrawn("s")).told == ()


def test_a_skipped_test_can_be_offered_again() -> None:
    assert after(TestSkipped("a"), TestSkipped("a"), TestSkipped("b")).skipped == ("a", "b")
    assert after(TestSkipped("a"), TestSkipped("b"), TestOffered("a")).skipped == ("b",)


def test_a_repair_that_did_not_cure_makes_the_readings_history() -> None:
    state = after(ReadingTaken("a", ONE), Repaired("r", cured=False), ReadingTaken("a", TWO))
    assert state.earlier == (Entry(1, "a", ONE),)
    assert state.entries == (Entry(2, "a", TWO),)


def test_a_repair_that_cured_keeps_the_readings_that_led_to_it() -> None:
    state = after(ReadingTaken("a", ONE), Repaired("r", cured=True))
    assert state.entries == (Entry(1, "a", ONE),)
    assert state.repaired == (Repair("r", cured=True),)


def test_the_state_before_stays_as_it_was() -> None:
    state = JobState("m")
    step(state, ReadingTaken("a", ONE))
    assert state == JobState("m")


def test_a_repair_entered_by_mistake_is_taken_back_with_its_readings() -> None:
    before = after(ReadingTaken("a", ONE))
    repaired = step(step(before, Repaired("r", cured=False)), ReadingTaken("b", TWO))
    back = step(repaired, RepairWithdrawn())
    assert back.entries == (Entry(1, "a", ONE), Entry(2, "b", TWO))
    assert back.repaired == ()
    with pytest.raises(UsageError, match="no repair"):
        step(before, RepairWithdrawn())


def test_a_repair_asks_for_every_proof_anew() -> None:
    state = after(ProofMade("stop", passed=True, who="me"), Repaired("r", cured=True))
    assert state.proofs == ()


def test_the_last_word_on_a_safety_function_counts() -> None:
    failed, passed = ProofMade("stop", False, "me"), ProofMade("stop", True, "me")
    assert after(failed, passed).proofs == (Proof("stop", passed=True, who="me"),)


def test_a_bridge_is_open_until_it_is_removed() -> None:
    assert after(BridgeFound("-B1"), BridgeFound("-B1")).bridges == ("-B1",)
    assert after(BridgeFound("-B1"), BridgeRemoved("-B1")).bridges == ()


def test_a_hanging_load_is_a_danger_until_it_is_dealt_with() -> None:
    assert after(CalledOut(load="hanging")).danger
    assert after(CalledOut(slips=True)).danger
    assert after(CalledOut(people=True)).danger
    assert not after(CalledOut(people=True, load="none")).danger
    assert not after(CalledOut(load="hanging"), LoadSecured("landed")).danger


def test_a_closed_job_can_be_reopened() -> None:
    closed = Closed("not fit for use", "me", "no spare part")
    assert after(closed).closed == closed
    assert after(closed, Reopened()).closed is None


def test_a_load_told_anew_is_secured_anew() -> None:
    landed = (CalledOut(load="hanging"), LoadSecured("landed"))
    assert not after(*landed, CalledOut(load="hanging", who="Lee")).danger
    assert after(*landed, CalledOut(load="hanging", people=True)).danger
