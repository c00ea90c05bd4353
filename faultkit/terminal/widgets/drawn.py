"""Text that is laid out anew for the room it has."""

import textwrap

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from faultkit.terminal.house import House
from faultkit.terminal.widgets.says import safe
from faultkit.terminal.wording.words import PRETTY

ENDLESS = 200
"""Lines asked for when the height is free."""


class Drawn(Widget):
    """A widget whose lines depend on its width and height. No markup is ever read."""

    def lines(self, width: int, height: int) -> list[Content]:
        """At most `height` lines of at most `width` cells."""
        raise NotImplementedError

    @property
    def more(self) -> str:
        """The sign for a cut, one that the terminal can draw."""
        return self.app.glyphs.more if self.is_attached and isinstance(
            self.app, House) else PRETTY.more

    def render(self) -> Content:
        """Draw for the size at hand."""
        size = self.content_size
        return safe(stacked(self.lines(max(size.width, 10), max(size.height, 1))))

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Height wanted where the style sheet says `auto`."""
        return len(self.lines(max(width, 10), ENDLESS))


def stacked(lines: list[Content]) -> Content:
    """Join lines."""
    return Content("\n").join(lines)


def wrapped(text: str, width: int, most: int, more: str = "…") -> list[str]:
    """Break a text into at most `most` lines, marking a cut."""
    rows = textwrap.wrap(text, max(width, 8)) or [""]
    if len(rows) <= most:
        return rows
    rows = rows[:most]
    rows[-1] = rows[-1][: max(width - len(more), 0)] + more
    return rows


def cut(text: str, width: int, more: str = "…") -> str:
    """Shorten a text to a width, marking the cut."""
    if len(text) <= width:
        return text
    return text[: max(width - len(more), 0)] + more if width > len(more) else text[:width]
