"""What goes wrong on a job goes the same way on screens and on lines, event by event."""

from pathlib import Path

import pytest
from textual.pilot import Pilot

from faultkit.commands.opening import JobEngine, open_machine
from faultkit.job.events import (
    BridgeFound,
    BridgeRemoved,
    Closed,
    ConditionChanged,
    Event,
    ReadingChanged,
    ReadingWithdrawn,
    Remarked,
    TestOffered,
    TestSkipped,
)
from faultkit.job.knowledge import know
from faultkit.prediction import predict
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.plain.plain import run_plain
from faultkit.terminal.screens.bench.bench import BenchScreen
from faultkit.terminal.screens.switching.switching import SwitchingScreen
from tests.jobs.electrician import Electrician
from tests.terminal.fake import Listening, OneMachine
from tests.terminal.hands import Hands, settled, write

WINCH = Path(__file__).parents[1] / "terminal" / "winch.yaml"
COIL = "Q2.coil-open"
WHERE, WORDS, WHY = "-S0:11 to -S0:12", "wet inside", "it does not stop at once"


@pytest.fixture(scope="module")
def winch() -> JobEngine:
    """The small test winch, with everything computed."""
    return JobEngine(know(predict(open_machine(str(WINCH)))))


def on_lines(engine: JobEngine, first: dict[str, list[str]]) -> list[Event]:
    """Do a job line by line; `first` is typed at some questions before the usual answers."""
    library, said = OneMachine(Listening(engine)), list[str]()
    hand = Electrician(engine, COIL, first={words: list(given) for words, given in first.items()})

    def ask(prompt: str) -> str:
        said.append(prompt)
        return hand.answer("\n".join(said), prompt)

    assert run_plain(library, engine.machine.id, ask, said.append) == 0
    return [one.event for one in library.book.noted]


class Bypath(Hands):
    """Stops at the first test; then somebody presses other keys, and the job goes on."""

    async def up_to_the_bench(self, pilot: "Pilot[int]") -> BenchScreen:
        self.stop = lambda app: isinstance(app.screen, BenchScreen)
        await self.work(pilot)
        self.stop = lambda _app: False
        assert isinstance(pilot.app.screen, BenchScreen)
        return pilot.app.screen

    async def keys(self, pilot: "Pilot[int]", *given: str) -> None:
        """One key after the other, or words in <> typed into the field with the focus."""
        for one in given:
            if one.startswith("<"):
                await write(pilot, one.strip("<>"))
            else:
                await pilot.press(one)
            await settled(pilot)


async def on_screens(engine: JobEngine, keys: tuple[str, ...]) -> list[Event]:
    """Do a job on screens; `keys` are pressed at the first test."""
    library = OneMachine(Listening(engine))
    app = FaultkitApp(library, engine.machine.id)
    async with app.run_test(size=(80, 24)) as pilot:
        hands = Bypath(engine, COIL)
        await hands.up_to_the_bench(pilot)
        await hands.keys(pilot, *keys)
        if isinstance(app.screen, SwitchingScreen):
            await hands._act(pilot, app.screen)
        await hands.work(pilot)
    return [one.event for one in library.book.noted]


BYPATHS: dict[str, tuple[tuple[str, ...], dict[str, list[str]], tuple[type[Event], ...]]] = {
    "a test is left out and offered again": (
        ("s", "u"), {"Reading: ": ["s", "u"]}, (TestSkipped, TestOffered)),
    "a reading is mistyped and changed": (
        ("<0.4>", "r", "1", "<114>", "1"),
        {"Reading: ": ["0.4", "r"], "Change which": ["1"], "What was it": ["114"], "Do it": ["y"]},
        (ReadingChanged,)),
    "a reading is mistyped and taken back": (
        ("<0.4>", "r", "d", "1"),
        {"Reading: ": ["0.4", "r"], "Change which": ["1"], "What was it": [""], "Do it": ["y"]},
        (ReadingWithdrawn,)),
    "a reading is mistyped and undone": (
        ("<0.4>", "u"), {"Reading: ": ["0.4", "u"]}, (ReadingWithdrawn,)),
    "a bridge is found and taken out": (
        ("b", "1", f"<{WHERE}>", "1", "escape"),
        {"Reading: ": ["b"], "Which? ": ["1"], "Where is it": [WHERE], "Is it out": ["y"]},
        (BridgeFound, BridgeRemoved)),
    "a remark is written": (
        ("n", "1", f"<{WORDS}>", "escape"), {"Reading: ": ["n"], "Your remark": [WORDS]},
        (Remarked,)),
    "the machine is made dead before a live test": (
        ("d",), {"Reading: ": ["d"]}, (ConditionChanged,)),
    "the job is given up as not fit for use": (
        ("h", "0", "2", f"<{WHY}>", "<Bob>"),
        {"Reading: ": ["h"], "Go through the proofs": ["n"], "Number: ": ["2"],
         "Why not": [WHY]},
        (Closed,)),
}


@pytest.mark.parametrize("bypath", BYPATHS)
async def test_a_bypath_is_the_same_events_on_both_fronts(winch: JobEngine, bypath: str) -> None:
    keys, first, kinds = BYPATHS[bypath]
    lines = on_lines(winch, first)
    screens = await on_screens(winch, keys)
    assert screens == lines
    assert set(kinds) <= {type(event) for event in lines}
    assert isinstance(lines[-1], Closed)
