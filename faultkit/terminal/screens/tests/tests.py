"""Every test of the machine, to search and take at any time."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from faultkit.job.records import Assessment, JobState, Suggestion
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.drawn import cut
from faultkit.terminal.wording.words import minutes, test_says
from faultkit.vocabulary.diagnosis import Test
from faultkit.vocabulary.machine import Machine

MOST = 400
"""Rows shown at once; typing narrows the list."""


class TestsScreen(Frame):
    """Type some letters, go down, press Enter."""

    __test__ = False

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("escape", "leave", "back", "Back to the bench without a choice", bar=True),
        Key("down", "list", "list", "Into the list", bar=True),
        Key("enter", "first", "take", "Take the test that is marked", bar=True),
    )
    BINDINGS = bindings("tests", KEYS)
    CSS_PATH = "tests.tcss"
    AUTO_FOCUS = "#search"
    HELP = (
        "All tests of this machine, those worth their minutes first. Type part of what you "
        "look for: a device, a wire, a terminal, a place. Down goes into the list, Enter takes "
        "the test that is marked. Bits: one bit halves the suspects. A test may be taken again."
    )

    def __init__(self, machine: Machine, state: JobState, assessment: Assessment | None) -> None:
        super().__init__()
        self.machine, self.state = machine, state
        listed = assessment.next if assessment else ()
        self._worth = {one.test: one for one in listed}
        rest = [test for test in machine.tests if test not in self._worth]
        self._order = [*self._worth, *rest]

    def compose(self) -> ComposeResult:
        """Search, list, keys."""
        yield TopBar()
        yield Input(placeholder="search: device, wire, place ...", id="search", compact=True)
        yield OptionList(id="list", compact=True)
        yield Static("", id="detail", markup=False)
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Show everything first."""
        self.query_one("#search", Input).cursor_blink = False
        self.call_after_refresh(self._fill, "")

    def on_resize(self) -> None:
        """Rows are cut to the width."""
        self.call_after_refresh(self._fill, self.query_one("#search", Input).value)

    def _fill(self, wanted: str) -> None:
        words = wanted.lower().lstrip("/ ").split()  # a / out of habit is no part of a name
        found = [name for name in self._order if self._matches(self.machine.tests[name], words)]
        options = self.query_one("#list", OptionList)
        options.clear_options()
        width = max(options.size.width - 4, 30)
        options.add_options([Option(self._row(self.machine.tests[name], width), id=name)
                             for name in found[:MOST]])
        options.highlighted = 0 if found else None
        if not found:
            self.query_one("#detail", Static).update(
                Content("Nothing holds that. Part of a word is enough: Q2, brake, pendant."))
        self.top(f"All tests: {len(found)} of {len(self._order)}")

    def _matches(self, test: Test, words: list[str]) -> bool:
        place = self.machine.places.get(test.place)
        condition = self.machine.conditions[test.condition]
        text = " ".join((test.id, test.does, test.device, condition.says,
                         place.says if place else "", *(test.between or ()))).lower()
        return all(word in text for word in words)

    def _row(self, test: Test, width: int) -> Content:
        worth: Suggestion | None = self._worth.get(test.id)
        cost = minutes(worth.minutes if worth else test.minutes)
        gain = f"{worth.gain_bits:4.1f}b" if worth else "     "
        marks = ("done " if any(e.test == test.id for e in self.state.entries) else "") + (
            "left out " if test.id in self.state.skipped else "")
        head = f"{cost:>7} {gain} "
        return Content.assemble((head, "bold"), (marks, "$success"),
                                cut(test_says(self.machine, test), width - len(head) - len(marks)))

    @on(Input.Changed, "#search")
    def _search(self, event: Input.Changed) -> None:
        self._fill(event.value)

    @on(OptionList.OptionHighlighted, "#list")
    def _marked(self, event: OptionList.OptionHighlighted) -> None:
        test = self.machine.tests[event.option_id or ""]
        place = self.machine.places.get(test.place)
        where = place.says if place else test.place
        self.query_one("#detail", Static).update(Content(
            f"{self.machine.conditions[test.condition].says}; {where}; {test.meter}"))

    @on(OptionList.OptionSelected, "#list")
    def _taken(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option_id or "")

    @on(Input.Submitted, "#search")
    def _first(self) -> None:
        self.action_first()

    def action_first(self) -> None:
        """Take the marked row."""
        options = self.query_one("#list", OptionList)
        if options.highlighted is not None:
            self.dismiss(options.get_option_at_index(options.highlighted).id or "")

    def action_list(self) -> None:
        """Into the list."""
        self.query_one("#list").focus()

    def action_leave(self) -> None:
        """Nothing chosen."""
        self.dismiss("")
