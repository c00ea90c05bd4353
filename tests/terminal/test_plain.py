"""The line-by-line mode where something goes wrong or ends early."""

from dataclasses import replace

import pytest

from faultkit.commands.opening import JobEngine
from faultkit.errors import CircuitError, FaultkitError
from faultkit.job.events import TestSkipped
from faultkit.job.records import Assessment, JobState
from faultkit.terminal.desk import Desk
from faultkit.terminal.library import Offer
from faultkit.terminal.plain.plain import run_plain
from faultkit.terminal.plain.talk import Ended, Talk
from faultkit.terminal.wording.cautions import DECIDES
from tests.terminal.fake import Listening, OneMachine

CALLED = ["", "", "", "", "."]
"""Nothing told of the call-out."""


def run(library: OneMachine, machine: str | None, lines: list[str]) -> tuple[int, str]:
    said: list[str] = []
    answers = iter(lines)

    def ask(prompt: str) -> str:
        said.append(prompt)
        answer = next(answers, None)
        if answer is None:
            raise EOFError
        return answer

    return run_plain(library, machine, ask, said.append), "\n".join(said)


class Failing(Listening):
    """Cannot work out anything after a reading."""

    def assess(self, state: JobState) -> Assessment:
        if state.entries:
            raise CircuitError("The island of -G1 floats.")
        return super().assess(state)


def test_an_error_while_thinking_is_said_and_can_be_undone(winch: JobEngine) -> None:
    engine = Failing(winch)
    code, said = run(OneMachine(engine), "winch", [*CALLED, "1", "0", "0.5", "u", "q"])
    assert code == 0
    assert "! The island of -G1 floats. u takes the last step back." in said
    assert "Reading taken back" in said
    assert "\nLeft. Make the machine safe before you go." in said
    assert said.rstrip().endswith("The job is kept: faultkit find --resume 0b1e55ed")


def test_an_interrupt_is_code_130(winch: JobEngine) -> None:
    said: list[str] = []

    def ask(prompt: str) -> str:
        raise KeyboardInterrupt

    assert run_plain(OneMachine(Listening(winch)), "winch", ask, said.append) == 130
    assert "Interrupted" in said[-1]


def test_a_signal_while_the_last_line_is_said_still_ends_with_its_code(winch: JobEngine) -> None:
    said: list[str] = []

    def say(text: str) -> None:
        said.append(text)
        if "Left." in text and len([row for row in said if "Left." in row]) == 1:
            raise Ended(1)

    def ask(prompt: str) -> str:
        raise EOFError

    assert run_plain(OneMachine(Listening(winch)), "winch", ask, say) == 129
    assert said[-1] == "\nEnded from outside. Make the machine safe before you go."


def test_the_unexpected_leaves_the_line_that_says_where_the_job_is(winch: JobEngine) -> None:
    said: list[str] = []
    answers = iter([*CALLED, "1", "0"])

    def ask(prompt: str) -> str:
        if (answer := next(answers, None)) is None:
            raise ZeroDivisionError
        return answer

    with pytest.raises(ZeroDivisionError):
        run_plain(OneMachine(Listening(winch)), "winch", ask, said.append)
    assert said[-2:] == ["\nSomething went wrong. Make the machine safe before you go.",
                         "The job is kept: faultkit find --resume 0b1e55ed"]


def test_the_machine_is_asked_for_where_none_was_given(winch: JobEngine) -> None:
    code, said = run(OneMachine(Listening(winch)), None, ["7", "x", "1", *CALLED])
    assert code == 0
    assert said.count("Type a number from 0 to 1.") == 2
    assert "What is the complaint" in said


class Empty(OneMachine):
    """A library without machines."""

    def offers(self) -> tuple[Offer, ...]:
        return ()


def test_without_any_machine_it_says_what_to_do(winch: JobEngine) -> None:
    with pytest.raises(FaultkitError, match="Give the path of one"):
        run(Empty(Listening(winch)), None, [])


def test_the_complaint_is_marked_searched_and_unmarked_by_line(winch: JobEngine) -> None:
    engine = Listening(winch)
    code, said = run(OneMachine(engine), "winch",
                     [*CALLED, "1 w3", "- 1", "lamp", "99", "2", "0", "q"])
    assert code == 0
    assert "There is no number 99 in the list." in said
    # every event of this script is a SymptomTold
    assert [(e.symptom, e.shows) for e in engine.heard] == [  # type: ignore[union-attr]
        ("no-lamp", False), ("chatters", True)]


def test_after_a_mark_only_what_is_marked_is_listed_again(winch: JobEngine) -> None:
    _, said = run(OneMachine(Listening(winch)), "winch",
                  [*CALLED, "1", "- 1", "xyz", "?", "0", "q"])
    whole, marked, none, found, again, *_ = said.split("Number for what shows")
    assert "  2 [     ]" in whole
    assert "  2 [     ]" in again
    assert "  1 [SHOWS]" in marked
    assert "[     ]" not in marked
    assert "Nothing is marked." in none
    assert "Nothing holds 'xyz'." in found


def test_what_was_taken_back_is_one_sentence_with_one_mark_at_its_end(winch: JobEngine) -> None:
    look = replace(winch.machine.tests["up-coil"], does="Look at -Q2: what does it show?")
    machine = replace(winch.machine, tests={**winch.machine.tests, look.id: look})
    desk = Desk(JobEngine(replace(winch.knowledge, machine=machine)))
    desk.tell(TestSkipped(look.id))
    assert desk.undo() == "Can be proposed again: Look at -Q2: what does it show?"


def test_a_long_text_is_folded_under_itself() -> None:
    said: list[str] = []
    Talk(input, said.append).tell("word " * 20, "  ", " 5 %  ")
    assert said[0].startswith("   5 %  word")
    assert said[1].startswith("        word")


def test_a_caution_that_stands_twice_is_said_once(winch: JobEngine) -> None:
    twice = replace(winch.machine, cautions=(*winch.machine.cautions, DECIDES))
    engine = Listening(JobEngine(replace(winch.knowledge, machine=twice)))
    _, said = run(OneMachine(engine), "winch", ["q"])
    assert said.count(DECIDES) == 1
