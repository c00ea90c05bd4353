"""What every store of jobs offers, wherever it keeps them."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Protocol, TextIO

from faultkit.job.events import Event
from faultkit.journal.records import JobHead, Noted, TakenIn


class Store(Protocol):
    """A store of jobs: events are added, never changed and never removed."""

    @property
    def warning(self) -> str:
        """A sentence that must stay in sight; empty where all is well. May change at any time."""
        ...

    @property
    def keeping(self) -> bool:
        """Whether what is noted now outlives this program."""
        ...

    def begin(self, machine: str, version: str) -> str:
        """Begin a job on a machine of that version; gives the job's id."""
        ...

    def note(self, job: str, number: int, event: Event) -> Noted:
        """Keep the event with this number, counted from 1 within the job. On disk when it returns.

        The same event under the same number again changes nothing.

        Raises
        ------
        JournalError
            The number has another event (someone else goes on with the job), or one is left out.
        """
        ...

    def read(self, job: str) -> tuple[Noted, ...]:
        """Every event of a job in order; JournalError where there is no such job."""
        ...

    def head(self, job: str) -> JobHead:
        """Head of a job by its id, or by a beginning of it that no other job has.

        Raises
        ------
        JournalError
            None, or several.
        """
        ...

    def heads(self, limit: int | None = None, *, open_only: bool = False, asset: str = "",
              machine: str = "") -> tuple[JobHead, ...]:
        """Heads of jobs, the one last worked on first; all where there is no limit."""
        ...

    def confirmed(self, machine: str, asset: str = "") -> Mapping[str, int]:
        """How often each remedy cured such a machine, in jobs handed over as fit for use."""
        ...

    def export(self, out: TextIO, jobs: Sequence[str] | None = None) -> int:
        """Write jobs as JSON Lines, all of them if left out; gives the number of jobs written."""
        ...

    def take_in(self, lines: Iterable[str]) -> TakenIn:
        """Take in what `export` wrote: all of it or, where a line is no such line, nothing.

        What is there already is left as it is, so taking in twice changes nothing.

        Raises
        ------
        JournalError
            A line that cannot be understood, with its number.
        """
        ...

    def close(self) -> None:
        """Let go of the files."""
        ...
