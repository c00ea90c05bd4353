"""The finding: what to do, what must be minded, and what speaks for it."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Container
from textual.content import Content
from textual.widgets import OptionList

from faultkit.job.records import Finding
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.screens.paper.paper import PageText
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.pick import PickList
from faultkit.terminal.wording.explain import evidence_page, remedy_page
from faultkit.terminal.wording.finding import answers, headline
from faultkit.vocabulary.machine import Machine


class FindingScreen(Frame):
    """Read, do, answer. Gives one of the answers of `wording.finding`, or nothing."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("escape", "leave", "measure on", "Back to the bench: measure on", bar=True),
        Key("pagedown", "roll(6)", "read on", "Roll the page", bar=True),
        Key("pageup", "roll(-6)", "read back", "Roll the page back"),
    )
    BINDINGS = bindings("finding", KEYS)
    CSS_PATH = "finding.tcss"
    AUTO_FOCUS = "#answers"
    HELP = (
        "The readings leave this remedy, or these, in the order in which they are worth doing. "
        "Read the cautions, then choose what to put right: it is gone through step by step and "
        "noted only at its end. If you are not convinced, Esc goes back to measuring; the test "
        "that would confirm it can be taken from here."
    )

    def __init__(self, machine: Machine, finding: Finding) -> None:
        super().__init__()
        self.machine, self.finding = machine, finding
        self._answers = answers(machine, finding)

    def compose(self) -> ComposeResult:
        """Page of remedies, page of evidence, answers."""
        yield TopBar()
        if self.finding.warnings:
            yield PageText((("Mind this first", tuple(
                f"! {warning}" for warning in self.finding.warnings)),), id="warnings")
        with Container(id="pages"):
            yield PageText(remedy_page(self.machine, self.finding), id="remedy")
            yield PageText(evidence_page(self.machine, self.finding), id="evidence")
        yield PickList("answers", pages=False)
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Offer the answers."""
        self.top(headline(self.finding), "")
        options = self.query_one("#answers", PickList)
        for digit, (answer, says) in self._answers.items():
            options.digits[digit] = answer
            options.row(answer, Content.assemble((f"{digit} ", "bold"), says))

    @on(OptionList.OptionSelected, "#answers")
    def _answered(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option_id or "")

    def action_leave(self) -> None:
        """Measure on."""
        self.dismiss("")

    def action_roll(self, lines: int) -> None:
        """Roll both pages."""
        self.query_one("#pages").scroll_relative(y=lines, animate=False)
