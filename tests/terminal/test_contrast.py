"""Every text on every screen can be read: contrast measured on what is really drawn."""

from collections.abc import Iterator

import pytest
from rich.color import ColorSystem
from textual.pilot import Pilot

from faultkit.commands.opening import JobEngine
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.themes import CONTRAST, DARK, LIGHT, MONO
from tests.terminal.contrast import contrast
from tests.terminal.fake import Listening, OneMachine
from tests.terminal.hands import settled
from tests.terminal.scenes import app_of, bring_up, scenes

LEAST = {DARK: 4.5, LIGHT: 4.5, CONTRAST: 7.0, MONO: 7.0}
"""WCAG 2.2, success criteria 1.4.3 (4.5:1) and 1.4.6 (7:1)."""
LEAST_WITH_16_COLOURS = 3.0
"""What a terminal makes of 16 colours is its own; this keeps text apart from its ground."""

MORE = {"bench": ("down", "escape", "1", "escape", "f1", "escape", "ctrl+p"),
        "complaint": ("slash", "escape", "down")}
"""Keys pressed in some scenes, each of which shows something else."""


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


async def poor_in_all_themes(pilot: "Pilot[int]") -> set[tuple[str, str, str]]:
    """Texts of the screen that do not stand out enough, theme by theme."""
    app = pilot.app
    assert isinstance(app, FaultkitApp)
    poor: set[tuple[str, str, str]] = set()
    looked = 0
    for theme, least in LEAST.items():
        app.theme = theme
        await pilot.pause()
        for text, full, few in drawn(app):
            looked += 1
            if full < least:
                poor.add((theme, text.strip(), f"{full:.1f}"))
            if few < LEAST_WITH_16_COLOURS:
                poor.add((theme, text.strip(), f"{few:.1f} in 16 colours"))
    assert looked > len(LEAST)
    return poor


def names() -> list[str]:
    """Scenes to look at; their number is checked against the list itself."""
    from tests.terminal.test_pictures import NAMES

    return NAMES


@pytest.mark.parametrize("name", names())
async def test_every_text_on_every_screen_stands_out(winch: JobEngine, name: str) -> None:
    scene = scenes(winch)[name]
    app = app_of(winch, scene)
    async with app.run_test(size=(80, 24)) as pilot:
        await bring_up(pilot, scene)
        poor = await poor_in_all_themes(pilot)
        for key in MORE.get(name, ()):
            await pilot.press(key)
            await settled(pilot)
            poor |= await poor_in_all_themes(pilot)
    assert not poor


async def test_no_color_chooses_the_theme_without_colour(
    winch: JobEngine, monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = FaultkitApp(OneMachine(Listening(winch)), theme="light")
    async with app.run_test(size=(80, 24)):
        assert app.theme == MONO
