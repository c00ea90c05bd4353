"""Only keys that arrive on every terminal, and key bars that are never cut."""

from pathlib import Path

import pytest
from textual.binding import Binding

from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.keys import SAFE, SAME_PLACE
from faultkit.terminal.screens.bench.bench import BenchScreen
from faultkit.terminal.screens.bench.entry import STARTS_A_READING
from faultkit.terminal.screens.bridges.bridges import BridgesScreen
from faultkit.terminal.screens.call.call import CallScreen
from faultkit.terminal.screens.closed.closed import ClosedScreen
from faultkit.terminal.screens.closing.closing import ClosingScreen
from faultkit.terminal.screens.compare.compare import CompareScreen
from faultkit.terminal.screens.complaint.complaint import ComplaintScreen
from faultkit.terminal.screens.finding.finding import FindingScreen
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.screens.free.free import FreeScreen
from faultkit.terminal.screens.hand_back.hand_back import HandBackScreen
from faultkit.terminal.screens.leave.leave import LeaveScreen
from faultkit.terminal.screens.machine.machine import MachineScreen
from faultkit.terminal.screens.paper.paper import PaperScreen
from faultkit.terminal.screens.put_right.put_right import PutRightScreen
from faultkit.terminal.screens.readings.readings import ReadingsScreen
from faultkit.terminal.screens.remarks.remarks import RemarksScreen
from faultkit.terminal.screens.report.report import ReportScreen
from faultkit.terminal.screens.secure.secure import SecureScreen
from faultkit.terminal.screens.start.start import StartScreen
from faultkit.terminal.screens.switching.switching import SwitchingScreen
from faultkit.terminal.screens.tests.tests import TestsScreen
from faultkit.terminal.screens.works.works import WorksScreen
from faultkit.terminal.widgets.bars import NARROW, KeyBar

FRAMES: list[type[Frame]] = [
    BenchScreen, BridgesScreen, CallScreen, ClosedScreen, ClosingScreen, CompareScreen,
    ComplaintScreen, FindingScreen, FreeScreen, HandBackScreen, MachineScreen, PaperScreen,
    PutRightScreen, ReadingsScreen, RemarksScreen, ReportScreen, SecureScreen, StartScreen,
    SwitchingScreen, TestsScreen, WorksScreen]


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


@pytest.mark.parametrize("frame", FRAMES, ids=lambda frame: frame.__name__)
def test_no_key_of_a_screen_means_two_things(frame: type[Frame]) -> None:
    keys = [key.key for key in frame.KEYS]
    assert len(set(keys)) == len(keys)


def test_every_screen_is_among_those_looked_at() -> None:
    import faultkit.terminal.screens as room

    folder = Path(room.__file__).parent
    named = {path.parent.name for path in folder.glob("*/*.tcss")} | {
        path.parent.name for path in folder.glob("*/__init__.py")}
    seen = {frame.__module__.split(".")[-2] for frame in FRAMES} | {"leave"}
    assert named == seen


def test_other_layouts_map_to_letters_on_the_same_keys() -> None:
    assert SAME_PLACE["й"] == "q"
    assert SAME_PLACE["і"] == "s"
    assert SAME_PLACE["ω"] == "v"
    assert set(SAME_PLACE.values()) <= SAFE
