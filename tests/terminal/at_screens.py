"""What the tests at the screens share: a job that is kept, keys, and what is seen."""

from typing import TypeVar

from textual.pilot import Pilot
from textual.screen import Screen

from faultkit.commands.opening import JobEngine
from faultkit.job.events import (
    CalledOut,
    ConditionChanged,
    Event,
    ReadingTaken,
    Repaired,
    SymptomTold,
)
from faultkit.terminal.app import FaultkitApp
from faultkit.vocabulary.diagnosis import Reading
from tests.terminal.books import head, noted
from tests.terminal.drawing import signs
from tests.terminal.fake import Listening, OneMachine
from tests.terminal.hands import settled

CALL = CalledOut(load="none")
NO_UP = SymptomTold("no-up", shows=True)
FULL = ReadingTaken("up-coil", Reading(114.0))
DEAD = ConditionChanged("isolated", True, ("load",))
CURED = Repaired("Q2.replace", cured=True)


Shown = TypeVar("Shown", bound=Screen[str])


def seen(app: FaultkitApp) -> str:
    return "\n".join(signs(app))


def shown(app: FaultkitApp, kind: type[Shown]) -> Shown:
    """The screen that is shown, which must be of this kind."""
    assert isinstance(app.screen, kind)
    return app.screen


def kept(engine: JobEngine, *events: Event) -> OneMachine:
    """A library with one open job, in which this happened."""
    library = OneMachine(Listening(engine))
    library.heads = (head("9e4d00aa11"),)
    library.kept = {"9e4d00aa11": list(noted(events))}
    return library


def news(library: OneMachine, before: int) -> list[Event]:
    """What was kept since."""
    return [one.event for one in library.book.noted[before:]]


async def press(pilot: "Pilot[int]", *keys: str) -> None:
    for key in keys:
        await pilot.press(key)
        await settled(pilot)


async def resumed(pilot: "Pilot[int]", *keys: str) -> None:
    """Go on with the job, then press keys."""
    await settled(pilot)
    await press(pilot, "enter", *keys)
