"""The whole job line by line, and its bypaths: what is typed, what is said, what is kept."""


import pytest

from faultkit.commands.opening import JobEngine
from faultkit.job.events import (
    BridgeFound,
    BridgeRemoved,
    CalledOut,
    Closed,
    ConditionChanged,
    LoadSecured,
    ProofMade,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Remarked,
    Reopened,
    Repaired,
    TestOffered,
    TestSkipped,
)
from tests.jobs.electrician import Electrician
from tests.terminal.fake import Listening, OneMachine
from tests.terminal.on_lines import COIL, QUESTIONS, Done, Mistaken, Returning, do


@pytest.mark.parametrize("cause", [COIL, "S2.13-14.open", "F3.1-2.open", "H1.burnt"])
def test_a_job_runs_from_call_out_to_hand_over(winch: JobEngine, cause: str) -> None:
    done = do(winch, cause, load="hanging")
    assert done.code == 0
    assert isinstance(done.events[0], CalledOut)
    assert done.events[1] == LoadSecured("landed")
    assert done.events[-2:] == [ProofMade("emergency stop", passed=True, who="Bob"),
                                Closed("fit for use", "Bob")]
    repairs = [event for event in done.events if isinstance(event, Repaired)]
    assert repairs[-1].cured
    assert repairs[-1].remedy == winch.machine.causes[cause].remedy
    assert repairs[-1].note == "new part"
    assert repairs[-1].repeated in {e.test for e in done.events if isinstance(e, ReadingTaken)}
    assert repairs[-1].reading is not None
    assert done.said[-1] == "The job is kept: faultkit find --resume 0b1e55ed"


def test_every_event_is_said_only_after_it_is_kept(winch: JobEngine) -> None:
    done = do(winch, load="hanging")
    assert len([row for row in done.said if row.startswith("= ")]) == len(done.events)


def test_nothing_is_measured_on_a_wrong_state_of_the_machine(winch: JobEngine) -> None:
    done = do(winch)
    dead = False
    for event in done.events:
        if isinstance(event, ConditionChanged):
            dead = event.dead
        if isinstance(event, ReadingTaken):
            condition = winch.machine.conditions[winch.machine.tests[event.test].condition]
            assert condition.dead == dead
    assert "ConditionChanged" in done.kinds()


def test_a_procedure_broken_off_is_not_noted(winch: JobEngine) -> None:
    done = do(winch, steps=["210", "", "q"], step=["", "", "b"])
    assert "Enter goes through the steps first" in done.text
    assert "Broken off; nothing is noted." in done.text
    assert "ConditionChanged" not in done.kinds()


def test_the_load_comes_first_and_the_call_out_can_be_corrected(winch: JobEngine) -> None:
    done = do(winch, load="hanging", secure=["7", "c", "3"], reading=["q"])
    assert done.kinds()[:2] == ["CalledOut", "LoadSecured"]
    assert done.events[1] == LoadSecured("area closed", "chain at the frame")
    first = done.text.index("FIRST: land or secure")
    assert first < done.text.index("What is the complaint, and what works?")


def test_a_change_shows_before_and_after_and_is_asked_about(winch: JobEngine) -> None:
    done = do(winch, reading=["0.4", "r", "r", "q"], which=["1", "1"],
              truth=["114", "114"], do=["n", "y"])
    changes = [event for event in done.events if isinstance(event, ReadingChanged)]
    assert len(changes) == 1
    before, _, after = done.text.partition("\nBefore:")[2].partition("\nAfter:")
    assert before.split("Next:")[0] != after.split("Next:")[0]
    assert "  Next: " in before
    assert "  Next: " in after.split("Do it?")[0]


def test_a_reading_is_withdrawn_and_what_is_no_reading_is_asked_again(winch: JobEngine) -> None:
    done = do(winch, reading=["0.4", "r", "q"], which=["1"], truth=[""], do=["y"])
    assert ReadingWithdrawn(1) in done.events
    done = do(winch, reading=["0.4", "r", "q"], which=["1"], truth=["much"])
    assert "! " in done.text.rpartition("in truth")[2]
    assert "ReadingChanged" not in done.kinds()


def test_a_reading_is_taken_again(winch: JobEngine) -> None:
    done = do(winch, reading=["0.4", "r", "0.4", "q"], which=["1"], truth=["a"])
    taken = [event for event in done.events if isinstance(event, ReadingTaken)]
    assert taken[0].test == taken[1].test


def test_tests_are_left_out_chosen_and_taken_back(winch: JobEngine) -> None:
    done = do(winch, reading=["s", "u", "t", "q"], part=["look"], test=["1"])
    kinds = done.kinds()
    assert kinds.index("TestSkipped") + 1 == kinds.index("TestOffered")
    assert TestSkipped in {type(event) for event in done.events}
    assert TestOffered in {type(event) for event in done.events}
    assert "DO NOW: Look at -Q2" in done.text


def test_a_repair_that_did_not_cure_goes_on_and_can_be_taken_back(winch: JobEngine) -> None:
    done = do(winch, gone=["n"], reading=[])
    assert not next(e.cured for e in done.events if isinstance(e, Repaired))
    assert "Not cured. Readings from before no longer count." in done.text
    done = Done(Mistaken(winch, COIL), OneMachine(Listening(winch)))
    kinds = done.kinds()
    assert kinds.index("Repaired") + 1 == kinds.index("RepairWithdrawn")
    assert "= Repair taken back, its readings count again" in done.text
    assert done.events[-1] == Closed("fit for use", "Bob")


def test_a_bridge_must_be_out_before_the_machine_is_fit_for_use(winch: JobEngine) -> None:
    first = {"Reading: ": ["b"], "Which? ": ["1", "1"], "Where is it": ["-S0:11 to -S0:12"],
             "Is it out": ["n"], "Number (Enter: 1)": ["1", "0"],
             "Enter: the list of proofs": ["m"], "Go through": ["n"], "Number: ": ["1"]}
    hand = Returning(winch, COIL, first=first, keys=["b", "h"])
    done = Done(hand, OneMachine(Listening(winch)))
    assert "! A bridge is still in: -S0:11 to -S0:12." in done.text
    assert "! A bridge is still in: -S0:11 to -S0:12\n" in done.text
    assert BridgeFound("-S0:11 to -S0:12") in done.events
    assert BridgeRemoved("-S0:11 to -S0:12") in done.events
    assert done.events[-1] == Closed("fit for use", "Bob")


def test_a_failed_proof_is_never_handed_over_as_fit(winch: JobEngine) -> None:
    done = do(winch, prove=["f"], number=["1", "2", "2"], why=["", "it does not stop"],
              seen=["3 s"])
    assert ProofMade("emergency stop", passed=False, who="Bob", seen="3 s") in done.events
    assert "! " in done.text.partition("How is it handed over?")[2]
    assert done.events[-1] == Closed("not fit for use", "Bob", "it does not stop")


def test_it_works_now_is_a_result_with_its_own_advice(winch: JobEngine) -> None:
    done = do(winch, reading=["x", "h"], three=["", "0"], tried=["nothing", "wiggled every wire"],
              proofs=["y"], close=["3"])
    assert "It works now, and nothing was found." in done.text
    assert "Change no part on suspicion" in done.text
    assert "Prove every safety function first" in done.text
    assert done.events[-1] == Closed("no fault found", "Bob", "wiggled every wire")


def test_remarks_and_the_report_are_kept_after_the_closing(winch: JobEngine) -> None:
    done = do(winch, reading=["n"], remark=["wet inside", "signed"],
              closed=["1", "1", "2", "3"], number=["1", "2"])
    assert Remarked("wet inside") in done.events
    at = done.kinds().index("Closed")
    assert done.events[at + 1:at + 3] == [Remarked("signed"), Reopened()]
    assert "# Report" in done.said
    assert done.library.book.saved == ["html"]
    assert "Saved: faultkit-0b1e55ed.html" in done.text


def test_dead_work_only_takes_no_live_test(winch: JobEngine) -> None:
    done = do(winch, dead=["y"], reading=["q"], steps=["t", "q"], part=["up-coil"], test=["1"])
    assert isinstance(done.events[0], CalledOut)
    assert done.events[0].dead_only
    assert "This job is dead work only." in done.text
    assert "ReadingTaken" not in done.kinds()


def test_any_two_points_can_be_measured(winch: JobEngine) -> None:
    done = do(winch, reading=["e", "114", "q"], red=["nowhere", "x1:7"], black=["-X1:N"],
              meter=["1"], state=["4"])
    assert "No point holds 'nowhere'." in done.text
    assert "DO NOW: " in done.text
    assert "probe:-X1:7|-X1:N|V AC|up" in [e.test for e in done.events
                                           if isinstance(e, ReadingTaken)]
    assert "If it reads:" in done.text.rpartition("DO NOW: ")[0].rpartition("DO NOW: ")[2]


def test_a_free_entry_that_must_not_be_is_refused_with_the_reason(winch: JobEngine) -> None:
    done = do(winch, reading=["e", "q"], red=["-X1:7"], black=["-S2:14"], meter=["1"],
              state=["4"])
    assert "! -X1:7 and -S2:14 are in two places: no lead is so long." in done.text


def test_at_every_question_a_question_mark_says_what_can_be_typed(winch: JobEngine) -> None:
    asked = [QUESTIONS[name] for name in QUESTIONS if name != "complaint"]
    hand = Electrician(winch, COIL, load="hanging", first={words: ["?"] for words in asked})
    done = Done(hand, OneMachine(Listening(winch)))
    assert done.code == 0
    assert done.events[-1] == Closed("fit for use", "Bob")
    seen = {words for words in asked if any(words in prompt for prompt in hand.asked)}
    assert len(seen) >= 15
    for words in seen - {"Reading: ", "First the machine must be made"}:
        at = next(n for n, row in enumerate(done.said) if words in row)
        assert done.said[at + 1].startswith("i "), words
    assert "At any question ? says what can be typed" in done.text
