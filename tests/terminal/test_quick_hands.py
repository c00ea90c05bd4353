"""Keys that come faster than screens are drawn: pasted, or typed by somebody in a hurry."""

from textual import events
from textual.widgets import Input

from faultkit.commands.opening import JobEngine
from faultkit.terminal.app import FaultkitApp
from tests.terminal.hands import settled
from tests.terminal.test_screens import app_for, to_bench


def burst(app: FaultkitApp, keys: str) -> None:
    """Post keys without waiting for any of them to be worked off."""
    for key in keys:
        app.post_message(events.Key({"/": "slash"}.get(key, key), key))


async def test_what_is_typed_right_after_the_slash_is_searched_for(winch: JobEngine) -> None:
    app = app_for(winch)
    async with app.run_test(size=(80, 24)) as pilot:
        await to_bench(pilot)
        await pilot.press("c")
        await settled(pilot)
        burst(app, "/up")
        await settled(pilot)
        assert app.screen.query_one("#search", Input).value == "up"
