"""The screens at three sizes: what must be seen is seen, nothing is markup, nothing stalls."""

import threading
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import OptionList

from faultkit.commands.opening import JobEngine
from faultkit.errors import CircuitError
from faultkit.job.events import SymptomTold
from faultkit.job.records import Assessment, JobState
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.screens.bench.bench import BenchScreen
from faultkit.terminal.screens.bench.entry import ReadingEntry
from faultkit.terminal.screens.switching.switching import SwitchingScreen
from faultkit.terminal.widgets.bars import KeyBar
from tests.terminal.fake import Listening, OneMachine, type_line
from tests.terminal.hands import settled

FIRST = "114"
"""A reading of the test proposed first: volts across the coil."""


def seen(app: FaultkitApp) -> str:
    """The screen as text."""
    strips = app.screen._compositor.render_strips()
    return "\n".join("".join(segment.text for segment in strip) for strip in strips)


async def to_bench(pilot: "Pilot[int]") -> None:
    await settled(pilot)
    await pilot.press("enter", "0", "1", "0")
    await settled(pilot)


async def make_ready(pilot: "Pilot[int]") -> None:
    """Go through the steps that the test in hand needs."""
    await pilot.press("enter")
    await settled(pilot)
    screen = pilot.app.screen
    assert isinstance(screen, SwitchingScreen)
    await pilot.press(*(str((step + 1) % 10) for step in range(len(screen.change.steps))))
    await settled(pilot)


def app_for(
    engine: JobEngine, listening: Listening | None = None, *, ascii_only: bool = False,
) -> FaultkitApp:
    library = OneMachine(listening or Listening(engine))
    return FaultkitApp(library, engine.machine.id, ascii_only=ascii_only)


@pytest.mark.parametrize("size", [(80, 24), (140, 45), (48, 18)])
async def test_the_bench_tells_what_to_do_at_one_glance(
    winch: JobEngine, size: tuple[int, int],
) -> None:
    app = app_for(winch)
    async with app.run_test(size=size) as pilot:
        await to_bench(pilot)
        text = seen(app)
        for needed in ("DO NOW", "Measure", "State", "Where", "Meter", "RED", "BLACK", "! ",
                       "THE RUN", "IF IT READS", "F1 help"):
            assert needed in text, needed
        if size[1] >= 24:
            for needed in ("SUSPECTS", "OTHER", "Reading", "u undo"):
                assert needed in text, needed
        rows = text.splitlines()
        assert len(rows) == size[1]
        assert all(len(row) <= size[0] for row in rows)


async def test_what_was_understood_shows_before_enter_and_the_outcome_is_marked(
    winch: JobEngine,
) -> None:
    app = app_for(winch)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_bench(pilot)
        assert isinstance(app.screen, BenchScreen)
        assert app.screen.test is not None
        app.screen.take("up-coil")
        await settled(pilot)
        await pilot.press(*"114,5")
        await pilot.pause()
        assert "= 114.5 V AC" in seen(app)
        assert "▸" in seen(app)
        await pilot.press("backspace", *"..5")
        await pilot.pause()
        assert "= " not in seen(app).splitlines()[-3]
        await pilot.press("enter")
        await pilot.pause()
        assert app.screen.desk.state.entries == ()


async def test_letters_are_commands_only_while_the_field_is_empty(winch: JobEngine) -> None:
    app = app_for(winch)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_bench(pilot)
        entry = app.screen.query_one(ReadingEntry)
        await pilot.press("o")
        assert entry.value == "o"
        await pilot.press("s", "w")
        assert entry.value == "osw"
        await pilot.press("escape")
        assert entry.value == ""
        await pilot.press("w")
        assert type(app.screen).__name__ == "PaperScreen"
        assert "Why this one" in seen(app)


async def test_a_letter_of_a_greek_or_cyrillic_keyboard_works_as_the_key_it_sits_on(
    winch: JobEngine,
) -> None:
    app = app_for(winch)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_bench(pilot)
        await pilot.press("ц")
        await pilot.pause()
        assert type(app.screen).__name__ == "PaperScreen"


async def test_text_of_the_author_is_never_markup(winch: JobEngine) -> None:
    app = app_for(winch)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        assert "[not markup]" in seen(app)


async def test_f1_explains_on_every_screen_of_a_job(winch: JobEngine) -> None:
    app = app_for(winch)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        for way_on in ("enter", "0", "0", "t"):
            await pilot.press("f1")
            await pilot.pause()
            assert "What to do here" in seen(app)
            await pilot.press("f1")
            await pilot.press(way_on)
            await settled(pilot)
        await pilot.press("f1")
        await pilot.pause()
        assert "What to do here" in seen(app)


async def test_another_test_is_taken_by_digit_and_by_search(winch: JobEngine) -> None:
    app = app_for(winch)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_bench(pilot)
        bench = app.screen
        assert isinstance(bench, BenchScreen)
        first = bench.test
        listed = bench.query_one("#others", OptionList).get_option_at_index(1).id
        await pilot.press("down", "2")
        await settled(pilot)
        assert bench.test is not None
        assert bench.test.id == listed
        await pilot.press("t", *"look", "enter")
        await settled(pilot)
        assert bench.test.id == "look-q2"
        assert "1 in" in seen(app)
        await pilot.press("escape")
        await settled(pilot)
        assert bench.test == first


async def test_the_complaint_can_be_changed_later_and_only_the_difference_is_told(
    winch: JobEngine,
) -> None:
    listening = Listening(winch)
    app = app_for(winch, listening)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_bench(pilot)
        assert listening.heard == [SymptomTold("no-up", shows=True)]
        await pilot.press("c")
        await pilot.press("3", "3", "0")
        await settled(pilot)
        assert listening.heard[1:] == [SymptomTold("no-lamp", shows=False)]


async def test_a_search_forgives_a_slash_and_says_when_nothing_holds_it(
    winch: JobEngine,
) -> None:
    app = app_for(winch)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_bench(pilot)
        await pilot.press("t", "slash", "c", "o", "i", "l")
        await settled(pilot)
        assert app.screen.query_one("#list", OptionList).option_count > 0
        assert "Nothing holds that" not in seen(app)
        await pilot.press("x", "x")
        await settled(pilot)
        assert app.screen.query_one("#list", OptionList).option_count == 0
        assert "Nothing holds that" in seen(app)


async def test_a_reading_in_doubt_is_named_once_with_the_key_that_leads_to_it(
    winch: JobEngine,
) -> None:
    app = app_for(winch)
    async with app.run_test(size=(140, 45)) as pilot:
        await to_bench(pilot)
        await pilot.press("t", *"ohms", "enter")
        await settled(pilot)
        assert "Measure the coil" in seen(app).splitlines()[3]
        await make_ready(pilot)
        await type_line(pilot, "24")
        assert "Look again; Enter once more takes it" in seen(app)
        await pilot.press("enter")
        await settled(pilot)
        assert "? Press r: Reading 1 (24" in seen(app)


async def test_a_screen_that_breaks_leaves_one_sentence_and_the_details_in_a_file(
    winch: JobEngine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    def breaks(_screen: BenchScreen) -> None:
        raise ZeroDivisionError("secret detail")

    monkeypatch.setattr("faultkit.terminal.trouble.log_file", lambda: tmp_path / "trouble.log")
    monkeypatch.setattr(BenchScreen, "action_why", breaks)
    app = app_for(winch)

    async def why() -> None:
        async with app.run_test(size=(80, 24)) as pilot:
            await to_bench(pilot)
            await pilot.press("w")
            await settled(pilot)

    with pytest.raises(ZeroDivisionError):  # the test driver passes it on
        await why()
    said = capsys.readouterr().err
    assert "Something unexpected went wrong (ZeroDivisionError)" in said
    assert "secret detail" not in said
    assert "secret detail" in (tmp_path / "trouble.log").read_text("utf-8")
    assert app.return_code == 2


class Slow(Listening):
    """Thinks until it is allowed to stop."""

    gate = threading.Event()

    def assess(self, state: JobState) -> Assessment:
        if state.entries:
            self.gate.wait(20)
        return super().assess(state)


async def test_the_screen_goes_on_while_it_thinks_and_says_so(winch: JobEngine) -> None:
    slow = Slow(winch)
    app = app_for(winch, slow)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_bench(pilot)
        app.screen.query_one(ReadingEntry).insert_text_at_cursor(FIRST)
        await pilot.press("enter")
        await pilot.pause()
        assert "thinking" in seen(app)
        await pilot.press("5", "enter")
        await pilot.pause()
        assert "Still thinking" in seen(app)
        await pilot.press("escape", "f1")
        await pilot.pause()
        assert "What to do here" in seen(app)
        slow.gate.set()
        await pilot.press("escape")
        await settled(pilot)
        assert "thinking" not in seen(app)


class Failing(Listening):
    """Cannot work out anything after a reading."""

    error: Exception = CircuitError("The island of -G1 floats.", "Look at its return.")

    def assess(self, state: JobState) -> Assessment:
        if state.entries:
            raise self.error
        return super().assess(state)


@pytest.mark.parametrize(("error", "says"), [
    (CircuitError("The island of -G1 floats."), "The island of -G1 floats."),
    (ZeroDivisionError("x"), "Something unexpected went wrong (ZeroDivisionError)"),
])
async def test_an_error_while_thinking_is_said_and_can_be_undone(
    winch: JobEngine, error: Exception, says: str, tmp_path: object,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path))
    failing = Failing(winch)
    failing.error = error
    app = app_for(winch, failing)
    async with app.run_test(size=(140, 45)) as pilot:
        await to_bench(pilot)
        app.screen.query_one(ReadingEntry).insert_text_at_cursor(FIRST)
        await pilot.press("enter")
        await pilot.pause(0.2)
        assert says in seen(app)
        await pilot.press("u")
        await settled(pilot)
        assert isinstance(app.screen, BenchScreen)
        assert app.screen.test is not None


async def test_the_key_bar_can_be_tapped(winch: JobEngine) -> None:
    app = app_for(winch)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_bench(pilot)
        await pilot.click(KeyBar, offset=(seen(app).splitlines()[-1].index("w why"), 0))
        await pilot.pause()
        assert "Why this one" in seen(app)


async def test_leaving_asks_once_there_is_something_to_lose(winch: JobEngine) -> None:
    app = app_for(winch)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_bench(pilot)
        await pilot.press("ctrl+q")
        await pilot.pause()
        assert "Leave? This job is kept" in seen(app)
        await pilot.press("n")
        await pilot.pause()
        assert isinstance(app.screen, BenchScreen)
        await pilot.press("ctrl+q", "ctrl+q")
    assert app.return_code == 0


async def test_with_ascii_only_the_units_are_outside_ascii(winch: JobEngine) -> None:
    app = app_for(winch, ascii_only=True)
    async with app.run_test(size=(140, 45)) as pilot:
        await settled(pilot)
        texts = [seen(app)]
        for key in ("enter", "0", "1", "0", "w", "escape", "t", "escape", "d"):
            await pilot.press(key)
            await settled(pilot)
            texts.append(seen(app))
        await pilot.press("escape")
        await type_line(pilot, FIRST)
        texts.append(seen(app))
    outside = {sign for text in texts for sign in text if ord(sign) > 126} - set("Ωµ°")
    assert not outside
