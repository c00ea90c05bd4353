"""The machine: what it is, what holds for the whole job. Opened while one reads."""

from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.worker import Worker, WorkerCancelled, WorkerState, get_current_worker

from faultkit.errors import FaultkitError
from faultkit.journal.records import JobHead
from faultkit.terminal.desk import Engine
from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.screens.paper.paper import PageText
from faultkit.terminal.widgets.bars import KeyBar, TopBar
from faultkit.terminal.widgets.says import Says
from faultkit.terminal.wording.cautions import DECIDES, FIVE_RULES, LAND_FIRST, NEVER
from faultkit.terminal.wording.explain import Page
from faultkit.terminal.wording.jobs import SHORT
from faultkit.vocabulary.machine import Machine

USUAL: Page = (
    ("Before anything else", (f"! {LAND_FIRST} Is a load on the hook?", f"! {NEVER}")),
    ("Before dead work", tuple(f"{n}. {rule}" for n, rule in enumerate(FIVE_RULES, 1))),
    ("Who decides", (DECIDES, "Live work only where local rules allow it.")),
)


class MachineScreen(Frame):
    """Read the cautions while the machine is opened, then go on."""

    KEYS: ClassVar[tuple[Key, ...]] = (
        Key("enter", "go_on", "go on", "Go on to the job", bar=True),
        Key("down", "roll(1)", "read on", "Roll the page", bar=True),
        Key("up", "roll(-1)", "read back", "Roll the page back"),
        Key("pagedown", "roll(8)", "read on", "Roll the page"),
        Key("pageup", "roll(-8)", "read back", "Roll the page back"),
        Key("escape", "back", "back", "Back to the choice of machines", bar=True),
    )
    BINDINGS = bindings("machine", KEYS)
    CSS_PATH = "machine.tcss"
    AUTO_FOCUS = ""
    HELP = (
        "The machine is opened: its wiring is read. What every measurement would show under "
        "every fault is computed meanwhile; the first time this takes up to a minute, later it "
        "is quick. Read the cautions, then press Enter: it need not be waited for."
    )

    def __init__(self, name: str, job: JobHead | None = None) -> None:
        super().__init__()
        self.name_asked, self._job = name, job
        self.engine: Engine | None = None

    def compose(self) -> ComposeResult:
        """Page and state of the work."""
        yield TopBar()
        with VerticalScroll(id="page", can_focus=False):
            yield PageText(USUAL)
        yield Says("Reading the wiring ...", id="progress")
        yield KeyBar(self.KEYS)

    def on_mount(self) -> None:
        """Open it away from the screen."""
        self.top(self.name_asked, "opening ...")
        self._open()

    @work(thread=True, exclusive=True, group="opening", exit_on_error=False)
    def _open(self) -> Engine:
        worker = get_current_worker()

        def say(says: str) -> None:
            if worker.is_cancelled:
                raise WorkerCancelled
            self.app.call_from_thread(self._progress, says)

        return self.house.library.open(self.name_asked, say)

    def _progress(self, says: str) -> None:
        self.query_one("#progress", Says).say(says)

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """Ready, or a reason why not."""
        if event.state is WorkerState.ERROR:
            self.top(self.name_asked, "not opened")
            self.query_one("#progress", Says).say(
                f"! {self.house.trouble(event.worker.error)} Esc goes back.", "bold $error")
        elif event.state is WorkerState.SUCCESS and event.worker.result is not None:
            self.engine = event.worker.result
            self._ready(self.engine.machine)

    def _ready(self, machine: Machine) -> None:
        self.top(machine.title, "ready")
        about: list[str] = [machine.says, f"Supply: {machine.supply}"]
        about.append(f"{len(machine.devices)} devices, {len(machine.causes)} faults described, "
                     f"{len(machine.tests)} tests.")
        text = self.query_one(PageText)
        cautions = tuple(f"! {caution}" for caution in machine.cautions)
        text.page = ((machine.title, tuple(filter(None, about))),
                     *((("For the whole job", cautions),) if cautions else ()), *USUAL)
        text.refresh(layout=True)
        self._progress("Ready. Enter: the call-out." if self._job is None else
                       f"Ready. Enter: go on with job {self._job.id[:SHORT]}.")

    def action_go_on(self) -> None:
        """To the job, if opened."""
        if self.engine is None:
            return
        try:
            self.house.to_job(self.engine, self._job)
        except FaultkitError as error:
            self.query_one("#progress", Says).say(f"! {error} Esc goes back.", "bold $error")

    def action_roll(self, lines: int) -> None:
        """Roll."""
        self.query_one("#page").scroll_relative(y=lines, animate=False)

    def action_back(self) -> None:
        """Back to the start."""
        self.dismiss("")
