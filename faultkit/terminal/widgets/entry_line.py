"""The one line of a screen on which something is typed, and what is said below it."""

from collections.abc import Iterator

from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widget import Widget
from textual.widgets import Input

from faultkit.terminal.widgets.says import Says
from faultkit.vocabulary.says import on_one_line

LONGEST = 500
"""Signs taken in one entry."""


class WordEntry(Input):
    """Takes words on one line; signs that command a terminal do not get in."""

    def __init__(self) -> None:
        super().__init__(id="words", compact=True, select_on_focus=False, max_length=LONGEST)
        self.cursor_blink = False

    def _on_paste(self, event: events.Paste) -> None:
        """Take a pasted text as one line of plain words."""
        event.prevent_default()
        event.stop()
        self.insert_text_at_cursor(on_one_line(event.text))


class EntryLine(Vertical):
    """A question with its field, there only while something is asked, and a sentence."""

    DEFAULT_CSS = """
    EntryLine { height: auto; background: $surface; padding: 0 1; }
    EntryLine #asking { height: auto; display: none; }
    EntryLine.-asking #asking { display: block; }
    EntryLine #question { width: auto; max-width: 60%; color: $primary; text-style: bold; }
    EntryLine #words {
        width: 1fr; height: 1; border: none; padding: 0 1; margin: 0 0 0 1;
        background: $panel; color: $foreground;
    }
    EntryLine #sentence { height: auto; max-height: 3; }
    """

    def __init__(self) -> None:
        super().__init__(id="entry-line")
        self.key = ""
        """What is asked for now; empty while nothing is."""
        self._before: Widget | None = None

    def compose(self) -> ComposeResult:
        """Question and field side by side, the sentence below."""
        yield from self._parts()
        yield Says("", id="sentence")

    @staticmethod
    def _parts() -> Iterator[Widget]:
        with Horizontal(id="asking"):
            yield Says("", id="question")
            yield WordEntry()

    def on_mount(self) -> None:
        """Nothing is said yet."""
        self.query_one("#sentence", Says).display = False

    def ask(self, key: str, question: str, value: str = "") -> None:
        """Ask for something; `value` stands in the field already."""
        if not self.key:
            self._before = self.screen.focused
        self.key = key
        self.add_class("-asking")
        self.query_one("#question", Says).say(question)
        field = self.query_one(WordEntry)
        field.value = on_one_line(value)
        field.cursor_position = len(field.value)
        self.screen.set_focus(field)  # at once: the next letters may be under way

    def done(self) -> None:
        """Ask no more; what had the focus before has it again."""
        self.key = ""
        self.remove_class("-asking")
        if self._before is not None and self._before.is_attached:
            self.screen.set_focus(self._before)  # at once too: it may be asked on
        self._before = None

    def say(self, text: str, style: str = "") -> None:
        """Say a sentence; an empty one takes no room."""
        sentence = self.query_one("#sentence", Says)
        sentence.say(text, style)
        sentence.display = bool(text)
