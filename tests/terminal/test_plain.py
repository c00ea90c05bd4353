"""The line-by-line mode where something goes wrong or ends early."""

import pytest

from faultkit.commands.opening import JobEngine
from faultkit.errors import CircuitError, FaultkitError
from faultkit.job.records import Assessment, JobState
from faultkit.terminal.library import Offer
from faultkit.terminal.plain.plain import run_plain
from tests.terminal.fake import Listening, OneMachine


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
    code, said = run(OneMachine(engine), "winch", ["1", "0", "0.5", "u", "q"])
    assert code == 0
    assert "! The island of -G1 floats. u takes the last step back." in said
    assert "Reading taken back" in said
    assert said.rstrip().endswith("Left. Make the machine safe before you go.")


def test_an_interrupt_is_code_130(winch: JobEngine) -> None:
    said: list[str] = []

    def ask(prompt: str) -> str:
        raise KeyboardInterrupt

    assert run_plain(OneMachine(Listening(winch)), "winch", ask, said.append) == 130
    assert "Interrupted" in said[-1]


def test_the_machine_is_asked_for_where_none_was_given(winch: JobEngine) -> None:
    code, said = run(OneMachine(Listening(winch)), None, ["7", "x", "1"])
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
                     ["1 w3", "- 1", "lamp", "99", "2", "0", "q"])
    assert code == 0
    assert "There is no number 99 in the list." in said
    assert [(e.symptom, e.shows) for e in engine.heard] == [  # type: ignore[union-attr]
        ("no-lamp", False), ("chatters", True)]
