"""What every screen has: a line on top, a line of keys, help in plain words."""

from typing import ClassVar

from textual import events
from textual.screen import Screen

from faultkit.terminal.house import House
from faultkit.terminal.keys import SAME_PLACE, Key
from faultkit.terminal.widgets.bars import TopBar


class Frame(Screen[str]):
    """A screen of ours."""

    KEYS: ClassVar[tuple[Key, ...]] = ()
    HELP: ClassVar[str] = ""
    """Plain words: what is asked here, what is dangerous."""

    AUTO_FOCUS = "OptionList, Input"

    @property
    def house(self) -> House:
        """The app, by its own type."""
        assert isinstance(self.app, House)
        return self.app

    def top(self, left: str, right: str = "") -> None:
        """Fill the line on top."""
        self.query_one(TopBar).show(left, right)
        self.mind()

    def mind(self) -> None:
        """Keep in sight what the store has to say about what is kept."""
        for bar in self.query(TopBar):
            bar.warn(self.house.library.warning)

    def on_screen_resume(self) -> None:
        """Meanwhile there may be something to mind."""
        self.mind()

    async def on_key(self, event: events.Key) -> None:
        """Take a letter of another keyboard layout for the one on the same key."""
        letter = SAME_PLACE.get(event.character or "")
        match = next((key for key in self.KEYS if key.key == letter), None)
        if match is not None:
            event.stop()
            await self.run_action(match.action)
