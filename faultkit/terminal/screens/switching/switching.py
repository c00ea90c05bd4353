"""Making the machine dead, or live again: step by step, each one acknowledged by its digit."""

from collections.abc import Iterable
from typing import ClassVar

from faultkit.terminal.desk import Change, Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.sheet import CAUTION, ROLL, Row, Sheet
from faultkit.terminal.wording.explain import Page

DONE = "done"


class SwitchingScreen(Sheet):
    """Do a step, press its digit, until the machine is as wanted. Gives `done` or nothing.

    Every step has another digit than the one before, so a key held down or pressed twice never
    runs through what must be done by hand.
    """

    KEYS: ClassVar[tuple[Key, ...]] = (
        *(Key(digit, f"done({digit})", "done", "Acknowledge the step that ends with this digit")
          for digit in "1234567890"),
        Key("b", "back_one", "one back", "The last step was not done after all", bar=True),
        Key("escape", "leave", "break off", "Break off: nothing is noted", bar=True),
        *ROLL,
    )
    BINDINGS = bindings("switching", KEYS)
    DIGITS_CHOOSE = False
    HELP = (
        "The steps stand in their order. Do the one on top, heed its cautions, then press the "
        "last digit of its number. b takes the last one back. Only when every step is "
        "acknowledged is it noted that the machine is dead, or live again. Esc breaks off and "
        "notes nothing: then leave the machine in a safe state. Local rules may ask for more."
    )

    def __init__(self, desk: Desk, change: Change) -> None:
        super().__init__(desk)
        self.change = change
        self.made = 0
        self._leaving = False

    def ends(self) -> tuple[str, str]:
        """Where it leads, and how far it is."""
        goal = "MAKE IT DEAD" if self.change.dead else "MAKE IT LIVE AGAIN"
        says = self.desk.machine.conditions[self.change.condition].says
        return f"{goal}: {says}", f"{self.made} of {len(self.change.steps)} done"

    def page(self) -> Page:
        """The step to do now, with its cautions."""
        steps = self.change.steps
        if self.made >= len(steps):
            return (("Every step is acknowledged.", ()),)
        step, digit = steps[self.made], self._digit(self.made)
        return ((f"NOW {self.made + 1}. {step.says}",
                 (*(f"! {caution}" for caution in step.cautions),
                  f"Press {digit} when it is done.")),)

    def rows(self) -> Iterable[Row]:
        """All steps with what is done."""
        for number, step in enumerate(self.change.steps):
            mark = "[x]" if number < self.made else "NOW" if number == self.made else "[ ]"
            yield Row(step.id, f"{mark} {number + 1}. {step.says}",
                      "bold" if number == self.made else "", most=1)

    def draw(self, mark: str = "") -> None:
        """Stand on the step to do now; digits acknowledge and choose nothing."""
        super().draw(mark or (self.change.steps[self.made].id
                              if self.made < len(self.change.steps) else ""))

    def chosen(self, name: str) -> None:
        """Enter acknowledges nothing: it is the same key every time."""
        if self.made < len(self.change.steps):
            self.say(f"Press {self._digit(self.made)} once step {self.made + 1} is done.")

    @staticmethod
    def _digit(index: int) -> str:
        return str((index + 1) % 10)

    def action_done(self, digit: int) -> None:
        """Acknowledge the step to do now, if this is its digit."""
        if self.made >= len(self.change.steps) or self._leaving:
            return
        if str(digit) != self._digit(self.made):
            self.say(f"That is not step {self.made + 1}: press {self._digit(self.made)} once it "
                     "is done.", CAUTION)
            return
        self.made += 1
        if self.made < len(self.change.steps):
            self.say(f"Step {self.made} is done.")
            self.draw()
        elif self.tell(self.change.event):
            self.dismiss(DONE)
        else:
            self.made -= 1

    def action_back_one(self) -> None:
        """Take one acknowledgement back, or go on instead of breaking off."""
        if self._leaving:
            self._leaving = False
            self.say("")
        elif self.made:
            self.made -= 1
            self.say(f"Step {self.made + 1} is not done.")
            self.draw()

    def action_leave(self) -> None:
        """Break off; asked twice once something was acknowledged."""
        if not self.made or self._leaving:
            self.dismiss("")
            return
        self._leaving = True
        self.say("! Esc again breaks off: nothing is noted. Leave the machine in a safe state. "
                 "b goes on.", CAUTION)
