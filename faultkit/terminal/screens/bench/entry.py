"""The field for a reading: figures are typed, letters before a figure are commands."""

from textual import events
from textual.widgets import Input

STARTS_A_READING = frozenset("0123456789+-−.,<>≥≤~oO∞")
"""What a reading can begin with: a figure, a sign, or the O of OL."""


class ReadingEntry(Input):
    """Takes a reading. While it is empty, letters are left to the keys of the screen."""

    def __init__(self) -> None:
        super().__init__(id="entry", select_on_focus=False, compact=True)
        self.cursor_blink = False

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """Say whether a key is typed here or left to the screen."""
        if character is None or not character.isprintable():
            return False
        return bool(self.value) or character in STARTS_A_READING

    async def _on_key(self, event: events.Key) -> None:
        """Leave commands to the screen."""
        if event.is_printable and not self.check_consume_key(event.key, event.character):
            event.prevent_default()
