"""The app: it holds the screens together and leaves the terminal as it found it."""

import asyncio
import signal
import sys
from collections.abc import Iterable
from typing import ClassVar

from rich.text import Text
from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.screen import Screen

from faultkit.errors import FaultkitError, UsageError
from faultkit.journal.records import JobHead
from faultkit.terminal.desk import Desk, Engine
from faultkit.terminal.house import House
from faultkit.terminal.library import Library, job_to_resume
from faultkit.terminal.screens.bench.bench import BenchScreen
from faultkit.terminal.screens.call.call import CallScreen
from faultkit.terminal.screens.complaint.complaint import ComplaintScreen
from faultkit.terminal.screens.frame import Frame
from faultkit.terminal.screens.leave.leave import LeaveScreen
from faultkit.terminal.screens.machine.machine import MachineScreen
from faultkit.terminal.screens.paper.paper import PaperScreen
from faultkit.terminal.screens.secure.secure import GO, SecureScreen
from faultkit.terminal.screens.start.start import StartScreen
from faultkit.terminal.themes import NAMES, THEMES, theme_to_start_with
from faultkit.terminal.trouble import log_file, write_down
from faultkit.terminal.wording.cautions import DECIDES, FIVE_RULES
from faultkit.terminal.wording.jobs import SHORT
from faultkit.terminal.wording.words import ASCII, PRETTY
from faultkit.vocabulary.says import harmless

SIGNALS = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name))
UNEXPECTED = 2
"""Exit code after an error that nobody foresaw."""


class FaultkitApp(House):
    """The screens of faultkit.

    Parameters
    ----------
    library : Library
        Machines to choose from.
    machine : str or None
        Open this one at once.
    resume : str or None
        Go on with this job: its id or a beginning of it, empty for the open one last worked
        on; None begins a new one.
    theme : str or None
        `dark`, `light`, `contrast` or `mono`.
    ascii_only : bool
        Draw with plain ASCII signs only.

    Raises
    ------
    FaultkitError
        There is no such job to go on with.
    """

    TITLE = "faultkit"
    CSS_PATH = "theme.tcss"
    ENABLE_COMMAND_PALETTE = True
    # the toolkit declares these as plain lists, not as ClassVar
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (80, "-usual"), (120, "-wide")]  # noqa: RUF012
    VERTICAL_BREAKPOINTS = [(0, "-low"), (30, "-tall")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f1", "explain", "help", show=False, priority=True, id="app.help"),
        Binding("ctrl+q", "quit", "quit", show=False, priority=True, id="app.quit"),
        Binding("ctrl+p", "command_palette", "all commands", show=False, priority=True,
                id="app.palette"),
        Binding("colon", "command_palette", "all commands", show=False, id="app.palette.second"),
    ]

    def __init__(
        self, library: Library, machine: str | None = None, theme: str | None = None,
        *, ascii_only: bool = False, resume: str | None = None,
    ) -> None:
        self.glyphs = ASCII if ascii_only else PRETTY
        super().__init__()
        self.library = library
        self._job = None if resume is None else job_to_resume(library, resume)
        self._first = machine or (self._job.machine if self._job else None)
        for one in THEMES:
            self.register_theme(one)
        self.theme = theme_to_start_with(theme)

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """How rules and rolling bars are drawn, for the style sheets."""
        plain = self.glyphs is ASCII
        return {"rule": "ascii" if plain else "solid", "rollbar": "0" if plain else "1"}

    def on_mount(self) -> None:
        """Show the first screen; listen to the signals that would cut us off."""
        loop = asyncio.get_running_loop()
        for number in SIGNALS:
            try:
                loop.add_signal_handler(number, self._cut_off, int(number))
            except (NotImplementedError, RuntimeError, ValueError):
                break
        self.push_screen(StartScreen())
        if self._first is not None:
            self.to_machine(self._first, self._job)

    def on_unmount(self) -> None:
        """Nobody waits for work that nobody will see."""
        self.library.close()

    def _cut_off(self, number: int) -> None:
        self.leave(128 + number)

    def leave(self, code: int = 0) -> None:
        """End; the last line in the terminal says where the job is."""
        way = self.book.way_back if self.book is not None else ""
        self.exit(return_code=code, message=Text(harmless(way)) if way else None)

    # --- the way through a job --------------------------------------------------------------

    def to_machine(self, name: str, job: JobHead | None = None) -> None:
        """Show a machine and open it."""
        self.push_screen(MachineScreen(name, job))

    def to_job(self, engine: Engine, job: JobHead | None) -> None:
        """Begin a job on an opened machine, or go on where it was left."""
        if self.desk is None or self.desk.engine is not engine or job is not None:
            if job is not None and job.machine != engine.machine.id:
                raise UsageError(f"Job {job.id[:SHORT]} is about {job.machine!r}, not about "
                                 f"{engine.machine.id!r}.")
            self.book = (self.library.begin(engine) if job is None else
                         self.library.resume(job))
            self.desk = Desk(engine, self.book.hear, self.book.noted)
        if self.desk.state.told or self.desk.state.taken or self.desk.state.repaired or (
                self.desk.state.closed is not None):
            self._to_bench()
        else:
            self._to_call()

    def _to_call(self) -> None:
        if self.desk is not None:
            self.push_screen(CallScreen(self.desk), self._called)

    def _called(self, answer: str | None) -> None:
        if answer and self.desk is not None and self.desk.state.danger:
            self.push_screen(SecureScreen(self.desk), self._secured)
        elif answer:
            self._to_complaint()

    def _secured(self, answer: str | None) -> None:
        if answer == GO:
            self._to_complaint()
        else:
            self._to_call()

    def _to_complaint(self) -> None:
        if self.desk is not None:
            self.push_screen(ComplaintScreen(self.desk), self._complained)

    def _complained(self, answer: str | None) -> None:
        if answer:
            self._to_bench()
        else:
            self._to_call()

    def _to_bench(self) -> None:
        if self.desk is not None:
            self.push_screen(BenchScreen(self.desk), self._to_start)

    def _to_start(self, _answer: str | None) -> None:
        """Back to the list of jobs and machines; the job is kept."""
        self.desk, self.book, self.who = None, None, ""
        while len(self.screen_stack) > 1 and not isinstance(self.screen, StartScreen):
            self.pop_screen()

    def trouble(self, error: BaseException | None) -> str:
        """One sentence for an error that stopped some work; the unexpected goes to a file."""
        return str(error) if isinstance(error, FaultkitError) else write_down(error)

    def _handle_exception(self, error: Exception) -> None:
        """End with the code for the unexpected."""
        super()._handle_exception(error)
        self._return_code = UNEXPECTED

    def _fatal_error(self) -> None:
        """Leave one sentence in the terminal and the traceback in the log file."""
        if not self._exit_renderables:
            way = self.book.way_back if self.book is not None else ""
            self._exit_renderables.append(Text(
                f"faultkit: {write_down(sys.exception())}" + (f"\n{harmless(way)}" if way else "")))
        self._close_messages_no_wait()

    # --- help, palette, leaving -------------------------------------------------------------

    def action_explain(self) -> None:
        """Explain the screen; on the page itself, put it away."""
        screen = self.screen
        if isinstance(screen, PaperScreen):
            screen.action_put_away()
        elif isinstance(screen, Frame):
            keys = tuple(f"{key.label:<7} {key.says}" for key in screen.KEYS)
            general = ("F1      This help", ": Ctrl+P  All commands, themes",
                       "Ctrl+Q  Leave")
            log = f"What goes wrong unexpectedly is written to {log_file()}."
            machine = self.desk.machine.cautions if self.desk else ()
            self.push_screen(PaperScreen("Help", (
                ("What to do here", (screen.HELP,)),
                ("Keys", (*keys, *general)),
                ("Before dead work",
                 tuple(f"{n}. {rule}" for n, rule in enumerate(FIVE_RULES, 1))),
                ("For the whole job", (*(f"! {c}" for c in machine), DECIDES, log)),
            )))

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Everything that can be done here, the themes, and the way out."""
        if isinstance(screen, Frame):
            for key in screen.KEYS:
                if not key.action.startswith("roll"):
                    yield SystemCommand(f"{key.words} ({key.label})", key.says,
                                        lambda action=key.action: self._run(screen, action))
        yield SystemCommand("help (F1)", "Explain this screen", self.action_explain)
        for word, name in NAMES.items():
            yield SystemCommand(f"theme {word}", f"Colours: {word}",
                                lambda name=name: setattr(self, "theme", name))
        yield SystemCommand("quit (Ctrl+Q)", "Leave faultkit", self.action_ask_to_leave)

    def _run(self, screen: Frame, action: str) -> None:
        self.call_later(screen.run_action, action)

    async def action_quit(self) -> None:
        """Leave; ask first where a job would be lost. A second time it leaves at once."""
        self.action_ask_to_leave()

    def action_ask_to_leave(self) -> None:
        """Ask whether to leave, where a job is on the desk."""
        if isinstance(self.screen, LeaveScreen) or self.desk is None or not self.desk.events:
            self.leave()
            return
        says = self.library.warning or "This job is kept; it can go on at any time."
        self.push_screen(LeaveScreen(says), lambda leave: self.leave() if leave else None)
