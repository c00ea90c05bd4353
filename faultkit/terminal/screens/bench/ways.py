"""Ways from the bench to other screens, and what comes back from them."""

from collections.abc import Callable

from faultkit.job.events import Event, TestSkipped
from faultkit.job.records import Assessment, Suggestion
from faultkit.terminal.desk import Desk
from faultkit.terminal.screens.bridges.bridges import BridgesScreen
from faultkit.terminal.screens.call.call import CallScreen
from faultkit.terminal.screens.closed.closed import START, ClosedScreen
from faultkit.terminal.screens.closing.closing import ClosingScreen
from faultkit.terminal.screens.complaint.complaint import ComplaintScreen
from faultkit.terminal.screens.finding.finding import FindingScreen
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.screens.free.free import FreeScreen
from faultkit.terminal.screens.hand_back.hand_back import BRIDGES, CLOSE, HandBackScreen
from faultkit.terminal.screens.paper.paper import PaperScreen
from faultkit.terminal.screens.put_right.put_right import PutRightScreen
from faultkit.terminal.screens.readings.readings import AGAIN, ReadingsScreen
from faultkit.terminal.screens.remarks.remarks import RemarksScreen
from faultkit.terminal.screens.report.report import ReportScreen
from faultkit.terminal.screens.secure.secure import CALL, SecureScreen
from faultkit.terminal.screens.switching.switching import DONE, SwitchingScreen
from faultkit.terminal.screens.tests.tests import TestsScreen
from faultkit.terminal.screens.works.works import CLOSE as CLOSE_IT
from faultkit.terminal.screens.works.works import PROOFS, REMARK, WorksScreen
from faultkit.terminal.wording.explain import suspects_page, why_page
from faultkit.vocabulary.diagnosis import Test

WORDS = {"done": "Every step is acknowledged and noted.", "cured": "Repaired and cured.",
         "not": "Repaired, not cured. Readings from before no longer count.",
         "reopen": "The job is open again.", "go": "Noted."}
"""What is said for an answer that is no sentence itself."""


class BenchWays(Frame):
    """The part of the bench that leads elsewhere."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.assessment: Assessment | None = None
        self.chosen: str | None = None
        """The person's own choice of a test; None follows the proposal."""
        self.shown_finding: tuple[str, ...] | None = None
        """The finding that was shown last: it does not come up by itself once more."""

    @property
    def test(self) -> Test | None:
        """The test in hand."""
        raise NotImplementedError

    @property
    def suggestion(self) -> Suggestion | None:
        """Cost and outcomes of the test in hand."""
        raise NotImplementedError

    def say(self, text: str, style: str = "") -> None:
        """Put a sentence on the status line."""
        raise NotImplementedError

    def happen(self, event: Event, says: str) -> None:
        """Let an event happen and think again."""
        raise NotImplementedError

    def go_on(self, says: str, *, keep: bool = False) -> None:
        """Think again after something happened."""
        raise NotImplementedError

    def take(self, test: str | None) -> None:
        """Put another test on the bench."""
        raise NotImplementedError

    # --- there and back --------------------------------------------------------------------

    def visit(self, screen: Frame, then: Callable[[str], None] | None = None, *,
              keep: bool = False) -> None:
        """Show another screen; think again if the job is another one afterwards."""
        before = self.desk.state

        def back(answer: str | None) -> None:
            given = answer or ""
            self.mind()
            if self.desk.state != before:
                self.go_on(WORDS.get(given, given if " " in given else ""), keep=keep)
            elif " " in given:
                self.say(given)
            if then is not None:
                then(given)
            self.lead()

        self.app.push_screen(screen, back)

    def lead(self) -> None:
        """Show what must come before measuring, if there is something."""
        if not self.is_current:
            return
        if self.desk.state.closed is not None:
            self.visit(ClosedScreen(self.desk), self._left)
        elif self.desk.state.danger:
            self.action_secure()

    def _left(self, answer: str) -> None:
        if answer == START:
            self.dismiss("")

    # --- before measuring ------------------------------------------------------------------

    def action_secure(self) -> None:
        """Say how the load was secured."""
        if self.desk.state.danger:
            self.app.push_screen(SecureScreen(self.desk), self._secured)
        else:
            self.say("Nothing hangs over anybody, as far as the call-out says. k changes it.")

    def _secured(self, answer: str | None) -> None:
        self.mind()
        if answer == CALL:
            self.action_call()
        elif self.desk.state.danger:
            self.say("! Nothing is measured before the load is landed or secured: press l.",
                     "bold $error")
        else:
            self.go_on("The load is dealt with; that stands in the report.")

    def action_call(self) -> None:
        """Change the call-out."""
        self.visit(CallScreen(self.desk))

    def action_complaint(self) -> None:
        """Change the complaint."""
        self.visit(ComplaintScreen(self.desk))

    def action_switch(self) -> None:
        """Make the machine dead, or live again: as the test in hand wants it."""
        test, before = self.test, self.chosen
        needed = self.desk.needed(test.id) if test is not None else None
        change = needed or self.desk.change_to(dead=not self.desk.state.dead)
        if change is None:
            self.say("This machine describes no such state.", "bold $warning")
            return

        def back(answer: str) -> None:
            if answer != DONE:
                self.chosen = before

        if needed is not None and test is not None:
            self.chosen = test.id  # what it is made ready for stays in hand
        self.visit(SwitchingScreen(self.desk, change), back, keep=True)

    # --- which test ------------------------------------------------------------------------

    def action_skip(self) -> None:
        """Cannot get at it."""
        if self.test is not None:
            self.happen(TestSkipped(self.test.id),
                        "Left out; it is not proposed again. u takes that back.")

    def action_undo(self) -> None:
        """One step back."""
        self.go_on(self.desk.undo())
        self.mind()
        self.lead()

    def action_tests(self) -> None:
        """All tests."""
        self.app.push_screen(TestsScreen(self.desk.machine, self.desk.state, self.assessment),
                             self.take)

    def action_free(self) -> None:
        """Any two points."""
        self.app.push_screen(FreeScreen(self.desk), self.take)

    def action_readings(self) -> None:
        """All readings."""
        self.visit(ReadingsScreen(self.desk, self.assessment), self._again)

    def _again(self, answer: str) -> None:
        if answer.startswith(AGAIN):
            self.take(answer.removeprefix(AGAIN))

    # --- pages -----------------------------------------------------------------------------

    def action_why(self) -> None:
        """Why this one."""
        if self.test is not None:
            page = why_page(self.desk.machine, self.test, self.suggestion, self.desk.condition)
            self.app.push_screen(PaperScreen("Why this test", page))

    def action_suspects(self) -> None:
        """Everyone who is suspected."""
        if self.assessment is not None:
            page = suspects_page(self.desk.machine, self.assessment)
            self.app.push_screen(PaperScreen("Suspects", page))

    def action_report(self) -> None:
        """The report as it stands."""
        self.app.push_screen(ReportScreen(self.desk))

    def action_bridges(self) -> None:
        """Bridges that were found."""
        self.visit(BridgesScreen(self.desk), keep=True)

    def action_remarks(self) -> None:
        """Remarks."""
        self.visit(RemarksScreen(self.desk), keep=True)

    # --- after measuring -------------------------------------------------------------------

    def action_finding(self) -> None:
        """Look at the finding; once cured, hand back."""
        if self.desk.cured:
            self.action_hand_back()
        elif self.assessment is None or self.assessment.so_far is None:
            self.say("There is no finding yet.")
        else:
            self.app.push_screen(FindingScreen(self.desk.machine, self.assessment.so_far),
                                 self._found)

    def _found(self, answer: str | None) -> None:
        """Act on what was chosen on the finding screen."""
        what, _, name = (answer or "").partition(":")
        if what == "test":
            self.shown_finding = None  # once confirmed it is to be seen again
            self.take(name)
        elif what == "works":
            self.action_works()
        elif what == "do":
            finding = self.assessment.so_far if self.assessment else None
            self.visit(PutRightScreen(self.desk, finding, name), self._repaired)

    def _repaired(self, answer: str) -> None:
        if answer == "cured":
            self.action_hand_back()

    def action_works(self) -> None:
        """It works now."""
        self.visit(WorksScreen(self.desk), self._works)

    def _works(self, answer: str) -> None:
        if answer == PROOFS:
            self.action_hand_back()
        elif answer == CLOSE_IT:
            self.action_close()
        elif answer == REMARK:
            self.action_remarks()

    def action_hand_back(self) -> None:
        """Prove every safety function."""
        self.visit(HandBackScreen(self.desk), self._handed)

    def _handed(self, answer: str) -> None:
        if answer == CLOSE:
            self.action_close()
        elif answer == BRIDGES:
            self.action_bridges()

    def action_close(self) -> None:
        """Close the job."""
        self.visit(ClosingScreen(self.desk))
