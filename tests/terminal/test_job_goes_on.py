"""How a job goes on and ends on screens: readings, bridges, putting right, handing back."""



from faultkit.commands.opening import JobEngine
from faultkit.job.events import (
    BridgeFound,
    BridgeRemoved,
    Closed,
    ConditionChanged,
    ProofMade,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Remarked,
    Reopened,
    Repaired,
)
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.screens.bench.bench import BenchScreen
from faultkit.terminal.screens.closed.closed import ClosedScreen
from faultkit.terminal.screens.closing.closing import ClosingScreen
from faultkit.terminal.screens.compare.compare import CompareScreen
from faultkit.terminal.screens.finding.finding import FindingScreen
from faultkit.terminal.screens.hand_back.hand_back import HandBackScreen
from faultkit.terminal.screens.put_right.put_right import PutRightScreen
from faultkit.terminal.screens.start.start import StartScreen
from faultkit.terminal.screens.switching.switching import SwitchingScreen
from faultkit.terminal.wording.handing import CLOSINGS
from faultkit.vocabulary.diagnosis import Reading
from tests.terminal.at_screens import (
    CALL,
    CURED,
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
from tests.terminal.fake import job_for, type_line
from tests.terminal.hands import settled, write

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
