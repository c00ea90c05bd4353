"""The screens around the bench: what they ask, what they refuse, what they tell."""

from dataclasses import replace
from pathlib import Path
from typing import TypeVar

import pytest
from textual.pilot import Pilot
from textual.screen import Screen

from faultkit.commands.opening import JobEngine
from faultkit.errors import JournalError, UsageError
from faultkit.job.events import (
    BridgeFound,
    BridgeRemoved,
    CalledOut,
    Closed,
    ConditionChanged,
    Event,
    LoadSecured,
    ProofMade,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Remarked,
    Reopened,
    Repaired,
    SymptomTold,
)
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.screens.bench.bench import BenchScreen
from faultkit.terminal.screens.call.call import CallScreen
from faultkit.terminal.screens.closed.closed import ClosedScreen
from faultkit.terminal.screens.closing.closing import ClosingScreen
from faultkit.terminal.screens.compare.compare import CompareScreen
from faultkit.terminal.screens.finding.finding import FindingScreen
from faultkit.terminal.screens.hand_back.hand_back import HandBackScreen
from faultkit.terminal.screens.put_right.put_right import PutRightScreen
from faultkit.terminal.screens.secure.secure import SecureScreen
from faultkit.terminal.screens.start.start import StartScreen
from faultkit.terminal.screens.switching.switching import SwitchingScreen
from faultkit.terminal.wording.handing import CLOSINGS
from faultkit.vocabulary.diagnosis import Reading
from tests.terminal.books import head, noted
from tests.terminal.drawing import signs
from tests.terminal.fake import Listening, OneMachine, job_for, type_line
from tests.terminal.hands import settled, write

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


# --- readings -------------------------------------------------------------------------------


async def test_a_change_shows_before_and_after_and_happens_only_when_confirmed(
    winch: JobEngine,
) -> None:
    library = kept(winch, CALL, NO_UP, FULL, DEAD, ReadingTaken("coil-ohms", Reading(24.0)))
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "r", "2")
        await write(pilot, "OL")
        shown(app, CompareScreen)
        text = seen(app)
        for needed in ("BEFORE: next", "AFTER: next", "BEFORE: suspects", "AFTER: suspects",
                       "OL instead of 24", "FINDING: one remedy"):
            assert needed in text, needed
        await press(pilot, "0")
        assert news(library, 5) == []
        await press(pilot, "2")
        await write(pilot, "OL")
        await press(pilot, "1")
        assert news(library, 5) == [ReadingChanged(2, Reading(float("inf")))]
        await press(pilot, "escape")
        shown(app, BenchScreen)
        await press(pilot, "u")
        assert news(library, 6) == [ReadingChanged(2, Reading(24.0))]


async def test_a_reading_is_withdrawn_after_its_consequences_were_seen(winch: JobEngine) -> None:
    library = kept(winch, CALL, NO_UP, FULL)
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(48, 18)) as pilot:
        await resumed(pilot, "r", "d")
        shown(app, CompareScreen)
        assert "AFTER" in seen(app) or "BEFORE" in seen(app)
        await press(pilot, "1")
        assert news(library, 3) == [ReadingWithdrawn(1)]


async def test_the_reading_that_fits_worst_is_named_and_measured_again(winch: JobEngine) -> None:
    library = kept(winch, CALL, NO_UP, DEAD, ReadingTaken("coil-ohms", Reading(24.0)))
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "r")
        text = seen(app)
        assert "Reading 1 fits worst:" in text
        assert "% that it is wrong" in text
        await press(pilot, "a")
        shown(app, BenchScreen)
        await type_line(pilot, "70")
        assert news(library, 4) == [ReadingTaken("coil-ohms", Reading(70.0))]


async def test_a_free_entry_is_found_predicted_and_read(winch: JobEngine) -> None:
    library = kept(winch, CALL, NO_UP)
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "e")
        await pilot.press(*"zzz", "enter")
        assert "Nothing holds that" in seen(app)
        await pilot.press(*["backspace"] * 3, *"s2:14", "enter", *"n", "down", "enter")
        await settled(pilot)
        assert "Which meter?" in seen(app)
        await press(pilot, "escape")
        assert "BLACK lead" in seen(app)
        await pilot.press(*"t1:4", "enter")
        await press(pilot, "1", "4")
        assert "are in two places: no lead is so long" in " ".join(seen(app).split())
        await press(pilot, "escape")
        await pilot.press(*"x1:7", "enter", *"n", "enter")
        await press(pilot, "1", "4")
        shown(app, BenchScreen)
        text = seen(app)
        assert "RED -X1:7   BLACK -T1:4" in text
        assert "about 114 V AC" in text
        await type_line(pilot, "114")
        assert news(library, 2) == [
            ReadingTaken("probe:-X1:7|-T1:4|V AC|up", Reading(114.0))]


# --- bridges, remarks, it works now ---------------------------------------------------------


async def test_a_bridge_stays_in_sight_until_it_is_out(winch: JobEngine) -> None:
    library = kept(winch, CALL, NO_UP)
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "b", "1")
        await write(pilot, "-S0:11 to -S0:12")
        await press(pilot, "escape")
        assert "BRIDGE still in: -S0:11 to -S0:12" in seen(app)
        await press(pilot, "h")
        assert "[BRIDGE] still in" in seen(app)
        await press(pilot, "1", "1", "escape")
        assert news(library, 2) == [BridgeFound("-S0:11 to -S0:12"),
                                    BridgeRemoved("-S0:11 to -S0:12")]
        assert "BRIDGE" not in seen(app)


async def test_a_remark_is_kept_as_typed(winch: JobEngine) -> None:
    library = kept(winch, CALL, NO_UP)
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "n", "1")
        await write(pilot, "Rope: 3 wires broken")
        assert "Rope: 3 wires broken" in seen(app)
        assert news(library, 2) == [Remarked("Rope: 3 wires broken")]


async def test_it_works_now_gives_advice_and_ends_as_no_fault_found(winch: JobEngine) -> None:
    library = kept(winch, CALL, NO_UP)
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "x")
        assert "Ask the operator" in seen(app)
        await press(pilot, "2", "3")
        assert "Not proved: Press the emergency stop" in seen(app)
        shown(app, ClosingScreen)
        await press(pilot, "escape", "x", "1", "p", "enter")
        await write(pilot, "Kim")
        await press(pilot, "0", "3")
        await write(pilot, "ran it warm for an hour")
        await press(pilot, "enter")
        assert news(library, 2) == [ProofMade("emergency stop", True, "Kim"), Closed(
            "no fault found", "Kim", "ran it warm for an hour")]
        shown(app, ClosedScreen)


# --- putting right and handing back ---------------------------------------------------------


async def test_a_stray_key_neither_ends_the_job_nor_drops_the_readings(winch: JobEngine) -> None:
    events = job_for(winch, "Q2.coil-open").events
    library = kept(winch, *events)
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot)
        shown(app, FindingScreen)
        await press(pilot, "1")
        screen = shown(app, PutRightScreen)
        for _ in range(12):
            if screen.stage == "try":
                break
            await press(pilot, "1" if screen.stage != "test" else "2")
            if isinstance(app.screen, SwitchingScreen):
                steps = range(len(app.screen.change.steps))
                await pilot.press(*(str((n + 1) % 10) for n in steps))
                await settled(pilot)
        await press(pilot, "1", "2", "1", "3", "escape")
        repairs = [e for e in news(library, len(events)) if isinstance(e, Repaired)]
        assert repairs == []
        assert "Press it again" not in seen(app)
        await press(pilot, "2", "2")
        assert [e.cured for e in news(library, len(events)) if isinstance(e, Repaired)] == [False]
        shown(app, BenchScreen)
        assert "not cured" in seen(app)


async def test_a_repair_on_a_dead_machine_begins_with_its_steps(winch: JobEngine) -> None:
    events = job_for(winch, "Q2.coil-open").events
    alive = ConditionChanged("ready", False, ("tools",))
    app = FaultkitApp(kept(winch, *events, alive), resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "1")
        shown(app, PutRightScreen)
        text = seen(app)
        assert "NOW: Make it dead" in text
        assert "The work is done" not in text
        await press(pilot, "1")
        shown(app, SwitchingScreen)


async def test_a_failed_proof_needs_words_and_keeps_the_machine_unfit(winch: JobEngine) -> None:
    library = kept(winch, CALL, NO_UP, CURED)
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot, "h")
        shown(app, HandBackScreen)
        await press(pilot, "f", "enter")
        assert "Say what happened" in seen(app)
        await write(pilot, "ran on")
        await write(pilot, "Kim")
        assert "[FAILED]" in seen(app)
        await press(pilot, "0", "1")
        assert "Failed: Press the emergency stop" in seen(app)
        await press(pilot, "2", "enter")
        assert "A reason is needed" in seen(app)
        await write(pilot, "emergency stop runs on")
        await press(pilot, "enter")
        assert news(library, 3) == [
            ProofMade("emergency stop", False, "Kim", "ran on"),
            Closed("not fit for use", "Kim", "emergency stop runs on")]


async def test_a_closed_job_is_read_saved_and_reopened(winch: JobEngine) -> None:
    library = kept(winch, CALL, NO_UP, Closed("not fit for use", "Kim", "rope"))
    app = FaultkitApp(library, resume="9e4")
    async with app.run_test(size=(80, 24)) as pilot:
        await resumed(pilot)
        shown(app, ClosedScreen)
        await press(pilot, "1")
        assert "# Report" in seen(app)
        await press(pilot, "m", "j", "escape", "2")
        assert library.book.saved == ["md", "json", "html"]
        assert "Saved: faultkit-9e4d00aa.html" in seen(app)
        await press(pilot, "escape", "6")
        assert news(library, 3) == [Reopened()]
        shown(app, BenchScreen)
        await press(pilot, "u")
        shown(app, ClosedScreen)
        await press(pilot, "0")
        shown(app, StartScreen)


def test_every_way_of_closing_has_its_words() -> None:
    assert list(CLOSINGS) == ["fit for use", "not fit for use", "no fault found"]


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
