"""How a job begins on screens: which one, the load first, safe conditions; and what goes wrong."""

from dataclasses import replace
from pathlib import Path

import pytest

from faultkit.commands.opening import JobEngine
from faultkit.errors import JournalError, UsageError
from faultkit.job.events import (
    CalledOut,
    ConditionChanged,
    LoadSecured,
    ReadingTaken,
)
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.screens.bench.bench import BenchScreen
from faultkit.terminal.screens.call.call import CallScreen
from faultkit.terminal.screens.secure.secure import SecureScreen
from faultkit.terminal.screens.start.start import StartScreen
from faultkit.terminal.screens.switching.switching import SwitchingScreen
from faultkit.vocabulary.diagnosis import Reading
from tests.terminal.at_screens import (
    CALL,
    DEAD,
    FULL,
    NO_UP,
    kept,
    news,
    press,
    resumed,
    seen,
    shown,
)
from tests.terminal.books import head
from tests.terminal.fake import Listening, OneMachine, type_line
from tests.terminal.hands import settled, write

# --- the start ------------------------------------------------------------------------------


async def test_an_open_job_is_offered_first_and_goes_on_where_it_was(winch: JobEngine) -> None:
    library = kept(winch, CALL, NO_UP, FULL)
    app = FaultkitApp(library)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert "1  winch" in seen(app)
        await press(pilot, "1", "enter")
        shown(app, BenchScreen)
        assert shown(app, BenchScreen).desk.state.entries[0].reading == Reading(114.0)
        await type_line(pilot, "s")
        assert len(library.book.noted) == 4
        await press(pilot, "escape", "escape")
        shown(app, StartScreen)
        assert app.desk is None


async def test_the_last_open_job_is_resumed_without_asking(winch: JobEngine) -> None:
    app = FaultkitApp(kept(winch, CALL, NO_UP), resume="")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot)
        shown(app, BenchScreen)


def test_a_job_that_is_not_there_cannot_be_resumed(winch: JobEngine) -> None:
    for asked in ("", "77"):
        with pytest.raises(UsageError):
            FaultkitApp(OneMachine(Listening(winch)), resume=asked)


async def test_a_job_about_another_machine_is_not_resumed_on_this_one(winch: JobEngine) -> None:
    library = kept(winch, CALL)
    library.heads = (head("9e4d00aa11", machine="other"),)
    app = FaultkitApp(library, "winch", resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot)
        assert "is about 'other', not about 'winch'" in seen(app)
        assert app.desk is None


async def test_the_warning_of_the_store_stays_in_sight_on_every_screen(winch: JobEngine) -> None:
    library = kept(winch, CALL, NO_UP)
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot)
        assert "Nothing is being saved" not in seen(app)
        library.warning = "Nothing is being saved: the disk is full."
        await type_line(pilot, "s")
        for key in ("", "r", "escape", "k", "escape", "n", "escape", "b", "escape", "h", "0",
                    "escape", "e", "escape", "t", "escape", "w", "escape", "d", "escape", "v",
                    "escape", "x", "escape", "ctrl+q"):
            if key:
                await press(pilot, key)
            assert "Nothing is being saved: the disk is full." in " ".join(
                seen(app).replace("│", " ").split()), type(app.screen).__name__


# --- the call-out and the load --------------------------------------------------------------


async def test_a_hanging_load_comes_before_everything_else(winch: JobEngine) -> None:
    library = OneMachine(Listening(winch))
    app = FaultkitApp(library, "winch")
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "enter", "1")
        assert "The load comes first" in seen(app)
        await press(pilot, "0")
        shown(app, SecureScreen)
        await press(pilot, "escape")
        shown(app, CallScreen)
        await press(pilot, "0", "3")
        await write(pilot, "")
        assert "Say how" in seen(app)
        await write(pilot, "tape, Lee")
        assert [one.event for one in library.book.noted] == [
            CalledOut(load="hanging"), LoadSecured("area closed", "tape, Lee")]


async def test_a_danger_told_later_leads_away_from_the_bench_at_once(winch: JobEngine) -> None:
    app = FaultkitApp(kept(winch, CALL, NO_UP), resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "k", "3", "0")
        shown(app, SecureScreen)
        await press(pilot, "escape")
        shown(app, BenchScreen)
        assert "Nothing is measured before" in seen(app)
        await type_line(pilot, "114")
        assert shown(app, BenchScreen).desk.state.entries == ()
        await press(pilot, "escape", "l", "1")
        await type_line(pilot, "114")
        shown(app, BenchScreen)
        assert len(shown(app, BenchScreen).desk.state.entries) == 1


async def test_dead_work_only_proposes_no_live_test(winch: JobEngine) -> None:
    app = FaultkitApp(kept(winch, CALL, NO_UP), resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "k", "4", "0")
        shown(app, BenchScreen)
        test = shown(app, BenchScreen).test
        assert test is not None
        assert winch.machine.conditions[test.condition].dead
        assert "FIRST   d: make it DEAD" in seen(app)


# --- safe conditions ------------------------------------------------------------------------


async def test_a_key_held_down_never_runs_through_the_steps(winch: JobEngine) -> None:
    library = kept(winch, CALL, NO_UP)
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "d")
        screen = shown(app, SwitchingScreen)
        await pilot.press(*["1"] * 20, *["enter"] * 20, *["space"] * 5)
        assert screen.made == 1
        assert "Press 2 once step 2 is done." in seen(app)
        await press(pilot, "2", "b")
        assert screen.made == 1
        await press(pilot, "escape")
        assert "Esc again breaks off" in seen(app)
        await press(pilot, "escape")
        shown(app, BenchScreen)
        assert news(library, 2) == []
        assert "LIVE" in seen(app).splitlines()[0]


async def test_cautions_of_the_step_to_do_stand_on_top(winch: JobEngine) -> None:
    app = FaultkitApp(kept(winch, CALL, NO_UP), resume="9e4")
    for size in ((140, 45), (80, 24), (48, 18)):
        async with app.run_test(size=size) as pilot:
            await resumed(pilot, "d")
            screen = shown(app, SwitchingScreen)
            for index, step in enumerate(screen.change.steps):
                rows = seen(app).splitlines()
                top = " ".join(" ".join(rows[:next(
                    at for at, row in enumerate(rows) if row.startswith("──"))]).split())
                assert f"NOW {index + 1}. {step.says}" in top
                assert all(f"! {caution}" in top for caution in step.cautions)
                await press(pilot, str((index + 1) % 10))
            assert "DEAD" in seen(app).splitlines()[0]
        app = FaultkitApp(kept(winch, CALL, NO_UP), resume="9e4")


async def test_a_reading_that_needs_another_state_leads_through_its_steps(
    winch: JobEngine,
) -> None:
    library = kept(winch, CALL, NO_UP, DEAD)
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot)
        shown(app, BenchScreen).take("up-coil")
        await settled(pilot)
        await type_line(pilot, "114")
        assert "The machine is dead, and this test needs" in seen(app)
        await pilot.press(*["backspace"] * 3)
        await press(pilot, "enter")
        screen = shown(app, SwitchingScreen)
        await pilot.press(*(str((n + 1) % 10) for n in range(len(screen.change.steps))))
        await settled(pilot)
        await type_line(pilot, "114")
        assert [type(event) for event in news(library, 3)] == [ConditionChanged, ReadingTaken]


# --- what goes wrong ------------------------------------------------------------------------


async def test_what_the_journal_refuses_did_not_happen(winch: JobEngine) -> None:
    library = OneMachine(Listening(winch))
    library.book = replace(library.book, refuses=JournalError("Someone else goes on with it."))
    app = FaultkitApp(library, "winch")
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        await press(pilot, "enter", "1", "0")
        shown(app, CallScreen)
        assert "! Someone else goes on with it." in seen(app)
        assert app.desk is not None
        assert app.desk.events == []


async def test_the_last_line_says_where_the_job_is(
    winch: JobEngine, capsys: pytest.CaptureFixture[str],
) -> None:
    app = FaultkitApp(kept(winch, CALL, NO_UP), resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot)
        await pilot.press("ctrl+q", "ctrl+q")
    assert app.return_code == 0
    assert capsys.readouterr().err.split("\n")[:-1] == [
        "The job is kept: faultkit find --resume 9e4d00aa"]


async def test_a_signal_ends_with_its_code_and_says_where_the_job_is(
    winch: JobEngine, capsys: pytest.CaptureFixture[str],
) -> None:
    app = FaultkitApp(kept(winch, CALL, NO_UP), resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "d", "1")
        app._cut_off(15)
        await pilot.pause()
    assert app.return_code == 143
    assert "--resume 9e4d00aa" in capsys.readouterr().err


async def test_a_report_that_cannot_be_written_is_one_sentence(
    winch: JobEngine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("faultkit.terminal.trouble.log_file", lambda: tmp_path / "trouble.log")

    def breaks(_kept: object) -> str:
        raise ZeroDivisionError("secret detail")

    library = kept(winch, CALL, NO_UP)
    library.book.text = breaks
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "v")
        assert "Something unexpected went wrong (ZeroDivisionError)" in seen(app)
        assert "secret detail" not in seen(app)
