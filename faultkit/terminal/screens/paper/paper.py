"""A page to read: help, why, all suspects. Esc or Enter puts it away."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content

from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.drawn import Drawn, wrapped
from faultkit.terminal.wording.explain import Page


class PageText(Drawn):
    """Headings and wrapped lines."""

    DEFAULT_CSS = "PageText { height: auto; max-width: 100; text-wrap: nowrap; }"

    def __init__(self, page: Page, id: str | None = None) -> None:
        super().__init__(id=id)
        self.page = page

    def lines(self, width: int, height: int) -> list[Content]:
        """Wrap everything; lines that begin with `!` are cautions."""
        rows: list[Content] = []
        for heading, texts in self.page:
            if rows:
                rows.append(Content(""))
            rows += [Content.styled(row, "bold $primary")
                     for row in wrapped(heading, width, 5, self.more)]
            for text in texts:
                style = "bold $warning" if text.startswith("! ") else ""
                hanging = "" if text[:1].isupper() else "  "
                folded = wrapped(text, width - 2 - len(hanging), 30, self.more)
                rows += [Content.styled("  " + (hanging if n else "") + row, style)
                         for n, row in enumerate(folded)]
        return rows


class PaperScreen(Frame):
    """One page over the screen that asked for it."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("escape", "put_away", "back", "Put the page away", bar=True),
        Key("enter", "put_away", "back", "Put the page away"),
        Key("down", "roll(1)", "down", "Read on", bar=True),
        Key("up", "roll(-1)", "up", "Read back"),
        Key("pagedown", "roll(10)", "down", "Read on"),
        Key("pageup", "roll(-10)", "up", "Read back"),
        Key("space", "roll(10)", "down", "Read on"),
    )
    BINDINGS = bindings("paper", KEYS)
    CSS_PATH = "paper.tcss"
    AUTO_FOCUS = ""
    HELP = "A page to read. Arrows or Space roll it, Esc puts it away."

    def __init__(self, title: str, page: Page) -> None:
        super().__init__()
        self._title, self._page = title, page

    def compose(self) -> ComposeResult:
        """Bar, page, keys."""
        yield TopBar()
        with VerticalScroll(id="page", can_focus=False):
            yield PageText(self._page)
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Name the page."""
        self.top(self._title)

    def action_put_away(self) -> None:
        """Close."""
        self.dismiss("")

    def action_roll(self, lines: int) -> None:
        """Roll by lines."""
        self.query_one("#page").scroll_relative(y=lines, animate=False)
