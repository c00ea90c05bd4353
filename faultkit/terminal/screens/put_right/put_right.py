"""Putting it right: dead, the work, the test that found it once more, the complaint."""

from collections.abc import Iterable
from typing import ClassVar, Literal

from faultkit.errors import ReadingError
from faultkit.job.events import Repaired
from faultkit.job.records import Finding
from faultkit.terminal.desk import Change, Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.put_right.stages import STAGE_NAMES, Stage, stage_after
from faultkit.terminal.screens.sheet import CAUTION, ZERO, Row, Sheet
from faultkit.terminal.screens.switching.switching import SwitchingScreen
from faultkit.terminal.wording.asking import choices, understood
from faultkit.terminal.wording.card import card_of
from faultkit.terminal.wording.explain import Page
from faultkit.terminal.wording.repairing import TRY, complaint_to_try, that_found_it, work_lines
from faultkit.terminal.wording.words import minutes, reading_text
from faultkit.vocabulary.diagnosis import Reading

Answer = Literal["cured", "not"]
SWITCH, DONE, READ, LEAVE_OUT, NOTE = "switch", "done", "read", "leave out", "note"
CURED: dict[str, str] = {
    "cured": "CURED: the complaint is gone", "not": "NOT cured: the complaint is still there"}


class PutRightScreen(Sheet):
    """One stage after the other. Gives `cured`, `not`, or nothing when it is put off."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "choose", "Choose the marked row", bar=True),
        Key("escape", "leave", "not now", "Put it off: nothing is noted", bar=True),
        Key("pagedown", "roll(4)", "read on", "Roll the text on top", bar=True),
        Key("pageup", "roll(-4)", "read back", "Roll the text on top back"),
    )
    BINDINGS = bindings("put_right", KEYS)
    HELP = (
        "Do what stands on top, then choose its row. First the machine is made dead where the "
        "work needs it, then the work, then the test that found the fault is repeated, then the "
        "complaint is tried again. Only at the end is the repair noted: cured, or not cured; "
        "each is pressed twice. Not cured drops the readings from before, because the machine "
        "is another one now. u on the bench takes the repair back."
    )

    def __init__(self, desk: Desk, finding: Finding | None, remedy: str) -> None:
        super().__init__(desk)
        self.finding, self.remedy = finding, desk.machine.remedies[remedy]
        self.test = that_found_it(desk.machine, desk.state, finding)
        self.reading: Reading | None = None
        self.note = ""
        self._worked, self._repeated, self._armed = False, self.test is None, ""

    # --- where we are ----------------------------------------------------------------------

    @property
    def stage(self) -> Stage:
        """What comes next, as the machine stands."""
        change = self.desk.needed(self.test.id) if self.test else None
        return stage_after(
            needs_dead=self.remedy.dead, dead=self.desk.state.dead, worked=self._worked,
            repeated=self._repeated, test_ready=change is None)

    @property
    def change(self) -> Change | None:
        """The way into the state that this stage needs."""
        match self.stage:
            case "dead":
                return self.desk.change_to(dead=True)
            case "ready":
                return self.desk.needed(self.test.id) if self.test else None
            case "live":
                return self.desk.change_to(dead=False)
            case _:
                return None

    def ends(self) -> tuple[str, str]:
        """The remedy, and what this stage is."""
        return f"PUT RIGHT: {self.remedy.says}", STAGE_NAMES[self.stage]

    def page(self) -> Page:
        """What to do now."""
        match self.stage:
            case "dead" | "ready" | "live":
                return self._switch_page()
            case "work":
                return ((f"NOW: {self.remedy.says}",
                         work_lines(self.desk.machine, self.remedy, self.finding,
                                    dead=self.desk.state.dead)),)
            case "test":
                return self._test_page()
            case "try":
                found = ((f"The test that found it reads {reading_text(self.test, self.reading)} "
                         "now."),) if self.test and self.reading else ()
                return ((f"NOW: {TRY}", (
                    f"It was: {complaint_to_try(self.desk.machine, self.desk.state)}", *found,
                    *((f"Noted: {self.note}",) if self.note else ()))),)

    def _switch_page(self) -> Page:
        change, purpose = self.change, {
            "dead": "This work is done on the dead machine.",
            "ready": "The test that found it is repeated next.",
            "live": "The complaint is tried on the live machine."}[self.stage]
        if change is None:
            return ((f"NOW: {purpose}", (("! This machine describes no such state: follow the "
                                         "local rules."),)),)
        goal = "Make it dead" if change.dead else "Make it live again"
        work = work_lines(self.desk.machine, self.remedy, self.finding)
        return ((f"NOW: {goal}: {len(change.steps)} steps, {minutes(change.minutes)}.",
                 (purpose, *(work if self.stage == "dead" else ()))),)

    def _test_page(self) -> Page:
        assert self.test is not None
        card = card_of(self.desk.machine, self.test, None, self.desk.condition)
        old = [e for e in self.desk.state.entries if e.test == self.test.id]
        lines = [f"State: {card.state}; {card.place}; {card.meter}"]
        if card.red:
            lines.append(f"RED {card.red}" + (f"   BLACK {card.black}" if card.black else ""))
        lines += [f"Before the repair it read {reading_text(self.test, old[-1].reading)}."]
        lines += [f"Words: {choices(self.test)}"] if self.test.words else []
        return ((f"NOW repeat the test that found it: {card.does}",
                 (*lines, *(f"! {caution}" for caution in card.cautions))),)

    def rows(self) -> Iterable[Row]:
        """What can be said at this stage."""
        match self.stage:
            case "dead" | "ready" | "live":
                if self.change is not None:
                    yield Row(SWITCH, "Go through the steps", "bold")
                else:
                    yield Row(DONE, "It is so")
                if self.stage == "ready":
                    yield Row(LEAVE_OUT, "Leave the repetition out")
            case "work":
                yield Row(DONE, "The work is done", "bold")
            case "test":
                yield Row(READ, "Type what it reads now", "bold")
                yield Row(LEAVE_OUT, "Leave the repetition out")
            case "try":
                for answer, says in CURED.items():
                    armed = answer == self._armed
                    yield Row(answer, f"Press it again: {says}" if armed else says,
                              "bold" if armed else "")
                yield Row(NOTE, "Write a word on the repair: part fitted, what was seen")
        yield Row(ZERO, "Not now: back to the bench, nothing is noted")

    # --- what is answered ------------------------------------------------------------------

    def chosen(self, name: str) -> None:
        """Take it, and go on to the next stage."""
        if name not in CURED and self._armed:
            self._armed = ""
            self.draw(name)
        if name == ZERO:
            self.dismiss("")
        elif name in CURED:
            self._judged(name)
            return
        elif name == SWITCH and self.change is not None:
            self.app.push_screen(SwitchingScreen(self.desk, self.change), self._switched)
        elif name == READ:
            self.line.ask(READ, "It reads now")
            return
        elif name == NOTE:
            self.line.ask(NOTE, "A word on it", self.note)
            return
        elif name == LEAVE_OUT:
            self._repeated = True
        elif name == DONE:
            self._worked = True
        self.say("")
        self.draw()

    def _switched(self, _answer: str | None) -> None:
        self.draw()

    def answered(self, key: str, text: str) -> None:
        """A reading, or a note."""
        self._armed = ""
        if key == NOTE:
            self.note = text
        elif self.test is not None:
            try:
                self.reading = understood(self.test, text)
            except ReadingError as error:
                self.line.ask(READ, "It reads now", text)
                self.say(f"! {error}", CAUTION)
                return
            self._repeated = True
            self.say(f"It reads {reading_text(self.test, self.reading)} now.")
        self.draw()

    def _judged(self, answer: str) -> None:
        """Cured or not; it counts when it is said twice."""
        if answer != self._armed:
            self._armed = answer
            self.draw(answer)
            return
        repeated = self.test.id if self.test and self.reading else ""
        if self.tell(Repaired(self.remedy.id, answer == "cured", repeated, self.reading,
                              self.note)):
            self.dismiss(answer)

    def action_take(self) -> None:
        """Enter outside the list."""
        if self.marked:
            self.chosen(self.marked)
