"""Remarks in the electrician's words; they stand in the report."""

from collections.abc import Iterable
from typing import ClassVar

from faultkit.job.events import Remarked
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.sheet import DONE, LEAVE, ROLL, Row, Sheet
from faultkit.terminal.wording.explain import Page

NEW = "(new)"


class RemarksScreen(Sheet):
    """Read what was noted, type one more."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "write", "Write a remark", bar=True), LEAVE, *ROLL)
    BINDINGS = bindings("remarks", KEYS)
    HELP = (
        "Anything worth reading later: what was seen, what should be ordered, what the operator "
        "was told. A remark stands in the report as it was typed, with its time, and is never "
        "taken back; a later one can correct it."
    )

    def ends(self) -> tuple[str, str]:
        """How many there are."""
        return "Remarks", f"{len(self.desk.state.remarks)} so far"

    def page(self) -> Page:
        """What was noted, the last one first."""
        remarks = tuple(reversed(self.desk.state.remarks))
        return (("Write down what the report should say.",
                 remarks or ("Nothing is noted yet.",)),)

    def rows(self) -> Iterable[Row]:
        """One more."""
        yield Row(NEW, "Write a remark")

    def chosen(self, name: str) -> None:
        """Ask for it."""
        self.line.ask(NEW, "Remark")
        self.say("")

    def answered(self, key: str, text: str) -> None:
        """Note it."""
        if text and self.tell(Remarked(text)):
            self.say("Noted.", DONE)
            self.draw()

    def action_take(self) -> None:
        """Enter outside the list."""
        self.chosen(NEW)
