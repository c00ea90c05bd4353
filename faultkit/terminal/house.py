"""What the screens may ask of the app that holds them."""

from textual.app import App

from faultkit.terminal.desk import Desk, Engine
from faultkit.terminal.library import Library
from faultkit.terminal.wording.words import Glyphs


class House(App[int]):
    """The app as its screens know it."""

    library: Library
    glyphs: Glyphs
    desk: Desk | None = None

    def to_machine(self, name: str) -> None:
        """Show a machine and open it."""
        raise NotImplementedError

    def to_complaint(self, engine: Engine) -> None:
        """Begin a job on an opened machine."""
        raise NotImplementedError

    def to_bench(self) -> None:
        """Go on to measuring."""
        raise NotImplementedError

    def trouble(self, error: BaseException | None) -> str:
        """One sentence for an error that stopped some work; the unexpected goes to a file."""
        raise NotImplementedError
