"""Readings so far: change one, take it back, or take it again; what that alters is shown first."""

from collections.abc import Iterable
from typing import ClassVar

from faultkit.errors import ReadingError
from faultkit.job.events import Event, ReadingChanged, ReadingWithdrawn
from faultkit.job.records import Assessment, Entry
from faultkit.terminal.desk import Desk
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.compare.compare import CHANGED, CompareScreen
from faultkit.terminal.screens.sheet import CAUTION, LEAVE, ROLL, Row, Sheet
from faultkit.terminal.wording.asking import choices, understood
from faultkit.terminal.wording.explain import Page
from faultkit.terminal.wording.words import reading_text, test_says
from faultkit.vocabulary.says import percent

AGAIN = "again:"


class ReadingsScreen(Sheet):
    """Choose a reading, say what it was in truth. Gives `again:TEST`, or a sentence."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "change", "Type what the marked reading was in truth", bar=True),
        Key("d", "withdraw", "take back", "Take the marked reading back altogether", bar=True),
        Key("a", "again", "again", "Measure the marked one again", bar=True),
        LEAVE, *ROLL,
    )
    BINDINGS = bindings("readings", KEYS)
    HELP = (
        "Every reading of this job. Mark one with arrows or its digit and press Enter to type "
        "what it was in truth; d takes it back altogether; a measures it again. Before "
        "anything changes you see who would be suspected and what would come next. A ? marks a "
        "reading that fits badly: measure it again."
    )

    def __init__(self, desk: Desk, assessment: Assessment | None) -> None:
        super().__init__(desk)
        self._doubts = {d.number: d for d in assessment.doubts} if assessment else {}
        self._says = ""

    def ends(self) -> tuple[str, str]:
        """How many count."""
        return "Readings of this job", f"{len(self.desk.state.entries)} count"

    def page(self) -> Page:
        """The one that fits worst, or what can be done."""
        if not self.desk.state.entries:
            return (("No reading counts yet.", ("Esc goes back to the bench.",)),)
        if not self._doubts:
            return (("No reading is in doubt.",
                     ("Enter changes the marked one, d takes it back, a measures it again.",)),)
        worst = max(self._doubts.values(), key=lambda one: one.wrong)
        return ((f"Reading {worst.number} fits worst: {percent(worst.wrong)} that it is wrong.",
                 (worst.says, "a measures the marked one again.")),)

    def rows(self) -> Iterable[Row]:
        """Those that count, then those that no longer do."""
        for entry in self.desk.state.entries:
            doubt = self._doubts.get(entry.number)
            mark = f"? {percent(doubt.wrong)} wrong  " if doubt else ""
            yield Row(str(entry.number), mark + self._row(entry), "bold" if doubt else "")
        if self.desk.state.earlier:
            yield Row("", "Taken before a repair; they no longer count")
            for entry in self.desk.state.earlier:
                yield Row("", f"  {self._row(entry)}")

    def _row(self, entry: Entry) -> str:
        test = self.desk.test(entry.test)
        return (f"no. {entry.number:<2} {reading_text(test, entry.reading):<12} "
                f"{test_says(self.desk.machine, test)}")

    def draw(self, mark: str = "") -> None:
        """Stand on the one in doubt, or on the last one."""
        entries = self.desk.state.entries
        if not mark and not self.marked and entries:
            worst = max(self._doubts.values(), key=lambda one: one.wrong, default=None)
            mark = str(worst.number if worst else entries[-1].number)
        super().draw(mark)

    def _entry(self, name: str) -> Entry | None:
        return next((e for e in self.desk.state.entries if str(e.number) == name), None)

    def chosen(self, name: str) -> None:
        """Ask what it was in truth."""
        entry = self._entry(name)
        if entry is not None:
            test = self.desk.test(entry.test)
            self.line.ask(name, "In truth")
            self.say(f"{test.does}: what was it? {choices(test)}")

    def answered(self, key: str, text: str) -> None:
        """Show what that would alter."""
        entry = self._entry(key)
        if entry is None:
            return
        test = self.desk.test(entry.test)
        try:
            reading = understood(test, text)
        except ReadingError as error:
            self.line.ask(key, "In truth", text)
            self.say(f"! {error}", CAUTION)
            return
        old, new = reading_text(test, entry.reading), reading_text(test, reading)
        self._compare(ReadingChanged(entry.number, reading),
                      f"Reading {entry.number}: {new} instead of {old}?",
                      f"Reading {entry.number} is now {new}. u changes it back.")

    def _compare(self, event: Event, asks: str, says: str) -> None:
        self._says = says
        self.say("")
        self.app.push_screen(CompareScreen(self.desk, event, asks), self._compared)

    def _compared(self, answer: str | None) -> None:
        if answer == CHANGED:
            self.dismiss(self._says)

    def action_withdraw(self) -> None:
        """Show what taking the marked one back would alter."""
        entry = self._entry(self.marked)
        if entry is not None:
            read = reading_text(self.desk.test(entry.test), entry.reading)
            self._compare(ReadingWithdrawn(entry.number),
                          f"Take reading {entry.number} ({read}) back?",
                          f"Reading {entry.number} taken back. u brings it back.")

    def action_again(self) -> None:
        """Put the test of the marked one on the bench."""
        entry = self._entry(self.marked)
        if entry is not None:
            self.dismiss(f"{AGAIN}{entry.test}")

    def action_take(self) -> None:
        """Enter outside the list."""
        if self.marked:
            self.chosen(self.marked)
