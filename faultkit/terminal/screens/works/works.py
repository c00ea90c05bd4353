"""It works now and nothing was found: an honest result, with its own advice."""

from collections.abc import Iterable
from typing import ClassVar

from faultkit.job.advice import nothing_found
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.sheet import ZERO, Row, Sheet
from faultkit.terminal.wording.explain import Page

PROOFS, CLOSE, REMARK = "proofs", "close", "remark"


class WorksScreen(Sheet):
    """Read the advice, then prove and close, or measure on. Gives `proofs`, `close`, `remark`."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "choose", "Choose the marked row", bar=True),
        Key("escape", "leave", "measure on", "Back to the bench", bar=True),
        Key("pagedown", "roll(4)", "read on", "Roll the advice", bar=True),
        Key("pageup", "roll(-4)", "read back", "Roll the advice back"),
    )
    BINDINGS = bindings("works", KEYS)
    HELP = (
        "A fault that comes and goes often hides when somebody looks. Read the advice: wiggle, "
        "warm, look for what was moved last. If nothing is found, say so: that is an honest "
        "result. Every safety function is proved all the same before the machine lifts again."
    )

    def ends(self) -> tuple[str, str]:
        """What is the matter."""
        return "It works now", "no fault found"

    def page(self) -> Page:
        """What to do about it."""
        return (("Before you leave a machine that works again by itself",
                 nothing_found(self.desk.machine, self.desk.state)),)

    def rows(self) -> Iterable[Row]:
        """Ways on."""
        yield Row(PROOFS, "Prove every safety function, then hand over")
        yield Row(CLOSE, "Close it: no fault found, or not fit for use")
        yield Row(REMARK, "Write a remark: what was tried, what to watch")
        yield Row(ZERO, "Measure on")

    def chosen(self, name: str) -> None:
        """Go that way."""
        self.dismiss("" if name == ZERO else name)

    def action_take(self) -> None:
        """Enter outside the list."""
        if self.marked:
            self.chosen(self.marked)
