"""Readings so far: change one, or take it back."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from faultkit.errors import FaultkitError
from faultkit.job.events import ReadingChanged, ReadingWithdrawn
from faultkit.job.records import Assessment, Entry
from faultkit.terminal.desk import Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.drawn import cut
from faultkit.terminal.widgets.pick import DIGITS, PickList
from faultkit.terminal.wording.asking import choices, understood
from faultkit.terminal.wording.words import reading_text


class ReadingsScreen(Frame):
    """Choose a reading, type what it was in truth."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("escape", "leave", "back", "Back: to the list, to the bench", bar=True),
        Key("d", "withdraw", "take back", "Take the marked reading back altogether", bar=True),
    )
    BINDINGS = bindings("readings", KEYS)
    CSS_PATH = "readings.tcss"
    AUTO_FOCUS = "#list"
    HELP = (
        "Every reading of this job. Mark one with arrows or its digit and press Enter to type "
        "what it was in truth; d takes it back altogether. Everything that followed from it is "
        "worked out anew, the other readings stay. A ? marks a reading that fits badly: repeat "
        "that measurement."
    )

    def __init__(self, desk: Desk, assessment: Assessment | None) -> None:
        super().__init__()
        self.desk = desk
        self._doubts = {d.number: d.says for d in assessment.doubts} if assessment else {}
        self._changing: Entry | None = None

    def compose(self) -> ComposeResult:
        """List, field, keys."""
        yield TopBar()
        yield PickList("list")
        yield Input(id="entry", compact=True, disabled=True)
        yield Static("", id="says", markup=False)
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Fill the list."""
        self.query_one("#entry", Input).cursor_blink = False
        self.top("Readings: Enter changes, d takes back")
        self.call_after_refresh(self._fill)

    def _fill(self) -> None:
        options = self.query_one("#list", PickList)
        options.clear_options()
        width = max(options.size.width - 4, 30)
        entries = self.desk.state.entries
        for place, entry in enumerate(entries):
            name, digit = str(entry.number), DIGITS[place] if place < len(DIGITS) else " "
            options.digits[digit] = name
            options.add_option(Option(self._row(entry, digit, width), id=name))
        options.digits.pop(" ", None)
        options.highlighted = len(entries) - 1 if entries else None
        if not entries:
            self.query_one("#says", Static).update(Content("No reading yet. Esc goes back."))

    def _row(self, entry: Entry, digit: str, width: int) -> Content:
        test = self.desk.machine.tests[entry.test]
        doubt = self._doubts.get(entry.number, "")
        head = f"{digit} {'?' if doubt else ' '} {reading_text(test, entry.reading):<14} "
        return Content.assemble((head, "bold"), cut(f"{test.does} {doubt}", width - len(head)))

    @on(OptionList.OptionSelected, "#list")
    def _change(self, event: OptionList.OptionSelected) -> None:
        number = int(event.option_id or 0)
        self._changing = next(e for e in self.desk.state.entries if e.number == number)
        test = self.desk.machine.tests[self._changing.test]
        field = self.query_one("#entry", Input)
        field.disabled = False
        field.focus()
        self.query_one("#says", Static).update(Content(
            f"{test.does}: what was it in truth? {choices(test)}"))

    @on(Input.Submitted, "#entry")
    def _entered(self, event: Input.Submitted) -> None:
        entry = self._changing
        if entry is None:
            return
        test = self.desk.machine.tests[entry.test]
        try:
            reading = understood(test, event.value)
            self.desk.tell(ReadingChanged(entry.number, reading))
        except FaultkitError as error:
            self.query_one("#says", Static).update(Content.styled(f"! {error}", "bold $warning"))
            return
        self.dismiss(f"Reading {entry.number} is now {reading_text(test, reading)}.")

    def action_withdraw(self) -> None:
        """Take the marked one back."""
        options = self.query_one("#list", PickList)
        if options.highlighted is None or self._changing is not None:
            return
        number = int(options.get_option_at_index(options.highlighted).id or 0)
        self.desk.tell(ReadingWithdrawn(number))
        self.dismiss(f"Reading {number} taken back. u brings it back.")

    def action_leave(self) -> None:
        """Back to the list, or to the bench."""
        if self._changing is None:
            self.dismiss("")
            return
        self._changing = None
        field = self.query_one("#entry", Input)
        field.clear()
        field.disabled = True
        self.query_one("#list").focus()
        self.query_one("#says", Static).update(Content(""))
