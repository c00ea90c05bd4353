"""What the fronts are handed by the commands: machines to open, and jobs that are kept."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from faultkit.errors import UsageError
from faultkit.job.events import Event
from faultkit.journal.records import JobHead, Noted
from faultkit.terminal.desk import Engine


@dataclass(frozen=True, slots=True)
class Offer:
    """A machine that can be opened."""

    name: str
    """What to hand to `Library.open`: a bundled name or a path."""
    title: str
    says: str


class Book(Protocol):
    """Where one job is written down."""

    @property
    def noted(self) -> tuple[Noted, ...]:
        """What happened so far."""
        ...

    @property
    def way_back(self) -> str:
        """A sentence that says where the job is; empty while nothing of it was kept."""
        ...

    def hear(self, event: Event) -> None:
        """Keep an event; FaultkitError where that cannot be."""
        ...

    def report(self, engine: Engine) -> str:
        """Write the report as Markdown text."""
        ...

    def save_report(self, engine: Engine, form: str) -> str:
        """Write the report (`md`, `html`, `json`) into a new file; says where it is."""
        ...


class Library(Protocol):
    """Machines and jobs, without a word on where they come from."""

    @property
    def warning(self) -> str:
        """A sentence that must stay in sight, such as that nothing is saved; empty if all is well.

        It may change with every event that is kept.
        """
        ...

    def offers(self) -> tuple[Offer, ...]:
        """List what can be opened."""
        ...

    def open(self, name: str, say: Callable[[str], None]) -> Engine:
        """Load a machine and see to what it needs computed; FaultkitError where it cannot.

        `say` is called with a short sentence whenever a longer piece of work begins.
        """
        ...

    def open_jobs(self, limit: int) -> tuple[JobHead, ...]:
        """Jobs that are not closed, the one last worked on first."""
        ...

    def job(self, name: str) -> JobHead:
        """Find a job by a beginning of its id; FaultkitError where there is none, or several."""
        ...

    def begin(self, engine: Engine) -> Book:
        """Open a new job; nothing is kept before its first event."""
        ...

    def resume(self, head: JobHead) -> Book:
        """Open a job that was kept."""
        ...

    def close(self) -> None:
        """Let go of work that still goes on in the background, and of the store."""
        ...


def job_to_resume(library: Library, asked: str) -> JobHead:
    """Find the job that a person wants to go on with.

    Parameters
    ----------
    library : Library
    asked : str
        Its id or a beginning of it; empty for the open one last worked on.

    Raises
    ------
    FaultkitError
        There is none, or several.
    """
    if asked:
        return library.job(asked)
    heads = library.open_jobs(1)
    if not heads:
        raise UsageError("No job is open.", "Leave --resume out to begin one.")
    return heads[0]
