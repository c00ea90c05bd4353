"""What a change would alter, shown before it is made."""

from collections.abc import Iterable
from pathlib import Path
from typing import ClassVar

from textual import work
from textual._path import CSSPathType
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.worker import Worker, WorkerState

from faultkit.job.events import Event
from faultkit.job.records import Assessment
from faultkit.terminal.desk import Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.paper.paper import PageText
from faultkit.terminal.screens.sheet import (
    LEAVE,
    REFUSED,
    ROLL,
    SHEET_CSS,
    ZERO,
    Row,
    Sheet,
)
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.entry_line import EntryLine
from faultkit.terminal.widgets.pick import PickList
from faultkit.terminal.wording.altering import next_says, suspects_say
from faultkit.terminal.wording.explain import Page

DO, CHANGED = "do", "changed"
Both = tuple[Assessment, Assessment]


class CompareScreen(Sheet):
    """Read what it alters, then say yes or no. Gives `changed` once it has happened."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "choose", "Choose the marked row", bar=True), LEAVE, *ROLL)
    BINDINGS = bindings("compare", KEYS)
    CSS_PATH: ClassVar[CSSPathType | None] = [
        SHEET_CSS, Path(__file__).with_name("compare.tcss")]
    HELP = (
        "Nothing has changed yet. Before and after stand side by side: who is suspected, and "
        "what would come next. 1 makes the change, 0 or Esc leaves everything as it is. u on "
        "the bench takes the change back."
    )

    def __init__(self, desk: Desk, event: Event, says: str) -> None:
        super().__init__(desk)
        self.event, self.says = event, says
        self.both: Both | None = None

    def compose(self) -> ComposeResult:
        """Before and after between the question and the rows."""
        yield TopBar()
        yield PageText((), id="page")
        with VerticalScroll(id="head", can_focus=False):
            yield PageText((), id="before")
            yield PageText((), id="after")
        yield PickList("rows", pages=False)
        yield EntryLine()
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Work out what would follow, away from the screen."""
        self._preview()

    @work(thread=True, exclusive=True, group="preview", exit_on_error=False)
    def _preview(self) -> Both:
        return self.desk.preview(self.event)

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """Show it, or say why it cannot be."""
        if event.state is WorkerState.ERROR:
            self.say(f"! {self.house.trouble(event.worker.error)}", REFUSED)
        elif event.state is WorkerState.SUCCESS:
            self.both = event.worker.result
            self.draw(DO)

    def draw(self, mark: str = "") -> None:
        """Fill both sides too."""
        super().draw(mark)
        for name, heading, at in (("#before", "BEFORE", 0), ("#after", "AFTER", 1)):
            side = self.query_one(name, PageText)
            side.page = self._side(heading, self.both[at]) if self.both else ()
            side.refresh(layout=True)

    def _side(self, heading: str, found: Assessment) -> Page:
        return ((f"{heading}: next", (next_says(self.desk.machine, found),)),
                (f"{heading}: suspects", suspects_say(found)))

    def ends(self) -> tuple[str, str]:
        """What would change."""
        return "What this alters", "" if self.both else "working it out ..."

    def page(self) -> Page:
        """The change itself."""
        return ((self.says, () if self.both else ("Working out what that alters ...",)),)

    def rows(self) -> Iterable[Row]:
        """Yes or no."""
        if self.both is not None:
            yield Row(DO, "Change it", "bold")
        yield Row(ZERO, "Leave it as it is")

    def chosen(self, name: str) -> None:
        """Make it happen, or not."""
        if name == ZERO:
            self.dismiss("")
        elif self.tell(self.event):
            self.dismiss(CHANGED)

    def action_take(self) -> None:
        """Enter outside the list."""
        if self.marked:
            self.chosen(self.marked)
