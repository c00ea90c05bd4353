"""What goes with a finding: fuses that would blow again, bridges that must come out."""

from dataclasses import replace

import pytest

from faultkit.job.assess import assess, stand
from faultkit.job.consequences import BEHIND_IT, warnings_of
from faultkit.job.events import CalledOut, LoadSecured, ReadingTaken, SymptomTold
from faultkit.job.knowledge import Knowledge, know
from faultkit.job.records import JobState
from faultkit.job.step import step
from faultkit.vocabulary.diagnosis import Reading
from tests.belief.made_up import chain
from tests.prediction.rung import table


@pytest.fixture(scope="module")
def rung() -> Knowledge:
    return know(table())


def warned(on: Knowledge, cause: str, state: JobState | None = None) -> tuple[str, ...]:
    standing = stand(state or JobState("m"), on)
    return warnings_of(standing.state, standing.space, standing.belief,
                       (on.machine.causes[cause],))


def test_a_fuse_alone_comes_with_what_would_blow_the_new_one_and_when(rung: Knowledge) -> None:
    again, before = warned(rung, "F3.1-2.open")
    assert "-F3 would blow again with: -Q1 coil shorted (Button held)" in again
    # the rows of the circuit itself: only the shorted coil blows it, and the coil's ohms show it
    assert "Measure the coil" in before


def test_a_test_that_was_made_is_not_asked_for_again(rung: Knowledge) -> None:
    state = step(JobState("m"), ReadingTaken("coil-ohm", Reading(66.0)))
    again, before = warned(rung, "F3.1-2.open", state)
    assert "-Q1 coil shorted" in again  # a reading may be wrong
    assert "Measure the coil" not in before
    assert BEHIND_IT in before


def test_a_fuse_with_every_short_ruled_out_still_is_not_changed_without_a_look(
        rung: Knowledge) -> None:
    state = JobState("m")
    for _ in range(4):
        state = step(state, ReadingTaken("coil-ohm", Reading(66.0)))
    (said,) = warned(rung, "F3.1-2.open", state)
    assert "nothing described that blows -F3 is left" in said
    assert BEHIND_IT in said


def test_a_cause_that_blows_a_fuse_comes_before_the_new_fuse(rung: Knowledge) -> None:
    (said,) = warned(rung, "Q1.coil-short")
    assert "it blows -F3" in said
    assert "Put it right first" in said
    assert "same rating" in said


def test_an_open_coil_blows_nothing_and_nothing_is_said(rung: Knowledge) -> None:
    assert warned(rung, "Q1.coil-open") == ()


def test_a_defeated_safety_function_is_put_right_and_proved_before_hand_over(
        rung: Knowledge) -> None:
    state = JobState("m")
    standing = stand(state, rung)
    bridge = replace(rung.machine.causes["jumper"], critical=True)
    assert warned(rung, "jumper") == ()
    prediction = replace(rung.prediction, causes=tuple(
        bridge if c.id == "jumper" else c for c in rung.prediction.causes))
    space = replace(standing.space, prediction=prediction)
    (said,) = warnings_of(state, space, standing.belief, (bridge,))
    assert said.startswith("Forgotten jumper")
    assert "before hand-over" in said


def test_a_job_of_dead_work_is_planned_without_live_tests() -> None:
    on = know(chain().prediction())
    state = step(JobState("m"), SymptomTold("up", shows=True))
    conditions = on.machine.conditions

    def dead(state: JobState) -> set[bool]:
        return {conditions[on.machine.tests[s.test].condition].dead
                for s in assess(state, on).next}

    assert dead(state) == {False, True}
    assert dead(step(state, CalledOut(dead_only=True))) == {True}


def test_under_a_hanging_load_nothing_is_found_and_the_reason_is_said_first() -> None:
    made = chain(1)
    on = know(made.prediction())
    state = step(JobState("m"), SymptomTold("up", shows=True))
    for name, volts in (("p0", 110.0), ("p1", 0.0), ("p0", 110.0), ("p1", 0.0)):
        state = step(state, ReadingTaken(name, Reading(volts)))
    state = step(state, ReadingTaken("coil-ohm", Reading(200.0)))
    assert assess(state, on).finding is not None
    hanging = step(state, CalledOut(load="hanging"))
    view = assess(hanging, on)
    assert view.finding is None
    assert view.notes[0].startswith("Land or secure the load")
    assert assess(step(hanging, LoadSecured("landed")), on).finding is not None
