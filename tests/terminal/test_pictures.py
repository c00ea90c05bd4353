"""Every screen looks as it is kept, at three sizes in four themes, and every text stands out.

What is kept can be read: the signs of each screen at each size, and below it the colours of each
theme in short. After a change that is meant, look at the new pictures and keep them:

    FAULTKIT_DRAW=1 python -m pytest tests/terminal/test_pictures.py
"""

import os
import time
from pathlib import Path

import pytest

from faultkit.commands.opening import JobEngine
from faultkit.terminal.themes import NAMES as THEMES
from tests.terminal.contrast import drawn, poor
from tests.terminal.drawing import colours, signs
from tests.terminal.scenes import app_of, bring_up, scenes

PICTURES = Path(__file__).with_name("pictures")
SIZES = ((140, 45), (80, 24), (48, 18))
NAMES = [
    "start", "start-jobs", "machine", "call", "secure", "secure-how", "complaint", "bench",
    "bench-first", "bench-doubt", "switching", "switching-off", "readings", "compare",
    "free-point", "free-state", "tests", "why", "suspects", "bridges", "remarks", "works",
    "finding", "put-right-dead", "put-right-work", "put-right-test", "put-right-try",
    "hand-back", "hand-back-seen", "closing", "closing-blocked", "closed", "closed-unfit",
    "report", "leave"]


@pytest.fixture(autouse=True)
def one_clock(monkeypatch: pytest.MonkeyPatch) -> None:
    """Times are shown as at one place, whoever looks."""
    monkeypatch.setenv("TZ", "UTC")
    time.tzset()


def test_every_scene_has_its_pictures(winch: JobEngine) -> None:
    assert list(scenes(winch)) == NAMES
    assert {path.stem for path in PICTURES.glob("*.txt")} == set(NAMES)


async def picture(engine: JobEngine, name: str) -> list[str]:
    """Everything that is kept of a scene."""
    scene, rows = scenes(engine)[name], []
    for width, height in SIZES:
        app = app_of(engine, scene)
        async with app.run_test(size=(width, height)) as pilot:
            await bring_up(pilot, scene)
            shown = signs(app)
            assert list(drawn(app))
            rows += [f"=== {width} x {height}", *shown]
            for word, theme in THEMES.items():
                app.theme = theme
                await pilot.pause()
                assert signs(app) == shown, f"{word} shows other signs"
                assert not poor(app)
                rows += [f"--- {word}", *colours(app)]
    return rows


@pytest.mark.parametrize("name", NAMES)
async def test_a_screen_looks_as_it_is_kept(winch: JobEngine, name: str) -> None:
    drawn = await picture(winch, name)
    kept = PICTURES / f"{name}.txt"
    if os.environ.get("FAULTKIT_DRAW"):
        PICTURES.mkdir(exist_ok=True)
        kept.write_text("\n".join(drawn) + "\n", encoding="utf-8")
    assert kept.read_text(encoding="utf-8").splitlines() == drawn
