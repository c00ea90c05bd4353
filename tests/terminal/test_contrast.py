"""Every text on every screen can be read: contrast measured on what is really drawn."""

from collections.abc import Iterator

import pytest
from rich.color import ColorSystem

from faultkit.commands.opening import JobEngine
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.themes import CONTRAST, DARK, LIGHT, MONO, THEMES
from tests.terminal.contrast import contrast
from tests.terminal.fake import Listening, OneMachine, job_for, settled, type_line

LEAST = {DARK: 4.5, LIGHT: 4.5, CONTRAST: 7.0, MONO: 7.0}
"""WCAG 2.2, success criteria 1.4.3 (4.5:1) and 1.4.6 (7:1)."""
LEAST_WITH_16_COLOURS = 3.0
"""What a terminal makes of 16 colours is its own; this keeps text apart from its ground."""


def drawn(app: FaultkitApp) -> Iterator[tuple[str, float, float]]:
    """Every piece of text on the screen, its contrast, and its contrast in 16 colours."""
    for strip in app.screen._compositor.render_strips():
        for text, style, _ in strip:
            if not text.strip(" ·") or style is None or style.color is None:
                continue
            assert style.bgcolor is not None
            both = [style.color.get_truecolor(), style.bgcolor.get_truecolor()]
            few = [colour.downgrade(ColorSystem.STANDARD).get_truecolor()
                   for colour in (style.color, style.bgcolor)]
            yield text, contrast(*both), contrast(*few)


STEPS = ("", "enter", "1", "slash", "escape", "0", "down", "escape", "w", "escape", "t", "escape",
         "f1", "escape", "r", "escape", "p", "escape", "ctrl+p", "escape")


@pytest.mark.parametrize("theme", [theme.name for theme in THEMES])
async def test_every_text_on_every_screen_stands_out(winch: JobEngine, theme: str) -> None:
    app = FaultkitApp(OneMachine(Listening(winch)), winch.machine.id)
    app.theme = theme
    poor: set[tuple[str, str, str]] = set()

    def look() -> None:
        name = type(app.screen).__name__
        for text, full, few in drawn(app):
            if full < LEAST[theme]:
                poor.add((name, text.strip(), f"{full:.1f}"))
            if few < LEAST_WITH_16_COLOURS:
                poor.add((name, text.strip(), f"{few:.1f} in 16 colours"))

    async with app.run_test(size=(80, 24)) as pilot:
        await settled(pilot)
        for key in STEPS:
            if key:
                await pilot.press(key)
                await settled(pilot)
            look()
        for line in job_for(winch, "F3.1-2.open").lines:
            look()
            await type_line(pilot, line)
        look()
        await pilot.press("ctrl+q")
        await settled(pilot)
        look()
    assert not poor


async def test_no_color_chooses_the_theme_without_colour(
    winch: JobEngine, monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = FaultkitApp(OneMachine(Listening(winch)), theme="light")
    async with app.run_test(size=(80, 24)):
        assert app.theme == MONO
