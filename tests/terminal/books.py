"""Jobs kept in memory, with a clock of our own, for the tests of the fronts."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta

from faultkit.errors import UsageError
from faultkit.job.events import Event
from faultkit.journal.records import JobHead, Noted
from faultkit.terminal.desk import Engine

BEGUN = datetime(2031, 3, 4, 7, 15, tzinfo=UTC)


def noted(events: Iterable[Event], begun: datetime = BEGUN) -> tuple[Noted, ...]:
    """Events as a journal would give them back, five minutes apart."""
    return tuple(Noted(number, begun + timedelta(minutes=5 * number), event)
                 for number, event in enumerate(events, 1))


def head(job: str = "3f2a91c0aa", machine: str = "winch", asset: str = "", site: str = "",
         complaint: str = "") -> JobHead:
    """The head of a job that is open."""
    return JobHead(job, machine, "1", BEGUN, BEGUN + timedelta(hours=1), 4, asset, site, complaint)


@dataclass
class MemoryBook:
    """A book that keeps what it hears, or refuses to."""

    job: str
    kept: list[Noted] = field(default_factory=list)
    refuses: Exception | None = None
    text: Callable[[list[Noted]], str] = field(default=lambda kept: f"# Report\n\n{len(kept)}\n")
    saved: list[str] = field(default_factory=list)

    @property
    def noted(self) -> tuple[Noted, ...]:
        return tuple(self.kept)

    @property
    def way_back(self) -> str:
        return f"The job is kept: faultkit find --resume {self.job[:8]}" if self.kept else ""

    def hear(self, event: Event) -> None:
        if self.refuses is not None:
            raise self.refuses
        number = len(self.kept) + 1
        self.kept.append(Noted(number, BEGUN + timedelta(minutes=5 * number), event))

    def report(self, engine: Engine) -> str:  # noqa: ARG002 - as the protocol has it
        return self.text(self.kept)

    def save_report(self, engine: Engine, form: str) -> str:  # noqa: ARG002 - as the protocol has it
        self.saved.append(form)
        return f"Saved: faultkit-{self.job[:8]}.{form}"


@dataclass(kw_only=True)
class MemoryJobs:
    """Jobs that were kept, and the one begun last."""

    warning: str = ""
    heads: tuple[JobHead, ...] = ()
    kept: dict[str, list[Noted]] = field(default_factory=dict)
    book: MemoryBook = field(default_factory=lambda: MemoryBook("0b1e55ed00"))

    def open_jobs(self, limit: int) -> tuple[JobHead, ...]:
        return self.heads[:limit]

    def job(self, name: str) -> JobHead:
        for one in self.heads:
            if one.id.startswith(name):
                return one
        raise UsageError(f"There is no job {name!r}.")

    def begin(self, engine: Engine) -> MemoryBook:  # noqa: ARG002 - as the protocol has it
        return self.book

    def resume(self, head: JobHead) -> MemoryBook:
        self.book = replace(self.book, job=head.id, kept=list(self.kept.get(head.id, ())))
        return self.book
