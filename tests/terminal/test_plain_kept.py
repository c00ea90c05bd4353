"""A job on lines that is left, gone on with, or cannot be kept."""

from dataclasses import replace

import pytest

from faultkit.commands.opening import JobEngine
from faultkit.errors import FileError
from faultkit.job.events import (
    CalledOut,
    Closed,
    ConditionChanged,
    Event,
    ReadingTaken,
    Repaired,
    SymptomTold,
)
from faultkit.terminal.plain.plain import run_plain
from tests.jobs.electrician import Electrician
from tests.terminal.books import head, noted
from tests.terminal.fake import Listening, OneMachine
from tests.terminal.on_lines import COIL, Done, do


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


