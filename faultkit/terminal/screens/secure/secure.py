"""The load comes first: nothing is measured before it is landed or secured."""

from collections.abc import Iterable
from typing import ClassVar

from faultkit.job.events import LoadSecured, Secured
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.sheet import LEAVE, ROLL, Row, Sheet
from faultkit.terminal.wording.call import BY_MEANS, HOW, NOBODY, SECURED, STOPS, value_of
from faultkit.terminal.wording.explain import Page

GO, CALL = "go", "call"


class SecureScreen(Sheet):
    """Say how the load was dealt with. Gives `go`, `call`, or nothing on the way back."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "it is done", "Say that the marked row is done", bar=True),
        Key("k", "call", "call-out", "Correct the call-out", bar=True),
        LEAVE, *ROLL,
    )
    BINDINGS = bindings("secure", KEYS)
    HELP = (
        "A load that hangs, or may sink on somebody, comes before the fault. Land it, or have it "
        "held by other means, or close off the area below it, and say here which of these was "
        "done. Only then is anything measured. If the call-out was wrong, press k."
    )

    def ends(self) -> tuple[str, str]:
        """First of all."""
        return "FIRST: land or secure the load", ""

    def page(self) -> Page:
        """Why, and how."""
        call = self.desk.state.call
        said = [f"load {value_of(call, 'load')}"]
        said += ["people below"] if call.people else []
        said += ["it sinks or the brake slips"] if call.slips else []
        return ((f"Do this first. The call-out says: {', '.join(said)}.",
                 (f"! {NOBODY}", f"! {BY_MEANS}", f"! {STOPS}")),)

    def rows(self) -> Iterable[Row]:
        """What can have been done."""
        for how, says in SECURED.items():
            yield Row(how, says)

    def chosen(self, name: str) -> None:
        """Landed needs no words, the rest does."""
        how: Secured = next(each for each in SECURED if each == name)
        if how == "landed":
            self._secured(how, "")
        else:
            self.line.ask(how, HOW)
            self.say(SECURED[how])

    def answered(self, key: str, text: str) -> None:
        """How it is held or closed off must be said."""
        how: Secured = next(each for each in SECURED if each == key)
        if text:
            self._secured(how, text)
        else:
            self.line.ask(key, HOW)
            self.say("! Say how, in a few words: it stands in the report.", "bold $warning")

    def _secured(self, how: Secured, note: str) -> None:
        if self.tell(LoadSecured(how, note)):
            self.dismiss(GO)

    def action_take(self) -> None:
        """Enter outside the list."""
        if self.marked:
            self.chosen(self.marked)

    def action_call(self) -> None:
        """Correct the call-out."""
        self.dismiss(CALL)
