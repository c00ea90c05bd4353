"""The electrician of the lines at the keys of the screens: does whatever a screen asks for."""

from collections.abc import Callable
from dataclasses import dataclass, field

from textual.pilot import Pilot
from textual.widgets import Input

from faultkit.commands.opening import JobEngine
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.screens.bench.bench import BenchScreen
from faultkit.terminal.screens.bench.entry import ReadingEntry
from faultkit.terminal.screens.call.call import CallScreen
from faultkit.terminal.screens.closed.closed import ClosedScreen
from faultkit.terminal.screens.closing.closing import ClosingScreen
from faultkit.terminal.screens.complaint.complaint import ComplaintScreen
from faultkit.terminal.screens.finding.finding import FindingScreen
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.screens.hand_back.hand_back import HandBackScreen
from faultkit.terminal.screens.machine.machine import MachineScreen
from faultkit.terminal.screens.put_right.put_right import PutRightScreen
from faultkit.terminal.screens.secure.secure import SecureScreen
from faultkit.terminal.screens.switching.switching import SwitchingScreen
from faultkit.terminal.widgets.entry_line import WordEntry
from tests.jobs.electrician import as_typed, symptoms_of

MOST = 60
"""Screens acted upon in one job."""
TURNS = {"unknown": 0, "hanging": 1, "none": 2}
"""How often the load is turned."""


@dataclass
class Hands:
    """Does one job on screens, on a machine with one hidden cause.

    `stop` is asked before every screen; True leaves the job there.
    """

    engine: JobEngine
    cause: str
    load: str = "none"
    stop: Callable[[FaultkitApp], bool] = field(default=lambda _app: False)
    repaired: bool = False
    seen: list[str] = field(default_factory=list)

    async def work(self, pilot: "Pilot[int]") -> None:
        """From whatever screen there is to the closed job, or to where it stops."""
        app = pilot.app
        assert isinstance(app, FaultkitApp)
        for _ in range(MOST):
            await settled(pilot)
            screen = app.screen
            self.seen.append(type(screen).__name__)
            if isinstance(screen, ClosedScreen) or self.stop(app):
                return
            assert isinstance(screen, Frame)
            await self._act(pilot, screen)
        raise AssertionError(f"no end: {self.seen}")

    async def _act(self, pilot: "Pilot[int]", screen: Frame) -> None:
        match screen:
            case MachineScreen():
                await pilot.press("enter")
            case CallScreen():
                await self._call(pilot)
            case ComplaintScreen():
                shows, works = symptoms_of(self.engine, self.cause)
                await pilot.press(*map(str, shows),
                                  *(str(n) for number in works for n in (number, number)), "0")
            case BenchScreen():
                await self._measure(pilot, screen)
            case SwitchingScreen():
                left = range(screen.made, len(screen.change.steps))
                await pilot.press(*(str((step + 1) % 10) for step in left))
            case FindingScreen():
                confirm = [digit for digit, (what, _) in screen._answers.items()
                           if what.startswith("test:")]
                await pilot.press(confirm[0] if confirm else "1")
            case PutRightScreen():
                await self._put_right(pilot, screen)
            case HandBackScreen():
                await self._prove(pilot, screen)
            case SecureScreen():
                await pilot.press("1")
            case ClosingScreen():
                await pilot.press("1", "enter")
            case _:
                raise AssertionError(f"nobody knows what to do on {screen!r}")

    async def _call(self, pilot: "Pilot[int]") -> None:
        await pilot.press(*(["1"] * TURNS[self.load]))
        for digit, words in (("5", "Ann [bold]"), ("6", "A-7"), ("7", "bay 3"),
                             ("8", "UP is \x1b[31mdead")):
            await pilot.press(digit)
            await write(pilot, words)
        await pilot.press("0")

    async def _measure(self, pilot: "Pilot[int]", screen: BenchScreen) -> None:
        assert screen.test is not None
        questioned = bool(screen.query_one(ReadingEntry).value)
        if screen.change is not None or questioned:
            await pilot.press("enter")
            return
        await write(pilot, as_typed(self.engine, None if self.repaired else self.cause,
                                    screen.test.id))

    async def _put_right(self, pilot: "Pilot[int]", screen: PutRightScreen) -> None:
        if screen.stage == "test":
            assert screen.test is not None
            await pilot.press("1")
            await write(pilot, as_typed(self.engine, None, screen.test.id))
        elif screen.stage == "try":
            await pilot.press("3")
            await write(pilot, "new part")
            self.repaired = True
            await pilot.press("1", "1")
        else:
            await pilot.press("1")

    async def _prove(self, pilot: "Pilot[int]", screen: HandBackScreen) -> None:
        machine = screen.desk.machine
        while len(screen.desk.state.proofs) < len(machine.safety):
            await pilot.press("p", "enter")
            if screen.line.key:
                await write(pilot, "Bob")
        await pilot.press("0")


async def write(pilot: "Pilot[int]", words: str) -> None:
    """Paste words into the field that has the focus, and enter them."""
    from textual import events

    await pilot.pause()
    field = pilot.app.focused
    assert isinstance(field, Input)
    if isinstance(field, WordEntry):
        field.clear()
        field.post_message(events.Paste(words))
        await pilot.pause()
    else:
        assert isinstance(field, ReadingEntry)
        field.insert_text_at_cursor(words)
    await pilot.press("enter")
    await settled(pilot)


async def settled(pilot: "Pilot[int]") -> None:
    """Wait until nothing is being worked out and everything is drawn."""
    for _ in range(3):  # what a worker found may begin other work
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
