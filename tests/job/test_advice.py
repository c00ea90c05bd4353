"""It works now: what is said and proposed then."""

from functools import cache

import pytest

from faultkit.job.advice import LEAVE, SLIPS, nothing_found, provoking
from faultkit.job.events import (
    BridgeFound,
    CalledOut,
    Event,
    ProofMade,
    ReadingTaken,
    Repaired,
    SymptomTold,
    TestSkipped,
)
from faultkit.job.records import JobState
from faultkit.job.step import step
from faultkit.loading import find_machine, load
from faultkit.vocabulary.diagnosis import Reading
from faultkit.vocabulary.machine import Machine


@cache
def hoist() -> Machine:
    machine = load(find_machine("bridge-hoist")).machine
    assert machine is not None
    return machine


def after(*events: Event) -> JobState:
    state = JobState("bridge-hoist")
    for event in events:
        state = step(state, event)
    return state


@pytest.mark.parametrize(("symptom", "device"), [
    ("comes-and-goes", "-W1"), ("comes-and-goes-hoist", "-W2"), ("comes-and-goes-travel", "-X0")])
def test_what_fits_the_complaint_is_tried_first(symptom: str, device: str) -> None:
    assert provoking(hoist(), after(SymptomTold(symptom, shows=True)))[0].device == device


def test_what_was_tried_or_cannot_be_done_is_not_proposed_again_even_before_a_repair() -> None:
    told = SymptomTold("comes-and-goes", shows=True)
    first, second, *_ = provoking(hoist(), after(told))
    left = provoking(hoist(), after(
        told, ReadingTaken(first.id, Reading(None, first.words[0])), TestSkipped(second.id),
        Repaired("W1.replace", cured=False)))
    assert left
    assert not {first.id, second.id} & {test.id for test in left}


def test_dead_work_gets_dead_tests() -> None:
    found = provoking(hoist(), after(CalledOut(dead_only=True),
                                     SymptomTold("comes-and-goes-hoist", shows=True)))
    assert found
    assert all(hoist().conditions[test.condition].dead for test in found)


def test_a_brake_that_slipped_once_is_said_first() -> None:
    assert nothing_found(hoist(), after(CalledOut(slips=True)))[0] == SLIPS
    assert SLIPS not in nothing_found(hoist(), after())


def test_no_part_is_changed_on_suspicion_and_what_was_changed_is_said() -> None:
    said = nothing_found(hoist(), after(Repaired("W1.replace", cured=False)))
    assert LEAVE in said
    assert any("without curing it" in one and hoist().remedies["W1.replace"].says in one
               for one in said)


def test_a_bridge_and_functions_not_proved_are_not_forgotten() -> None:
    said = " ".join(nothing_found(hoist(), after(BridgeFound("-B1:21 to -B1:22"))))
    assert "bridge is still in: -B1:21 to -B1:22" in said
    assert "Prove every safety function" in said
    proofs = [ProofMade(name, passed=True, who="A. Fitter") for name in hoist().safety]
    assert "Prove every safety function" not in " ".join(nothing_found(hoist(), after(*proofs)))


def test_every_fault_of_the_hoist_that_comes_and_goes_has_a_look_or_wiggle_that_shows_it() -> None:
    machine = hoist()
    for cause in machine.causes.values():
        if cause.intermittent:
            shown = [machine.tests[name] for name in cause.expect if machine.tests[name].words]
            assert shown, cause.id


def test_every_wiggle_comes_with_its_cautions_or_is_made_by_a_meter_alone() -> None:
    wiggles = [test for test in hoist().tests.values()
               if set(test.words) & {"jumps", "something lets go", "falls", "a phase drops"}]
    assert len(wiggles) >= 8
    assert all(test.cautions for test in wiggles)
