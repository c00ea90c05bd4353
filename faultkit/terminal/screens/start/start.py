"""The start: which job goes on, or which machine stands still."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import OptionList

from faultkit.errors import FaultkitError
from faultkit.journal.records import JobHead
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.drawn import cut, wrapped
from faultkit.terminal.widgets.pick import DIGITS, PickList
from faultkit.terminal.widgets.says import Says
from faultkit.terminal.wording.cautions import DECIDES, NEVER
from faultkit.terminal.wording.jobs import job_lines

JOBS = 5
"""Open jobs offered at once."""
JOB, MACHINE = "job:", "machine:"
NOTHING = "No machine is bundled or added. Start faultkit find PATH to open one."


class StartScreen(Frame):
    """Choose a job to go on with, or a machine."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "take", "choose", "Choose the marked job or machine", bar=True),
        Key("q", "app.quit", "quit", "Leave faultkit", bar=True),
    )
    BINDINGS = bindings("start", KEYS)
    CSS_PATH = "start.tcss"
    AUTO_FOCUS = "#machines"
    HELP = (
        "Go on with a job that is open, or choose the machine that stands still: press the "
        "digit, or mark it with the arrows and press Enter. Older jobs: leave with q and type "
        "faultkit jobs. To open a machine that is not in the list, start faultkit find "
        "followed by the folder of its YAML files."
    )

    def __init__(self) -> None:
        super().__init__()
        self._jobs: dict[str, JobHead] = {}

    def compose(self) -> ComposeResult:
        """Question, jobs and machines, caution."""
        yield TopBar()
        yield Says("Which machine stands still?", id="question")
        yield PickList("machines")
        yield Says("", id="caution")
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Name the place; the list follows when its room is known."""
        self.top("faultkit", "a hoist stands still")
        self.query_one("#caution", Says).say(f"! {NEVER} {DECIDES}", "bold $warning")

    def on_screen_resume(self) -> None:
        """List anew: a job may have been begun or closed meanwhile."""
        self.call_after_refresh(self._fill)

    def on_resize(self) -> None:
        """Rows are cut to the width."""
        self.call_after_refresh(self._fill)

    def _fill(self) -> None:
        machines = self.query_one("#machines", PickList)
        width = max(machines.size.width - 6, 30)
        more = self.house.glyphs.more
        machines.clear_options()
        machines.digits = {}
        digits = iter(DIGITS)
        jobs, offers = self._open_jobs(), self.house.library.offers()
        self._jobs = {f"{JOB}{head.id}": head for head in jobs}
        if jobs:
            machines.row(None, Content.styled("Go on with an open job", "bold $primary"),
                         disabled=True)
        for name, head in self._jobs.items():
            first, second = job_lines(head)
            self._row(machines, name, next(digits, " "), first, [cut(second, width, more)])
        if jobs and offers:
            machines.row(None, Content.styled("Begin a job on", "bold $primary"), disabled=True)
        for offer in offers:
            self._row(machines, f"{MACHINE}{offer.name}", next(digits, " "), offer.title,
                      wrapped(offer.says, width, 1 if jobs else 2, more))
        self.query_one("#question", Says).say(self._question(jobs, bool(offers)))
        if machines.option_count:
            machines.highlighted = 1 if jobs else 0

    @staticmethod
    def _row(machines: PickList, name: str, digit: str, says: str, below: list[str]) -> None:
        if digit != " ":
            machines.digits[digit] = name
        rows = "\n".join(f"   {row}" for row in below)
        machines.row(name, Content.assemble((f"{digit}  {says}", "bold"), "\n", rows))

    @staticmethod
    def _question(jobs: tuple[JobHead, ...], offers: bool) -> str:
        if jobs:
            return "Go on, or: which machine stands still?"
        return "Which machine stands still?" if offers else NOTHING

    def _open_jobs(self) -> tuple[JobHead, ...]:
        try:
            return self.house.library.open_jobs(JOBS)
        except FaultkitError as error:
            self.query_one("#caution", Says).say(f"! {error}", "bold $error")
            return ()

    @on(OptionList.OptionSelected, "#machines")
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        name = event.option_id or ""
        job = self._jobs.get(name)
        self.house.to_machine(job.machine if job else name.removeprefix(MACHINE), job)

    def action_take(self) -> None:
        """Enter outside the list."""
        self.query_one("#machines", PickList).action_select()
