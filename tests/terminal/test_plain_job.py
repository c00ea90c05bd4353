"""The whole job line by line, and its bypaths: what is typed, what is said, what is kept."""

from dataclasses import dataclass, field, replace

import pytest

from faultkit.commands.opening import JobEngine
from faultkit.errors import FileError
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
    ReadingWithdrawn,
    Remarked,
    Reopened,
    Repaired,
    SymptomTold,
    TestOffered,
    TestSkipped,
)
from faultkit.terminal.plain.plain import run_plain
from tests.jobs.electrician import Electrician
from tests.terminal.books import head, noted
from tests.terminal.fake import Listening, OneMachine

COIL = "Q2.coil-open"


@dataclass
class Done:
    """A job that was done on lines."""

    hand: Electrician
    library: OneMachine
    resume: str | None = None
    said: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.code = run_plain(self.library, "winch", self._ask, self.said.append, self.resume)

    def _ask(self, prompt: str) -> str:
        self.said.append(prompt)
        answer = self.hand.answer("\n".join(self.said), prompt)
        if answer == "^D":
            raise EOFError
        return answer

    @property
    def text(self) -> str:
        return "\n".join(self.said)

    @property
    def events(self) -> list[Event]:
        return [one.event for one in self.library.book.noted]

    def kinds(self) -> list[str]:
        return [type(event).__name__ for event in self.events]


BENCH = ("Reading: ", "Letter: ", "First the machine")
"""How the questions at the bench begin."""


@dataclass
class Returning(Electrician):
    """Types keys at the bench once the person came back to it from the proofs."""

    keys: list[str] = field(default_factory=list)

    def answer(self, said: str, prompt: str) -> str:
        back = any("Enter: the list of proofs" in question for question in self.asked)
        if self.keys and back and prompt.startswith(BENCH):
            self.asked.append(prompt)
            return self.keys.pop(0)
        return super().answer(said, prompt)


class Mistaken(Electrician):
    """Tells the first repair as not cured, and takes that back."""

    told = undone = False

    def answer(self, said: str, prompt: str) -> str:
        if "Is the complaint gone" in prompt and not self.told:
            self.told = True
            return "n"
        if self.told and not self.undone and prompt.startswith(BENCH):
            self.undone = True
            return "u"
        return super().answer(said, prompt)


def do(winch: JobEngine, cause: str = COIL, load: str = "none", **first: list[str]) -> Done:
    """Do a job; `first` is what is typed at some questions before the usual answers."""
    asked = {QUESTIONS[name]: list(answers) for name, answers in first.items()}
    return Done(Electrician(winch, cause, load=load, first=asked), OneMachine(Listening(winch)))


QUESTIONS = {
    "reading": "Reading: ", "letter": "Letter: ", "steps": "First the machine must be made",
    "step": "Done? Enter", "finding": "Your answer", "gone": "Is the complaint gone",
    "prove": "p passed", "seen": "What was read or seen", "proved": "Who proved it",
    "close": "Number (Enter: 1)", "number": "Number: ", "why": "Why not", "tried": "What was tried",
    "hands": "Who hands over", "again": "Enter: the list of proofs again", "work": "Do the work",
    "which": "Change which reading", "truth": "What was it in truth", "do": "Do it?",
    "remark": "Your remark", "bridge": "Which? ", "where": "Where is it", "out": "Is it out",
    "closed": "Number (0 leaves)", "load": "Load on the hook",
    "who": "Who called", "dead": "Dead work only", "secure": "How is the load secured",
    "proofs": "Go through the proofs", "test": "Which test", "part": "Part of a device",
    "now": "Reading now", "red": "RED on", "black": "BLACK on", "meter": "Which meter",
    "state": "In which state", "three": "Number (Enter: 3)", "complaint": "Number for what shows",
}


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


@pytest.mark.parametrize("question", ["Load on the hook", "Number for what shows", "Reading: ",
                                      "Done? Enter", "Your answer", "Do the work",
                                      "Is the complaint gone", "p passed", "Number (Enter: 1)"])
@pytest.mark.parametrize("typed", ["q", "^D"])
def test_whoever_leaves_is_told_where_the_job_is(
    winch: JobEngine, question: str, typed: str,
) -> None:
    done = Done(Electrician(winch, COIL, first={question: [typed]}), OneMachine(Listening(winch)))
    assert done.code == 0
    left = "\nLeft. Make the machine safe before you go."
    if done.events:
        assert done.said[-2:] == [left, "The job is kept: faultkit find --resume 0b1e55ed"]
    else:
        assert done.said[-1] == left


def back_on(events: list[Event], cut: int) -> bool:
    """Whether a job was cut between the work, with the machine live again, and its word."""
    before, after = events[cut - 1], events[min(cut, len(events) - 1)]
    return (isinstance(before, ConditionChanged) and not before.dead
            and isinstance(after, Repaired))


def test_a_kept_job_goes_on_where_it_stood(winch: JobEngine) -> None:
    whole = do(winch, load="hanging").events
    for cut in range(1, len(whole) + 1):
        library = OneMachine(Listening(winch), heads=(head(),),
                             kept={"3f2a91c0aa": list(noted(whole[:cut]))})
        hand = Electrician(winch, COIL, load="hanging", worked=back_on(whole, cut),
                           repaired=any(isinstance(e, Repaired) for e in whole[:cut]))
        done = Done(hand, library, "3f2a")
        assert done.code == 0
        assert done.events == whole, cut


def test_open_jobs_are_offered_before_the_machines(winch: JobEngine) -> None:
    library = OneMachine(Listening(winch), heads=(head(asset="A-7", complaint="[b]no up"),),
                         kept={"3f2a91c0aa": list(noted([SymptomTold("no-up", shows=True)]))})
    said: list[str] = []
    answers = iter(["1", "", "q"])

    def ask(prompt: str) -> str:
        said.append(prompt)
        return next(answers)

    assert run_plain(library, None, ask, said.append) == 0
    text = "\n".join(said)
    assert "[b]no up" in text
    assert text.index("3f2a91c0") < text.index("Small test winch. One direction")
    assert "[SHOWS] UP does nothing" in text


def test_what_cannot_be_kept_has_not_happened_and_can_be_tried_again(winch: JobEngine) -> None:
    library = OneMachine(Listening(winch))
    hand = Electrician(winch, COIL)
    refused: list[str] = []
    usual = library.book.hear

    def hear(event: Event) -> None:
        if isinstance(event, ReadingTaken) and not refused:
            refused.append("once")
            raise FileError("The disk is full.")
        usual(event)

    library.book.hear = hear  # type: ignore[method-assign]
    done = Done(hand, library)
    assert "! The disk is full." in done.text
    assert done.events[-1] == Closed("fit for use", "Bob")
    assert done.events == do(winch).events


def test_a_warning_of_the_store_is_said_at_the_start_and_when_it_comes_up(
    winch: JobEngine,
) -> None:
    library = OneMachine(Listening(winch), warning="Salvaged 3 jobs.")
    usual = library.book.hear

    def hear(event: Event) -> None:
        usual(event)
        if isinstance(event, ReadingTaken):
            library.warning = "Nothing is being saved: the disk is full."

    library.book.hear = hear  # type: ignore[method-assign]
    done = Done(Electrician(winch, COIL), library)
    assert done.said[0] == "! Salvaged 3 jobs."
    assert done.text.count("! Nothing is being saved: the disk is full.") == 1


def test_signs_that_command_a_terminal_never_reach_it(winch: JobEngine) -> None:
    hostile = "\x1b]0;owned\x07\x1b[2J[bold red]\u202eevil[/]"
    machine = replace(winch.machine, title=hostile, cautions=(hostile,))
    engine = JobEngine(replace(winch.knowledge, machine=machine))
    done = Done(Electrician(engine, COIL, first={"Who called": [hostile], "Where it": [hostile]}),
                OneMachine(Listening(engine)))
    assert not set(done.text) & {"\x1b", "\x07", "\u202e"}
    assert "[bold red]" in done.text
    assert isinstance(done.events[0], CalledOut)
    assert "[bold red]" in done.events[0].who


def test_a_job_of_another_machine_is_not_gone_on_with(winch: JobEngine) -> None:
    from faultkit.errors import FaultkitError

    library = OneMachine(Listening(winch), heads=(head(machine="crane"),))
    with pytest.raises(FaultkitError, match="is about 'crane'"):
        run_plain(library, "winch", lambda _: "q", lambda _: None, "3f2a")


def test_without_an_open_job_there_is_none_to_go_on_with(winch: JobEngine) -> None:
    from faultkit.errors import FaultkitError

    with pytest.raises(FaultkitError, match="No job is open"):
        run_plain(OneMachine(Listening(winch)), "winch", lambda _: "q", lambda _: None, "")


