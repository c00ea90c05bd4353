"""Closing: how the machine is handed over, and by whom."""

from collections.abc import Iterable
from typing import ClassVar

from faultkit.job.events import Closed, Closing
from faultkit.terminal.desk import Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.sheet import CAUTION, LEAVE, ROLL, ZERO, Row, Sheet
from faultkit.terminal.wording.cautions import DECIDES
from faultkit.terminal.wording.explain import Page
from faultkit.terminal.wording.handing import CLOSINGS, REASONS, in_the_way

DONE = "closed"
WHY, WHO = "why", "who"


class ClosingScreen(Sheet):
    """Choose how it is handed over. Gives `closed`, or nothing."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "choose", "Choose the marked row", bar=True), LEAVE, *ROLL)
    BINDINGS = bindings("closing", KEYS)
    HELP = (
        "Fit for use is taken only when every safety function was proved since the last repair, "
        "no bridge is left and nothing hangs. No fault found asks the same, and what was tried. "
        "Otherwise hand it over as not fit for use and say why: then it stays locked off and "
        "tagged. A closed job can be reopened."
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._how: Closing = "not fit for use"
        self._reason = ""

    def ends(self) -> tuple[str, str]:
        """What is asked."""
        return "How is the machine handed over?", ""

    def page(self) -> Page:
        """What stands in the way."""
        way = in_the_way(self.desk.machine, self.desk.state)
        if not way:
            return (("Nothing stands in the way of: fit for use.", (f"! {DECIDES}",)),)
        return (("It cannot be handed over as fit for use:", (*way, f"! {DECIDES}")),)

    def rows(self) -> Iterable[Row]:
        """The three ways."""
        for how, says in CLOSINGS.items():
            yield Row(how, says)
        yield Row(ZERO, "Back: the job stays open")

    def chosen(self, name: str) -> None:
        """Ask for the reason, then for the name."""
        if name == ZERO:
            self.dismiss("")
            return
        self._how = next(how for how in CLOSINGS if how == name)
        way = in_the_way(self.desk.machine, self.desk.state)
        if way and self._how != "not fit for use":
            self.say(f"{way[0].rstrip('.')}. Else hand it over as not fit for use, with the "
                     "reason.", CAUTION)
        elif REASONS[self._how]:
            self.line.ask(WHY, REASONS[self._how])
            self.say("It stands in the report; the next one to come reads it.")
        else:
            self._reason = ""
            self._ask_name()

    def _ask_name(self) -> None:
        self.line.ask(WHO, "Handed over by", self.house.who)
        self.say(f"{CLOSINGS[self._how].partition(':')[0]}. Enter closes the job.")

    def answered(self, key: str, text: str) -> None:
        """The reason, then the name, then it is closed."""
        if key == WHY:
            self._reason = text
            if text:
                self._ask_name()
            else:
                self.line.ask(WHY, REASONS[self._how])
                self.say("! A reason is needed.", CAUTION)
            return
        self.house.who = text
        if self.tell(Closed(self._how, text, self._reason)):
            self.dismiss(DONE)

    def action_take(self) -> None:
        """Enter outside the list."""
        if self.marked:
            self.chosen(self.marked)
