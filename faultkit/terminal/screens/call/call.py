"""The call-out: the dangers first, then who called for what."""

from collections.abc import Iterable
from typing import ClassVar

from faultkit.job.records import JobState
from faultkit.terminal.desk import Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.sheet import LEAVE, ROLL, ZERO, Row, Sheet
from faultkit.terminal.wording.call import (
    TURNED,
    TYPED,
    WIDE,
    turned,
    typed,
    value_of,
    what_it_brings,
)
from faultkit.terminal.wording.explain import Page

GO = "go"


class CallScreen(Sheet):
    """Turn what is asked, type what is told. Gives `go`, or nothing on the way back."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "turn or type", "Turn the marked row, or type its words", bar=True),
        Key("0", "go", "go on", "Keep this and go on", bar=True),
        LEAVE, *ROLL,
    )
    BINDINGS = bindings("call", KEYS)
    HELP = (
        "Ask before you touch anything: does a load hang, does anybody work below, does the load "
        "sink? A digit turns the first four rows; the others are typed. What you leave out "
        "stays open, and everything can be changed later. Dead work only means that no test "
        "under voltage is proposed or taken in this job."
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.call = desk.state.call

    def ends(self) -> tuple[str, str]:
        """The machine."""
        return f"{self.desk.machine.title}: the call-out", ""

    def page(self) -> Page:
        """What the answers bring."""
        danger = JobState(machine="", call=self.call, secured=self.desk.state.secured).danger
        says = what_it_brings(self.call, danger=danger)
        return (("Ask this first: is anybody in danger? Then, what is wrong?",
                 says or ("Nothing is said to hang over anybody.",)),)

    def rows(self) -> Iterable[Row]:
        """Questions with what was said."""
        for name, says in (*TURNED.items(), *TYPED.items()):
            alarming = (name in ("people", "slips") and bool(getattr(self.call, name))) or (
                name == "load" and self.call.load == "hanging")
            yield Row(name, f"{says:<{WIDE}}  {value_of(self.call, name)}",
                      "bold" if alarming else "")
        yield Row(ZERO, "Go on", "bold")

    def chosen(self, name: str) -> None:
        """Turn it, ask for it, or go on."""
        if name == ZERO:
            self.action_go()
        elif name in TURNED:
            self.call = turned(self.call, name)
            self.draw(name)
        else:
            self.line.ask(name, TYPED[name], str(getattr(self.call, name)))

    def answered(self, key: str, text: str) -> None:
        """Keep the words and stand on the next row."""
        self.call = typed(self.call, key, text)
        names = [*TYPED, ZERO]
        self.draw(names[names.index(key) + 1])

    def action_take(self) -> None:
        """Enter outside the list."""
        if self.marked:
            self.chosen(self.marked)

    def action_go(self) -> None:
        """Tell it, where something was said or changed."""
        if self.call == self.desk.state.call or self.tell(self.call):
            self.dismiss(GO)
