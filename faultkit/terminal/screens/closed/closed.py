"""A closed job: its report, a remark, or open again."""

from collections.abc import Iterable
from typing import ClassVar

from faultkit.job.events import Reopened
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.remarks.remarks import RemarksScreen
from faultkit.terminal.screens.report.report import FORMS, ReportScreen
from faultkit.terminal.screens.sheet import ROLL, ZERO, Row, Sheet
from faultkit.terminal.wording.explain import Page

READ, REMARK, REOPEN = "read", "remark", "reopen"
START = "start"


class ClosedScreen(Sheet):
    """What can be done with it. Gives `start`, or `reopen` once it is open again."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "choose", "Choose the marked row", bar=True),
        Key("escape", "leave", "to the start", "Leave this job", bar=True), *ROLL)
    BINDINGS = bindings("closed", KEYS)
    HELP = (
        "The job is closed and kept. Read its report or save it as a page to print and sign, as "
        "Markdown, or as data. A remark can still be added. Reopen it when the search goes on "
        "after all."
    )

    def ends(self) -> tuple[str, str]:
        """How it was closed."""
        closed = self.desk.state.closed
        how = closed.how if closed else "open again"
        return f"CLOSED: {how}", self.desk.machine.title

    def page(self) -> Page:
        """Who, and why."""
        closed, call = self.desk.state.closed, self.desk.state.call
        if closed is None:
            return (("This job is open.", ()),)
        where = ", ".join(part for part in (call.asset, call.site) if part)
        lines = [f"Handed over by {closed.who}."]
        lines += [f"Reason: {closed.reason}"] if closed.reason else []
        lines += [f"Machine: {where}"] if where else []
        if closed.how == "not fit for use":
            lines.append("! It stays locked off and tagged until it is put right.")
        return ((f"This job is closed: {closed.how}.", tuple(lines)),)

    def rows(self) -> Iterable[Row]:
        """Ways on."""
        yield Row(READ, "Read the report")
        for form, says in FORMS.items():
            yield Row(form, f"Save the report {says}")
        yield Row(REMARK, "Write a remark")
        yield Row(REOPEN, "Reopen the job: the search goes on")
        yield Row(ZERO, "Leave this job")

    def chosen(self, name: str) -> None:
        """Go that way."""
        if name == ZERO:
            self.dismiss(START)
        elif name == READ:
            self.app.push_screen(ReportScreen(self.desk))
        elif name in FORMS:
            self.app.push_screen(ReportScreen(self.desk, name))
        elif name == REMARK:
            self.app.push_screen(RemarksScreen(self.desk))
        elif self.tell(Reopened()):
            self.dismiss(REOPEN)

    def back(self) -> None:
        """Leave the job."""
        self.dismiss(START)

    def action_take(self) -> None:
        """Enter outside the list."""
        if self.marked:
            self.chosen(self.marked)
