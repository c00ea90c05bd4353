"""Handing back: every safety function proved, with what was seen and by whom."""

from collections.abc import Iterable
from typing import ClassVar

from textual import on
from textual.widgets import OptionList

from faultkit.job.events import ProofMade
from faultkit.terminal.desk import Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.paper.paper import PageText
from faultkit.terminal.screens.sheet import CAUTION, DONE, ROLL, ZERO, Row, Sheet
from faultkit.terminal.screens.switching.switching import SwitchingScreen
from faultkit.terminal.wording.explain import Page
from faultkit.terminal.wording.handing import NO_LOAD, OUT, STILL_DEAD, proof_mark, proof_says
from faultkit.vocabulary.machine import SafetyFunction

CLOSE, BRIDGES = "close", "bridges"
SEEN, WHO = "seen", "who"


class HandBackScreen(Sheet):
    """Mark a function, prove it, say how it went. Gives `close`, `bridges`, or nothing."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("p", "judge(1)", "passed", "The marked function passed", bar=True),
        Key("f", "judge(0)", "FAILED", "The marked function failed", bar=True),
        Key("0", "close", "close", "On to closing the job", bar=True),
        Key("y", "name", "your name", "Say who proves from here on", bar=True),
        Key("d", "switch", "dead/live", "Make the machine live again, or dead"),
        Key("enter", "take", "choose", "What to do with the marked row"),
        Key("escape", "leave", "bench", "Back to the bench", bar=True),
        *ROLL,
    )
    BINDINGS = bindings("hand_back", KEYS)
    HELP = (
        "Every safety function of this machine is proved after a repair. Mark one with its "
        "digit or the arrows, do what stands on top, then press p when it passed or f when it "
        "failed, and type what was seen. Local codes and a qualified person decide how it is "
        "proved and when the machine may lift again. 0 goes on to closing the job."
    )

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._passed = True
        self._seen = ""
        self._function = ""

    def ends(self) -> tuple[str, str]:
        """How many are proved."""
        passed = sum(proof.passed for proof in self.desk.state.proofs)
        return "HAND BACK: prove each one", f"{passed} of {len(self.desk.machine.safety)} passed"

    def page(self) -> Page:
        """The marked function, and what holds for all."""
        dead = (f"! {STILL_DEAD}",) if self.desk.state.dead else ()
        function = self.desk.machine.safety.get(self.marked)
        if function is None:
            return (("Prove every safety function.", (*dead, f"! {NO_LOAD}", f"! {OUT}")),)
        lines = [f"Expected: {function.expect}."]
        proof = next((p for p in self.desk.state.proofs if p.function == function.id), None)
        if proof is not None:
            lines.append(proof_says(proof))
        return ((f"PROVE: {function.says}", (*lines, *dead, f"! {NO_LOAD}", f"! {OUT}")),)

    def rows(self) -> Iterable[Row]:
        """Safety functions, bridges, and the way on."""
        proofs = {proof.function: proof for proof in self.desk.state.proofs}
        for where in self.desk.state.bridges:
            yield Row(BRIDGES, f"[BRIDGE] still in: {where}", "bold")
        for function in self.desk.machine.safety.values():
            proof = proofs.get(function.id)
            style = "bold" if proof is not None and not proof.passed else ""
            yield Row(function.id, f"{proof_mark(proof)} {function.id}: {function.says}", style,
                      most=1)
        yield Row(ZERO, "Close the job")

    @on(OptionList.OptionHighlighted, "#rows")
    def _stands_on(self) -> None:
        text = self.query_one("#page", PageText)
        text.page = self.page()
        text.refresh(layout=True)

    def chosen(self, name: str) -> None:
        """Say what to press."""
        if name == ZERO:
            self.action_close()
        elif name == BRIDGES:
            self.dismiss(BRIDGES)
        else:
            self.say("Prove it as it stands on top, then press p: passed, or f: FAILED.")

    def action_judge(self, passed: int) -> None:
        """Ask what was seen."""
        function: SafetyFunction | None = self.desk.machine.safety.get(self.marked)
        if function is None:
            self.say("Mark a safety function first.", CAUTION)
            return
        self._function, self._passed = function.id, bool(passed)
        self.line.ask(SEEN, "PASSED. Seen" if passed else "FAILED. Seen")
        self.say("Enter alone: as expected." if passed else "What happened instead?")

    def answered(self, key: str, text: str) -> None:
        """What was seen, then who saw it."""
        if key == WHO:
            self.house.who = text
            if not text:
                self.say("! A proof needs a name.", CAUTION)
                return
        elif not text and not self._passed:
            self.line.ask(SEEN, "FAILED. Seen")
            self.say("! Say what happened: it stands in the report.", CAUTION)
            return
        else:
            self._seen = text
        if not self._function:
            self.say(f"{self.house.who} proves from here on.")
        elif not self.house.who:
            self.line.ask(WHO, "Who proves it")
            self.say("Your name; it is kept until you leave.")
        elif self.tell(ProofMade(self._function, self._passed, self.house.who, self._seen)):
            says = "passed" if self._passed else "FAILED: put it right and prove it again"
            self.say(f"{self._function}: {says}.", DONE if self._passed else CAUTION)
            self.draw(self._next(self._function))
            self._function = ""

    def _next(self, name: str) -> str:
        """The next function that is not proved; the same one where it failed."""
        names = list(self.desk.machine.safety)
        passed = {proof.function for proof in self.desk.state.proofs if proof.passed}
        after = [*names[names.index(name):], *names]
        return next((each for each in after if each not in passed), ZERO)

    def back(self) -> None:
        """Back to the bench."""
        self.dismiss("")

    def action_leave(self) -> None:
        """Out of the line, then back; what was half said is dropped."""
        self._function = ""
        super().action_leave()

    def action_name(self) -> None:
        """Another person proves."""
        self._function = ""
        self.line.ask(WHO, "Who proves", self.house.who)

    def action_switch(self) -> None:
        """Dead, or live again."""
        change = self.desk.change_to(dead=not self.desk.state.dead)
        if change is None:
            self.say("This machine describes no such state.", CAUTION)
        else:
            self.app.push_screen(SwitchingScreen(self.desk, change), lambda _: self.draw())

    def action_take(self) -> None:
        """Enter outside the list."""
        if self.marked:
            self.chosen(self.marked)

    def action_close(self) -> None:
        """On to closing."""
        self.dismiss(CLOSE)
