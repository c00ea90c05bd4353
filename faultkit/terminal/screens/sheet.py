"""A sheet: what to do now on top, rows to choose from, one line to type on."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from textual import on
from textual._path import CSSPathType
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Input, OptionList

from faultkit.errors import FaultkitError
from faultkit.job.events import Event
from faultkit.terminal.desk import Desk
from faultkit.terminal.keys import Key
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.screens.paper.paper import PageText
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.drawn import cut, wrapped
from faultkit.terminal.widgets.entry_line import EntryLine
from faultkit.terminal.widgets.pick import DIGITS, PickList
from faultkit.terminal.wording.explain import Page
from faultkit.vocabulary.says import harmless, on_one_line

ZERO = "(zero)"
"""Name of the row that digit 0 takes: the way on."""
CAUTION, REFUSED, DONE = "bold $warning", "bold $error", "bold $success"

SHEET_CSS = Path(__file__).with_name("sheet.tcss")

ROLL = (
    Key("pagedown", "roll(4)", "read on", "Roll the text on top"),
    Key("pageup", "roll(-4)", "read back", "Roll the text on top back"),
)
LEAVE = Key("escape", "leave", "back", "Back without an answer", bar=True)


@dataclass(frozen=True, slots=True)
class Row:
    """One row to choose."""

    name: str
    """Id within the screen; `ZERO` for the way on, empty for a heading."""
    says: str
    style: str = ""
    """Without colour: the marked row has colours of its own."""
    most: int = 2
    """Lines that it may take."""


class Sheet(Frame):
    """A screen on which one reads on top, chooses below, and types on one line."""

    KEYS: ClassVar[tuple[Key, ...]] = (LEAVE, *ROLL)
    CSS_PATH: ClassVar[CSSPathType | None] = SHEET_CSS
    AUTO_FOCUS = "#rows"
    DIGITS_CHOOSE: ClassVar[bool] = True
    """False where digits mean something else than the row that bears them."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk

    # --- what a sheet is made of -----------------------------------------------------------

    def ends(self) -> tuple[str, str]:
        """Both ends of the line on top."""
        raise NotImplementedError

    def page(self) -> Page:
        """What to do now, with the cautions that apply."""
        raise NotImplementedError

    def rows(self) -> Iterable[Row]:
        """What can be chosen."""
        raise NotImplementedError

    def chosen(self, name: str) -> None:
        """Act on the row that was chosen."""
        raise NotImplementedError

    def answered(self, key: str, text: str) -> None:
        """Act on what was typed."""

    # --- drawing ---------------------------------------------------------------------------

    def compose(self) -> ComposeResult:
        """Line on top, page, rows, line to type on, keys."""
        yield TopBar()
        with VerticalScroll(id="head", can_focus=False):
            yield PageText((), id="page")
        yield PickList("rows", pages=False)
        yield EntryLine()
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Fill everything once the room is known."""
        self.call_after_refresh(self.draw)

    def on_resize(self) -> None:
        """Rows are cut to the width."""
        self.call_after_refresh(self.draw)

    def draw(self, mark: str = "") -> None:
        """Fill everything anew; `mark` names the row to stand on."""
        self.top(*self.ends())
        text = self.query_one("#page", PageText)
        text.page = self.page()
        text.refresh(layout=True)
        rows = self.query_one("#rows", PickList)
        stood = mark or self._marked(rows)
        rows.clear_options()
        rows.digits = {}
        self._fill(rows, max(rows.size.width - 4, 30))
        names = [option.id for option in rows.options]
        rows.highlighted = names.index(stood) if stood in names else next(
            (at for at, option in enumerate(rows.options) if not option.disabled), None)

    def _fill(self, rows: PickList, width: int) -> None:
        digits = iter(DIGITS if self.DIGITS_CHOOSE else "")
        more = self.house.glyphs.more
        for row in self.rows():
            says = harmless(row.says).replace("\n", " ")
            if not row.name:
                rows.row(None, Content.styled(cut(says, width + 2, more), "bold $primary"),
                         disabled=True)
                continue
            digit = "0" if row.name == ZERO else next(digits, " ")
            if digit != " ":
                rows.digits[digit] = row.name
            head = f"{digit} " if self.DIGITS_CHOOSE else ""
            rows.row(row.name, Content.assemble(
                (head, "bold"), (self._folded(row, says, width + 2 - len(head), len(head)),
                                 row.style)))

    def _folded(self, row: Row, says: str, width: int, indent: int) -> str:
        more = self.house.glyphs.more
        if len(says) <= width or row.most == 1:
            return cut(says, width, more)
        return ("\n" + " " * indent).join(wrapped(says, width, row.most, more))

    @staticmethod
    def _marked(rows: PickList) -> str:
        if rows.highlighted is None or rows.highlighted >= rows.option_count:
            return ""
        return rows.get_option_at_index(rows.highlighted).id or ""

    @property
    def marked(self) -> str:
        """Name of the row that is marked; empty where none is."""
        return self._marked(self.query_one("#rows", PickList))

    # --- asking and telling ----------------------------------------------------------------

    @property
    def line(self) -> EntryLine:
        """The line to type on."""
        return self.query_one(EntryLine)

    def say(self, text: str, style: str = "") -> None:
        """Say a sentence below the rows."""
        self.line.say(text, style)

    def tell(self, event: Event) -> bool:
        """Let an event happen; a refusal is said and nothing has changed."""
        try:
            self.desk.tell(event)
        except FaultkitError as error:
            self.say(f"! {error}", REFUSED)
            return False
        finally:
            self.mind()
        return True

    @on(OptionList.OptionSelected, "#rows")
    def _row_taken(self, event: OptionList.OptionSelected) -> None:
        if event.option_id:
            self.chosen(event.option_id)

    @on(Input.Submitted, "#words")
    def _words_typed(self, event: Input.Submitted) -> None:
        key = self.line.key
        if key:
            self.line.done()
            self.answered(key, on_one_line(event.value))

    def action_leave(self) -> None:
        """Out of the line, or back."""
        if self.line.key:
            self.line.done()
        else:
            self.back()

    def back(self) -> None:
        """Leave without an answer."""
        self.dismiss("")

    def action_roll(self, lines: int) -> None:
        """Roll the text on top."""
        self.query_one("#head").scroll_relative(y=lines, animate=False)
