"""Free entry: any two points, a meter and a state; the circuit predicts it on the spot."""

from collections.abc import Iterable
from typing import ClassVar, Literal

from textual import on
from textual.widgets import Input

from faultkit.errors import FaultkitError
from faultkit.job.probe import METERS, RESISTANCE, find_points, parse_probe, probe_id
from faultkit.terminal.desk import Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.sheet import CAUTION, ROLL, Row, Sheet
from faultkit.terminal.widgets.entry_line import WordEntry
from faultkit.terminal.wording import words
from faultkit.terminal.wording.explain import Page

Stage = Literal["red", "black", "meter", "condition"]
STAGES: tuple[Stage, ...] = ("red", "black", "meter", "condition")
ASKS: dict[Stage, str] = {
    "red": "Where does the RED lead go?", "black": "Where does the BLACK lead go?",
    "meter": "Which meter?", "condition": "In which state of the machine?"}
NAMES: dict[Stage, str] = {"red": "RED", "black": "BLACK", "meter": "METER",
                           "condition": "STATE"}
MOST = 200
"""Points listed at once; typing narrows the list."""
HINT = "A device, a wire number or a terminal: Q2, 14, X1:22. Down goes into the list."


class FreeScreen(Sheet):
    """Search a point, take it; the next. Gives the id of a test, or nothing."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "take", "Take the marked row", bar=True),
        Key("down", "list", "list", "Into the list", bar=True),
        Key("escape", "leave", "one back", "One question back; at last back to the bench",
            bar=True),
        *ROLL,
    )
    BINDINGS = bindings("free", KEYS)
    HELP = (
        "Measure between any two points, in any state. Type part of a device, a wire number or a "
        "terminal and take the point for the red lead, then for the black one; choose the meter "
        "and the state. The circuit says at once what each reading would mean. Ohms only on the "
        "dead machine. The cautions stand on the bench beside the test."
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.taken: dict[Stage, str] = {}
        self._wires = {pin: wire.id for wire in desk.machine.wires.values() for pin in wire.pins}

    @property
    def stage(self) -> Stage:
        """What is asked now."""
        return STAGES[min(len(self.taken), len(STAGES) - 1)]

    def on_mount(self) -> None:
        """Ask for the first point."""
        self._ask()

    def ends(self) -> tuple[str, str]:
        """How far it is."""
        return "Free entry: measure where you like", f"{len(self.taken) + 1} of {len(STAGES)}"

    def page(self) -> Page:
        """The question, and what was answered."""
        said = "   ".join(f"{NAMES[stage]} {self.taken.get(stage, '?')}" for stage in STAGES)
        return ((ASKS[self.stage], (said,)),)

    def rows(self) -> Iterable[Row]:
        """What fits."""
        machine = self.desk.machine
        if self.stage in ("red", "black"):
            for pin in find_points(machine, self.query_one(WordEntry).value)[:MOST]:
                says = machine.devices[pin.partition(":")[0]].says
                wire = f", wire {self._wires[pin]}" if pin in self._wires else ""
                yield Row(pin, f"{pin:<14} {says}{wire}", most=1)
        elif self.stage == "meter":
            for meter in METERS:
                yield Row(meter, words.METERS[meter])
        else:
            only_dead = self.taken["meter"] in RESISTANCE or self.desk.state.call.dead_only
            for condition in machine.conditions.values():
                if condition.dead or not only_dead:
                    yield Row(condition.id, condition.says)

    def chosen(self, name: str) -> None:
        """Keep it and ask on; at the end give the test."""
        stage = self.stage
        self.taken[stage] = name
        if len(self.taken) < len(STAGES):
            self._ask()
            return
        test = probe_id(*(self.taken[each] for each in STAGES))
        try:
            parse_probe(test, self.desk.machine)
        except FaultkitError as error:
            self.taken = {"red": self.taken["red"]}
            self._ask()
            self.say(f"! {error}", CAUTION)
            return
        self.dismiss(test)

    def answered(self, key: str, text: str) -> None:
        """Enter in the field takes the marked row."""
        if self.marked:
            self.chosen(self.marked)
        else:
            self._ask()
            self.say("Nothing holds that. Part of a name is enough: Q2, 14, X1.", CAUTION)

    @on(Input.Changed, "#words")
    def _searched(self) -> None:
        if self.stage in ("red", "black") and self.line.key:
            self.draw()

    def _ask(self) -> None:
        if self.stage in ("red", "black"):
            self.line.ask(self.stage, NAMES[self.stage])
            self.say(HINT)
        else:
            self.line.done()
            self.say("")
            self.query_one("#rows").focus()
        self.draw()

    def action_take(self) -> None:
        """Enter outside list and field."""
        if self.marked:
            self.chosen(self.marked)

    def action_list(self) -> None:
        """Into the list."""
        self.query_one("#rows").focus()

    def action_leave(self) -> None:
        """One question back."""
        if not self.taken:
            self.dismiss("")
            return
        self.taken.pop(self.stage if self.stage in self.taken else list(self.taken)[-1])
        self._ask()
