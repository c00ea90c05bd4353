"""The screens and the line-by-line mode do the same job, event by event."""

import pytest

from faultkit.commands.opening import JobEngine
from faultkit.job.events import Closed, Event, LoadSecured, Repaired
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.plain.plain import run_plain
from tests.jobs.electrician import Electrician
from tests.terminal.fake import Listening, OneMachine
from tests.terminal.hands import Hands

CAUSES = ("Q2.coil-open", "S2.13-14.open", "F3.1-2.open", "H1.burnt")


def on_lines(engine: JobEngine, cause: str, load: str) -> list[Event]:
    library, said = OneMachine(Listening(engine)), list[str]()
    hand = Electrician(engine, cause, load=load)

    def ask(prompt: str) -> str:
        answer = hand.answer("\n".join(said), prompt)
        said.append(prompt)
        return answer

    assert run_plain(library, engine.machine.id, ask, said.append) == 0
    return [one.event for one in library.book.noted]


async def on_screens(engine: JobEngine, cause: str, load: str,
                     size: tuple[int, int]) -> list[Event]:
    library = OneMachine(Listening(engine))
    app = FaultkitApp(library, engine.machine.id)
    async with app.run_test(size=size) as pilot:
        await Hands(engine, cause, load).work(pilot)
    return [one.event for one in library.book.noted]


@pytest.mark.parametrize("cause", CAUSES)
async def test_both_fronts_do_the_whole_job_by_the_same_events(
    winch: JobEngine, cause: str,
) -> None:
    lines = on_lines(winch, cause, "none")
    screens = await on_screens(winch, cause, "none", (80, 24))
    assert screens == lines
    assert lines[-1] == Closed("fit for use", "Bob")
    repaired = [event for event in lines if isinstance(event, Repaired)]
    assert [event.remedy for event in repaired] == [winch.machine.causes[cause].remedy]


async def test_both_fronts_see_to_a_hanging_load_first(winch: JobEngine) -> None:
    lines = on_lines(winch, CAUSES[0], "hanging")
    for size in ((140, 45), (48, 18)):
        assert await on_screens(winch, CAUSES[0], "hanging", size) == lines
    assert lines[1] == LoadSecured("landed")
