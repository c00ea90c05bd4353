"""A list to pick from with arrows, Enter, or the digit before a row."""

from textual import events
from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from faultkit.terminal.widgets.says import safe

DIGITS = "123456789"


class PickList(OptionList):
    """An option list whose rows begin with their digit.

    `digits` maps a digit to the id of an option; whoever fills the list fills it too.
    `pages` says whether page keys roll this list or are left to the screen.
    """

    def __init__(self, id: str, *, pages: bool = True) -> None:
        super().__init__(id=id, compact=True)
        self.digits: dict[str, str] = {}
        self._pages = pages

    def row(self, name: str | None, content: Content, *, disabled: bool = False) -> None:
        """Add a row; its text is what it is."""
        self.add_option(Option(safe(content), id=name, disabled=disabled))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Leave page keys to the screen where it rolls something else with them."""
        return self._pages or action not in ("page_up", "page_down")

    async def on_key(self, event: events.Key) -> None:
        """Choose by digit."""
        name = self.digits.get(event.character or "")
        if name is not None:
            event.stop()
            self.highlighted = self.get_option_index(name)
            self.action_select()
