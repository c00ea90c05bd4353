"""Only keys that arrive on every terminal, and key bars that are never cut."""

import pytest
from textual.binding import Binding

from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.keys import SAFE, SAME_PLACE
from faultkit.terminal.screens.bench.bench import BenchScreen
from faultkit.terminal.screens.bench.entry import STARTS_A_READING
from faultkit.terminal.screens.complaint.complaint import ComplaintScreen
from faultkit.terminal.screens.finding.finding import FindingScreen
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.screens.leave.leave import LeaveScreen
from faultkit.terminal.screens.machine.machine import MachineScreen
from faultkit.terminal.screens.paper.paper import PaperScreen
from faultkit.terminal.screens.readings.readings import ReadingsScreen
from faultkit.terminal.screens.start.start import StartScreen
from faultkit.terminal.screens.tests.tests import TestsScreen
from faultkit.terminal.widgets.bars import NARROW, KeyBar

FRAMES: list[type[Frame]] = [
    BenchScreen, ComplaintScreen, FindingScreen, MachineScreen, PaperScreen, ReadingsScreen,
    StartScreen, TestsScreen]


@pytest.mark.parametrize("owner", [FaultkitApp, LeaveScreen, *FRAMES],
                         ids=lambda owner: owner.__name__)
def test_no_binding_is_outside_the_safe_keys(owner: type[FaultkitApp]) -> None:
    bindings = [b if isinstance(b, Binding) else Binding(*b) for b in owner.BINDINGS]
    keys = {key for binding in bindings for key in binding.key.split(",")}
    assert keys
    assert keys <= SAFE
    ids = [binding.id for binding in bindings]
    assert None not in ids
    assert len(set(ids)) == len(ids)


@pytest.mark.parametrize("frame", FRAMES, ids=lambda frame: frame.__name__)
@pytest.mark.parametrize("width", [38, 46, 58, 78, 118])
def test_the_key_bar_is_never_cut_and_always_ends_with_help(frame: type[Frame], width: int) -> None:
    bar = KeyBar(frame.KEYS)
    shown = bar.fitting(width)
    assert shown[-1].key == "f1"
    assert len(bar.lines(width, 1)[0].plain) <= width
    if width <= NARROW:
        assert len(shown) <= 4


def test_no_letter_of_the_bench_begins_a_reading() -> None:
    letters = {key.key for key in BenchScreen.KEYS if len(key.key) == 1}
    assert letters
    assert not letters & {character.lower() for character in STARTS_A_READING}


@pytest.mark.parametrize("frame", FRAMES, ids=lambda frame: frame.__name__)
def test_every_screen_explains_itself_and_every_key(frame: type[Frame]) -> None:
    assert len(frame.HELP.split()) > 8
    assert all(key.says and key.words for key in frame.KEYS)


def test_other_layouts_map_to_letters_on_the_same_keys() -> None:
    assert SAME_PLACE["й"] == "q"
    assert SAME_PLACE["і"] == "s"
    assert SAME_PLACE["ω"] == "v"
    assert set(SAME_PLACE.values()) <= SAFE
