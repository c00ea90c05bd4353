"""Every text can be read where no picture is kept: help, palette, lists with the focus.

Wherever a picture is kept, `test_pictures.py` measures contrast too.
"""

import pytest

from faultkit.commands.opening import JobEngine
from faultkit.terminal.app import FaultkitApp
from faultkit.terminal.themes import MONO, THEMES
from tests.terminal.contrast import drawn, poor
from tests.terminal.fake import Listening, OneMachine
from tests.terminal.hands import settled
from tests.terminal.scenes import app_of, bring_up, scenes

KEYS = {"bench": ("down", "escape", "1", "escape", "f1", "escape", "ctrl+p"),
        "complaint": ("slash", "escape", "down")}
"""Keys pressed in some scenes, each of which shows something else."""


@pytest.mark.parametrize("name", KEYS)
async def test_every_text_stands_out(winch: JobEngine, name: str) -> None:
    scene = scenes(winch)[name]
    app = app_of(winch, scene)
    async with app.run_test(size=(80, 24)) as pilot:
        await bring_up(pilot, scene)
        for key in KEYS[name]:
            await pilot.press(key)
            await settled(pilot)
            for theme in THEMES:
                app.theme = theme.name
                await pilot.pause()
                assert list(drawn(app))
                assert not poor(app), type(app.screen).__name__


async def test_no_color_chooses_the_theme_without_colour(
    winch: JobEngine, monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = FaultkitApp(OneMachine(Listening(winch)), theme="light")
    async with app.run_test(size=(80, 24)):
        assert app.theme == MONO
