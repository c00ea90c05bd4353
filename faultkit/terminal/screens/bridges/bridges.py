"""Bridges of safety devices: found, and removed again before hand-over."""

from collections.abc import Iterable
from typing import ClassVar

from faultkit.job.events import BridgeFound, BridgeRemoved
from faultkit.terminal.desk import Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.sheet import DONE, LEAVE, ROLL, Row, Sheet
from faultkit.terminal.wording.explain import Page

NEW = "(new)"
WHERE = "Bridged"


class BridgesScreen(Sheet):
    """Type where one was found, choose one that is out. Gives a sentence for the bench."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "choose", "Choose the marked row", bar=True), LEAVE, *ROLL)
    BINDINGS = bindings("bridges", KEYS)
    HELP = (
        "A safety device that somebody bridged is a critical finding of its own. Say where it "
        "is: the two points, or the device. Take it out as soon as the machine is dead, then "
        "choose its row here. While one is left the machine cannot be handed over as fit for "
        "use. Never leave one in to try something."
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._news = ""

    def ends(self) -> tuple[str, str]:
        """How many are left."""
        left = len(self.desk.state.bridges)
        return "Bridged safety devices", f"{left} still in" if left else "none noted"

    def page(self) -> Page:
        """What must be done about it."""
        return (("A bridge that is found comes out before anything is handed over.",
                 (("! Never work on with it, never lift with it: the device it bridges does not "
                  "protect anybody now."),
                  "! Take it out on the dead machine, and find out why it was put in.")),)

    def rows(self) -> Iterable[Row]:
        """Those found, and a new one."""
        for where in self.desk.state.bridges:
            yield Row(f"at:{where}", f"STILL IN: {where}   (choose it once it is out)", "bold")
        yield Row(NEW, "A bridge was found: say where")

    def chosen(self, name: str) -> None:
        """Out, or one more."""
        if name == NEW:
            self.line.ask(NEW, WHERE)
            self.say("The two points or the device: -B1:21 to -B1:22")
            return
        where = name.removeprefix("at:")
        if self.tell(BridgeRemoved(where)):
            self._news = f"Bridge removed: {where}."
            self.say(self._news, DONE)
            self.draw(NEW)

    def answered(self, key: str, text: str) -> None:
        """One more."""
        if text and self.tell(BridgeFound(text)):
            self._news = f"Bridge noted: {text}. It must be out before hand-over."
            self.say(self._news, DONE)
            self.draw()

    def back(self) -> None:
        """Say on the bench what was noted."""
        self.dismiss(self._news)

    def action_take(self) -> None:
        """Enter outside the list."""
        if self.marked:
            self.chosen(self.marked)
