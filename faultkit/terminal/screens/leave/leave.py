"""The question before leaving."""

from textual.app import ComposeResult
from textual.containers import Container
from textual.screen import ModalScreen

from faultkit.terminal.keys import Key, bindings
from faultkit.terminal.widgets.says import Says

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

    def __init__(self, says: str) -> None:
        super().__init__()
        self._says = says

    def compose(self) -> ComposeResult:
        """One question."""
        with Container(id="question"):
            yield Says(f"Leave? {self._says}\n\nMake the machine safe before you go.\n\n"
                       "y  leave\nn  go on with the job")

    def action_leave(self) -> None:
        """Leave."""
        self.dismiss(result=True)

    def action_stay(self) -> None:
        """Stay."""
        self.dismiss(result=False)
