"""What may not happen in a job."""

from dataclasses import replace

import pytest

from faultkit.errors import UsageError
from faultkit.job.events import (
    BridgeFound,
    BridgeRemoved,
    CalledOut,
    Closed,
    ConditionChanged,
    Event,
    LoadSecured,
    ProofMade,
    ReadingChanged,
    ReadingTaken,
    Remarked,
    Reopened,
    Repaired,
    SymptomTold,
    TestSkipped,
)
from faultkit.job.permit import refuse, unproved
from faultkit.job.records import JobState
from faultkit.job.step import step
from faultkit.vocabulary.diagnosis import Reading
from tests.job.small_hoist import small_hoist

COIL = ReadingTaken("up-coil", Reading(110.0))
OHM = ReadingTaken("coil-ohm", Reading(70.0))
DEAD = ConditionChanged("isolated", dead=True, steps=("lock",))
LIVE = ConditionChanged("ready", dead=False, steps=("unlock",))
PROVED = (ProofMade("stop", passed=True, who="A. Fitter"),
          ProofMade("brake", passed=True, who="A. Fitter"))
FIT = Closed("fit for use", "A. Fitter")
HANGING = CalledOut(load="hanging")


def after(*events: Event) -> JobState:
    """State after events that are all permitted."""
    state = JobState("folder")
    for event in events:
        refuse(state, event, small_hoist())
        state = step(state, event)
    return state


def refused(event: Event, *before: Event) -> str:
    """The sentence with which the last event is refused; the others are permitted."""
    state = after(*before)
    with pytest.raises(UsageError) as error:
        refuse(state, event, small_hoist())
    return str(error.value)


def test_a_dead_test_needs_a_machine_proved_dead() -> None:
    assert "machine is live" in refused(OHM)
    assert after(DEAD, OHM).taken == 1


def test_a_live_test_needs_the_machine_live() -> None:
    assert "machine is dead" in refused(COIL, DEAD)
    assert after(DEAD, OHM, LIVE, COIL).taken == 2


def test_a_hand_written_test_goes_by_its_condition_too() -> None:
    assert "machine is live" in refused(ReadingTaken("air-gap", Reading(0.5)))


def test_a_job_of_dead_work_takes_no_live_reading() -> None:
    assert "dead work only" in refused(COIL, CalledOut(dead_only=True))
    assert "dead work only" in refused(
        Repaired("Y1.lining", cured=True, repeated="up-coil"), CalledOut(dead_only=True))
    assert after(CalledOut(dead_only=True), DEAD, OHM).taken == 1


@pytest.mark.parametrize("event", [
    COIL, OHM, DEAD, Repaired("Y1.lining", cured=True), PROVED[0]])
@pytest.mark.parametrize("call", [
    HANGING, CalledOut(slips=True), CalledOut(load="unknown", people=True)])
def test_nothing_is_done_under_a_load_that_was_not_landed(call: CalledOut, event: Event) -> None:
    assert "Land or secure the load first" in refused(event, call)


def test_once_the_load_is_secured_the_job_goes_on_and_notes_are_always_taken() -> None:
    assert after(HANGING, LoadSecured("landed"), COIL).taken == 1
    assert after(HANGING, Remarked("crane over the lorry"), SymptomTold("no-up", shows=True),
                 BridgeFound("-B1")).danger


@pytest.mark.parametrize(("event", "meant"), [
    (SymptomTold("no-upp", shows=True), "no-up"),
    (TestSkipped("up-coill"), "up-coil"),
    (ReadingTaken("up-coill", Reading(1.0)), "up-coil"),
    (Repaired("Y1.linin", cured=True), "Y1.lining"),
    (Repaired("Y1.lining", cured=True, repeated="up-coill"), "up-coil"),
    (ProofMade("stopp", passed=True, who="A"), "stop"),
    (ConditionChanged("isolate", dead=True, steps=()), "isolated"),
])
def test_what_the_machine_does_not_have_is_refused_with_what_was_meant(
        event: Event, meant: str) -> None:
    assert f"Did you mean {meant!r}?" in refused(event)


def test_a_live_condition_is_never_noted_as_dead() -> None:
    assert "is live" in refused(ConditionChanged("ready", dead=True, steps=()))
    assert "is dead" in refused(ConditionChanged("isolated", dead=False, steps=()))


def test_a_reading_must_be_of_the_tests_kind_also_when_changed() -> None:
    assert "one of none or burnt" in refused(ReadingTaken("smell", Reading(None, "dust")), DEAD)
    assert "read in V AC" in refused(ReadingTaken("up-coil", Reading(None, "burnt")))
    assert "read in V AC" in refused(ReadingChanged(1, Reading(None, "burnt")), COIL)


@pytest.mark.parametrize("event", [replace(PROVED[0], who=" "), replace(FIT, who="")])
def test_who_proves_and_who_hands_over_has_a_name(event: Event) -> None:
    assert "name of who" in refused(event, PROVED[1])


@pytest.mark.parametrize("how", ["not fit for use", "no fault found"])
def test_what_is_not_simply_fit_has_a_reason(how: str) -> None:
    event = Closed(how, "A", reason=" ")  # type: ignore[arg-type]
    assert "reason is missing" in refused(event, *PROVED)


@pytest.mark.parametrize("event", [FIT, Closed("no fault found", "A", "wiggled every wire")])
def test_every_safety_function_is_proved_since_the_last_repair_before_it_is_fit(
        event: Closed) -> None:
    assert "Press the emergency stop, and 1 more" in refused(event)
    assert "Lift the test load." in refused(event, PROVED[0])
    assert "and 1 more" in refused(event, *PROVED, Repaired("Y1.lining", cured=True))
    assert after(*PROVED, event).closed == event


def test_a_failed_proof_is_never_handed_over_as_fit() -> None:
    failed = ProofMade("brake", passed=False, who="A")
    assert "failed its proof: Lift the test load" in refused(FIT, *PROVED, failed)
    assert after(PROVED[0], failed, Closed("not fit for use", "A", "brake slips")).closed


def test_a_bridge_that_was_found_is_out_before_hand_over() -> None:
    assert "bridge is still in: -B1" in refused(FIT, *PROVED, BridgeFound("-B1"))
    assert "Did you mean '-B1'" in refused(BridgeRemoved("-b1"), BridgeFound("-B1"))
    assert after(BridgeFound("-B1"), BridgeRemoved("-B1"), *PROVED, FIT).closed


def test_a_machine_with_a_hanging_load_is_never_handed_over_as_fit() -> None:
    assert "never landed" in refused(FIT, *PROVED, HANGING)
    assert after(HANGING, Closed("not fit for use", "A", "load hangs")).closed


@pytest.mark.parametrize("event", [COIL, SymptomTold("no-up", shows=True), FIT, CalledOut()])
def test_a_closed_job_takes_only_remarks_and_its_reopening(event: Event) -> None:
    assert "closed" in refused(event, *PROVED, FIT)
    assert after(*PROVED, FIT, Remarked("key in the office"), Reopened(), COIL).closed is None


def test_an_open_job_is_not_reopened_and_empty_words_are_not_noted() -> None:
    assert "open already" in refused(Reopened())
    assert "empty" in refused(Remarked(" "))
    assert "Where" in refused(BridgeFound(""))


def test_what_is_left_to_prove_keeps_the_machines_order() -> None:
    assert unproved(after(), small_hoist()) == ("stop", "brake")
    assert unproved(after(PROVED[0]), small_hoist()) == ("brake",)
