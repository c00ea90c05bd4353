"""The complaint: what does not work, and what does."""

from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.widgets import Input, OptionList
from textual.widgets.option_list import Option

from faultkit.errors import FaultkitError
from faultkit.terminal.desk import Desk, tell_differences
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.screens.paper.paper import PageText
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.pick import DIGITS, PickList
from faultkit.terminal.widgets.says import Says
from faultkit.terminal.wording.complaint import grouped, next_word, said_so_far, symptom_row

GO = "go"


class ComplaintScreen(Frame):
    """Mark what shows and what works. Gives `go`, or nothing on the way back."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("space", "turn", "mark", "Turn the marked row: shows, works, nothing said", bar=True),
        Key("0", "go", "start measuring", "Go to the bench", bar=True),
        Key("slash", "search", "search", "Type part of a complaint to find it", bar=True),
        Key("escape", "back", "back", "Leave the search; back to the machine"),
    )
    BINDINGS = bindings("complaint", KEYS)
    CSS_PATH = "complaint.tcss"
    AUTO_FOCUS = "#symptoms"
    HELP = (
        "Say what is wrong, and what still works: both tell much. Move with the arrows. Enter, "
        "Space or the digit turns a row: first it SHOWS, then it works, then nothing is said "
        "about it. Say only what was really tried. Press / to search. 0 starts measuring. "
        "You can come back and change the complaint at any time."
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.marks: dict[str, bool] = {t.symptom: t.shows for t in desk.state.told}

    def compose(self) -> ComposeResult:
        """Search, list, what was said."""
        yield TopBar()
        yield Input(placeholder="press / to search", id="search", compact=True)
        with Horizontal(id="both"):
            yield PickList("symptoms")
            yield PageText((), id="said")
        yield Says("", id="status")
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """List everything."""
        self.query_one("#search", Input).cursor_blink = False
        self.top(f"{self.desk.machine.title}: what is the complaint?")
        self._fill()

    def _fill(self, mark: str | None = None) -> None:
        """List what matches the search, in groups."""
        options = self.query_one("#symptoms", PickList)
        options.clear_options()
        options.digits = {"0": GO}
        digits = iter(DIGITS)
        for group, symptoms in grouped(self.desk.machine, self.query_one("#search", Input).value):
            options.add_option(Option(Content.styled(group, "bold $primary"), disabled=True))
            for symptom in symptoms:
                digit = next(digits, " ")
                options.digits[digit] = symptom.id
                options.add_option(Option(Content(
                    symptom_row(symptom, self.marks.get(symptom.id), digit)), id=symptom.id))
        options.digits.pop(" ", None)
        options.add_option(Option(Content.styled("0 Start measuring", "bold"), id=GO))
        options.highlighted = options.get_option_index(mark) if mark in set(
            options.digits.values()) or mark in self.marks else 1
        page = said_so_far(self.desk.machine, self.marks)
        said = self.query_one("#said", PageText)
        said.page = page
        said.refresh(layout=True)
        shows = sum(self.marks.values())
        self.query_one("#status", Says).say(
            f"{shows} shown, {len(self.marks) - shows} said to work. "
            f"{'0 starts measuring.' if self.marks else 'Enter marks: SHOWS, then works.'}")

    @on(OptionList.OptionSelected, "#symptoms")
    def _selected(self, event: OptionList.OptionSelected) -> None:
        if event.option_id == GO:
            self.action_go()
        elif event.option_id:
            self._turn(event.option_id)

    def _turn(self, symptom: str) -> None:
        word = next_word(self.marks.get(symptom))
        if word is None:
            self.marks.pop(symptom, None)
        else:
            self.marks[symptom] = word
        self._fill(symptom)

    @on(Input.Changed, "#search")
    def _search(self) -> None:
        self._fill()

    @on(Input.Submitted, "#search")
    def _found(self) -> None:
        self.query_one("#symptoms").focus()

    def action_turn(self) -> None:
        """Turn the marked row."""
        options = self.query_one("#symptoms", PickList)
        if options.highlighted is not None:
            name = options.get_option_at_index(options.highlighted).id
            if name and name != GO:
                self._turn(name)

    def action_search(self) -> None:
        """Into the search, at once: the next letters may be under way already."""
        self.set_focus(self.query_one("#search"))

    async def on_key(self, event: events.Key) -> None:
        """Begin the search here: a binding would act when the next letters have gone by."""
        search = self.query_one("#search", Input)
        if self.focused is not search and event.character == "/":
            self.action_search()
            event.stop()
        elif self.focused is search and event.is_printable and event.character:
            search.insert_text_at_cursor(event.character)  # was on its way to the list
            event.stop()

    def action_go(self) -> None:
        """Tell the desk, and go on."""
        try:
            tell_differences(self.desk, self.marks)
        except FaultkitError as error:
            self.query_one("#status", Says).say(f"! {error}", "bold $error")
            self.marks = {t.symptom: t.shows for t in self.desk.state.told}
            return
        self.dismiss(GO)

    def action_back(self) -> None:
        """Out of the search, or back."""
        search = self.query_one("#search", Input)
        if self.focused is search or search.value:
            search.clear()
            self.query_one("#symptoms").focus()
        else:
            self.dismiss("")
