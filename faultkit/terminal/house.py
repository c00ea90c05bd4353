"""What the screens may ask of the app that holds them."""

from textual.app import App

from faultkit.journal.records import JobHead
from faultkit.terminal.desk import Desk, Engine
from faultkit.terminal.library import Book, Library
from faultkit.terminal.wording.words import Glyphs


class House(App[int]):
    """The app as its screens know it."""

    library: Library
    glyphs: Glyphs
    desk: Desk | None = None
    book: Book | None = None
    """Where the job on the desk is written down."""
    who: str = ""
    """Who proves and hands over, once it was said."""

    def to_machine(self, name: str, job: JobHead | None = None) -> None:
        """Show a machine and open it, to begin a job or to go on with one that is kept."""
        raise NotImplementedError

    def to_job(self, engine: Engine, job: JobHead | None) -> None:
        """Begin a job on an opened machine, or go on with one."""
        raise NotImplementedError

    def trouble(self, error: BaseException | None) -> str:
        """One sentence for an error that stopped some work; the unexpected goes to a file."""
        raise NotImplementedError
