"""The report as text to read, and saved to a file."""

import textwrap
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.worker import Worker, WorkerState

from faultkit.terminal.desk import Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.drawn import Drawn
from faultkit.terminal.widgets.says import Says

FORMS = {"html": "as a page to print and sign (HTML)", "md": "as text (Markdown)",
         "json": "as data (JSON)"}


FOLDED = 60
"""A line of a list longer than this, with an indented one below it, was folded."""
NOWHERE = "! This job is kept nowhere."


def unfolded(text: str) -> list[str]:
    """Lines of a Markdown text, those that were only folded joined again."""
    lines: list[str] = []
    for line in text.splitlines():
        goes_on = bool(lines) and len(lines[-1]) > FOLDED and line[:1] == " " and (
            lines[-1].lstrip().startswith("- ")) and not line.lstrip().startswith(("- ", "|"))
        if goes_on:
            lines[-1] += f" {line.strip()}"
        else:
            lines.append(line)
    return lines


class ReportText(Drawn):
    """Lines of text, folded under their own indent."""

    DEFAULT_CSS = "ReportText { height: auto; text-wrap: nowrap; }"

    def __init__(self) -> None:
        super().__init__(id="text")
        self.text = ""

    def lines(self, width: int, height: int) -> list[Content]:
        """Every line, folded; headings stand out."""
        rows: list[Content] = []
        for line in unfolded(self.text):
            indent = " " * (len(line) - len(line.lstrip(" ")))
            folded = textwrap.wrap(line, width, subsequent_indent=indent,
                                   break_on_hyphens=False) or [""]
            style = "bold $primary" if line.startswith("#") else ""
            rows += [Content.styled(row, style) for row in folded]
        return rows


class ReportScreen(Frame):
    """Roll and read; a letter saves it."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("escape", "put_away", "back", "Put the report away", bar=True),
        Key("h", "save('html')", "save page", "Save it as a page to print and sign", bar=True),
        Key("m", "save('md')", "save text", "Save it as Markdown", bar=True),
        Key("j", "save('json')", "save data", "Save it as JSON", bar=True),
        Key("down", "roll(1)", "down", "Read on"),
        Key("up", "roll(-1)", "up", "Read back"),
        Key("pagedown", "roll(12)", "down", "Read on"),
        Key("pageup", "roll(-12)", "up", "Read back"),
        Key("space", "roll(12)", "down", "Read on"),
    )
    BINDINGS = bindings("report", KEYS)
    CSS_PATH = "report.tcss"
    AUTO_FOCUS = ""
    HELP = (
        "The report on this job as it stands now, as the text of its Markdown. Arrows or Space "
        "roll it. h saves a page to print and sign, m the text, j the data; nothing is ever "
        "overwritten, and the line below says where the file is."
    )

    def __init__(self, desk: Desk, form: str = "") -> None:
        super().__init__()
        self.desk, self._form = desk, form

    def compose(self) -> ComposeResult:
        """Bar, text, a sentence, keys."""
        yield TopBar()
        with VerticalScroll(id="sheet", can_focus=False):
            yield ReportText()
        yield Says("", id="sentence")
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Have it written, away from the screen."""
        self.top("Report", "writing it ...")
        self._write()

    @work(thread=True, exclusive=True, group="report", exit_on_error=False)
    def _write(self) -> str:
        book = self.house.book
        return book.report(self.desk.engine) if book is not None else ""

    @work(thread=True, exclusive=True, group="saving", exit_on_error=False)
    def _save(self, form: str) -> str:
        book = self.house.book
        return book.save_report(self.desk.engine, form) if book is not None else NOWHERE

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """Show it, or say where it is, or say why there is none."""
        sentence = self.query_one("#sentence", Says)
        if event.state is WorkerState.ERROR:
            self.top("Report", "")
            sentence.say(f"! {self._why(event.worker.error)}", "bold $error")
        elif event.state is WorkerState.SUCCESS and event.worker.group == "saving":
            sentence.say(str(event.worker.result), "bold $accent")
        elif event.state is WorkerState.SUCCESS:
            self._written(str(event.worker.result or ""))

    def _written(self, says: str) -> None:
        self.top("Report", "h saves it")
        text = self.query_one(ReportText)
        text.text = says
        text.refresh(layout=True)
        if not says:
            self.query_one("#sentence", Says).say("Nothing is noted in this job yet.")
        elif self._form:
            self.action_save(self._form)

    def _why(self, error: BaseException | None) -> str:
        if isinstance(error, OSError):
            return f"It could not be saved: {error.strerror or error}."
        return self.house.trouble(error)

    def action_save(self, form: str) -> None:
        """Save it to a file, away from the screen."""
        self.query_one("#sentence", Says).say("Saving ...")
        self._save(form)

    def action_put_away(self) -> None:
        """Close."""
        self.dismiss("")

    def action_roll(self, lines: int) -> None:
        """Roll by lines."""
        self.query_one("#sheet").scroll_relative(y=lines, animate=False)
