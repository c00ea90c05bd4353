"""The question before leaving."""

from textual.app import ComposeResult
from textual.containers import Container
from textual.screen import ModalScreen
from textual.widgets import Static

from faultkit.terminal.keys import Key, bindings

KEYS = (
    Key("y", "leave", "leave", "Leave faultkit"),
    Key("ctrl+q", "leave", "leave", "Leave faultkit"),
    Key("n", "stay", "stay", "Go on with the job"),
    Key("escape", "stay", "stay", "Go on with the job"),
)


class LeaveScreen(ModalScreen[bool]):
    """Yes or no."""

    BINDINGS = bindings("leave", KEYS)
    CSS_PATH = "leave.tcss"

    def compose(self) -> ComposeResult:
        """One question."""
        with Container(id="question"):
            yield Static("Leave? This job is not kept.\n\ny  leave\nn  go on with the job",
                         markup=False)

    def action_leave(self) -> None:
        """Leave."""
        self.dismiss(result=True)

    def action_stay(self) -> None:
        """Stay."""
        self.dismiss(result=False)
