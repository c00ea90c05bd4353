"""A list to pick from with arrows, Enter, or the digit before a row."""

from textual import events
from textual.widgets import OptionList

DIGITS = "123456789"


class PickList(OptionList):
    """An option list whose rows begin with their digit.

    `digits` maps a digit to the id of an option; whoever fills the list fills it too.
    """

    def __init__(self, id: str) -> None:
        super().__init__(id=id, compact=True)
        self.digits: dict[str, str] = {}

    async def on_key(self, event: events.Key) -> None:
        """Choose by digit."""
        name = self.digits.get(event.character or "")
        if name is not None:
            event.stop()
            self.highlighted = self.get_option_index(name)
            self.action_select()
