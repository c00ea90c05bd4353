"""A store that never stands in the way of the work.

Everything noted in this session is also held in memory. Where the place cannot take it (full,
read-only, damaged, out of reach) the job goes on in memory, the warning says so, and everything
is brought to the place as soon as it takes it again.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from contextlib import suppress
from datetime import datetime
from threading import RLock
from typing import Protocol, TextIO, TypeVar
from uuid import uuid4

from faultkit.errors import JournalError
from faultkit.job.events import Event
from faultkit.journal.bank import DamagedError, Row, UnwritableError
from faultkit.journal.heads import storable
from faultkit.journal.ledger import (
    Ledger,
    check_id,
    check_number,
    same_event,
    several_jobs,
    unknown_job,
)
from faultkit.journal.lines import Brought, bring, in_order_begun, write_jobs
from faultkit.journal.records import Begun, JobHead, Noted, TakenIn
from faultkit.journal.schema import begun_row, event_row, head_from
from faultkit.journal.statistics import cures
from faultkit.journal.times import now

T = TypeVar("T")
ATTEMPTS = 3
"""Of getting something done at a place that is damaged or exchanged meanwhile."""


class Place(Protocol):
    """Where jobs are kept, and what can be done when that does not work."""

    name: str
    news: str

    def open(self) -> Ledger:
        """Open it for writing; UnwritableError where that cannot be."""
        ...

    def rescue(self) -> None:
        """Make something usable of what is damaged; UnwritableError where that cannot be."""
        ...

    def is_there(self) -> bool:
        """Whether what was opened last is still what would be opened now."""
        ...

    def let_go(self) -> None:
        """Nobody here has it open any more."""
        ...

    def look(self) -> Ledger | None:
        """Open it for reading only; None where that cannot be."""
        ...

    def forget(self) -> None:
        """Let go of what `look` made."""
        ...


class Keeper:
    """A store at a place. See `Store` for what each method does.

    Parameters
    ----------
    spare : callable, optional
        Another store, opened only when the place cannot take anything.

    Raises
    ------
    JournalError
        The place belongs to another program, or was made by a newer faultkit.
    """

    def __init__(self, place: Place, clock: Callable[[], datetime] = now,
                 spare: "Callable[[], Keeper] | None" = None) -> None:
        self._place = place
        self._clock = clock
        self._make_spare = spare
        self._spare: Keeper | None = None
        self._alone = RLock()
        self._ledger: Ledger | None = None
        self._view: Ledger | None = None
        self._looked = False
        self._mine: dict[str, Brought] = {}
        self._ahead: set[str] = set()
        self._partings: list[str] = []
        self._refused: UnwritableError | None = None
        with suppress(UnwritableError):
            self._at_place(lambda _: None)

    @property
    def warning(self) -> str:
        """What must stay in sight."""
        says = [self._place.news, *self._partings]
        if self._refused is not None and self._spare is not None:
            why = self._refused.why
            says.append(f"{why[0].upper()}{why[1:]}. The job is kept in {self._spare.name}.")
        elif self._refused is not None:
            says.append(f"Nothing is being saved: {self._refused.why}. "
                        "The job is kept in memory only.")
        return " ".join(one for one in says if one)

    @property
    def keeping(self) -> bool:
        """Whether what is noted now outlives this program, here or in the spare store."""
        return self._refused is None or (self._spare is not None and self._spare.keeping)

    def begin(self, machine: str, version: str) -> str:
        """Begin a job; gives its id."""
        with self._alone:
            begun = Begun(machine, version, self._clock())
            job = uuid4().hex
            brought = self._mine[job] = Brought(job, begun)
            try:
                self._at_place(lambda ledger: ledger.join([brought]))
            except UnwritableError:
                self._fall_behind(brought)
            return job

    def note(self, job: str, number: int, event: Event) -> Noted:
        """Keep the event with this number."""
        with self._alone:
            mine = self._brought(job)
            try:
                noted = self._at_place(lambda ledger: ledger.note(job, number, event))
            except UnwritableError:
                return self._remember(mine, number, event)
            except JournalError:
                if job not in self._ahead:
                    self._mine.pop(job, None)  # someone else went on: read it anew
                raise
            if number == len(mine.events) + 1:
                mine.events.append(noted)
            elif number > len(mine.events):
                self._mine.pop(job, None)  # more was brought in meanwhile: read it anew
            return noted

    def read(self, job: str) -> tuple[Noted, ...]:
        """Every event of a job in order."""
        with self._alone:
            if job not in self._ahead:
                there = self._reading(lambda ledger: ledger.brought(job))
                if there is not None:
                    self._mine[job] = there
            return tuple(self._brought(job).events)

    def head(self, job: str) -> JobHead:
        """Head of a job by its id or a beginning of it."""
        check_id(job)
        with self._alone:
            found = {head.id: head for head in self._heads_ahead() if head.id.startswith(job)}
            if job in found:
                return found[job]
            try:
                there = self._reading(lambda ledger: ledger.head(job))
            except JournalError:
                if not found:
                    raise
                there = None
            if there is not None:
                found.setdefault(there.id, there)
            if len(found) > 1:
                raise several_jobs(job)
            for head in found.values():
                return head
            raise unknown_job(job)

    def heads(self, limit: int | None = None, *, open_only: bool = False, asset: str = "",
              machine: str = "") -> tuple[JobHead, ...]:
        """Heads of jobs, the one last worked on first."""
        with self._alone:
            there = self._reading(lambda ledger: ledger.heads(
                limit, open_only=open_only, asset=asset, machine=machine)) or ()
            if not self._ahead:
                return there
            found = [head for head in there if head.id not in self._ahead]
            found += [head for head in self._heads_ahead()
                      if not (open_only and head.closed)
                      and asset in ("", head.asset) and machine in ("", head.machine)]
        return tuple(sorted(found, key=lambda head: (head.last, head.id), reverse=True)[:limit])

    def confirmed(self, machine: str, asset: str = "") -> Mapping[str, int]:
        """How often each remedy cured such a machine."""
        return cures(self.heads(machine=storable(machine), asset=storable(asset)))

    def export(self, out: TextIO, jobs: Sequence[str] | None = None) -> int:
        """Write jobs as JSON Lines."""
        ids = jobs if jobs is not None else in_order_begun(self.heads())
        return write_jobs(out, ids, self._rows)

    def take_in(self, lines: Iterable[str]) -> TakenIn:
        """Take in what `export` wrote."""
        return self.join(list(bring(lines)))

    def join(self, brought: Sequence[Brought]) -> TakenIn:
        """Take in jobs from elsewhere: all of them or, where that fails, none."""
        with self._alone:
            return self._at_place(lambda ledger: ledger.join(brought))

    def close(self) -> None:
        """Bring what is ahead to the place, if it takes it now, and let go of everything."""
        with self._alone:
            if self._ahead:
                with suppress(JournalError):
                    self._at_place(lambda _: None)
            self._let_go()
            if self._view is not None:
                self._view.close()
            self._place.forget()
            if self._spare is not None:
                self._spare.close()

    @property
    def name(self) -> str:
        """Where it is."""
        return self._place.name

    def _at_place(self, work: Callable[[Ledger], T]) -> T:
        """Do something at the place; UnwritableError stays in sight until something succeeds."""
        try:
            done = self._insist(work)
        except UnwritableError as error:
            self._refused = error
            raise
        self._refused = None
        return done

    def _insist(self, work: Callable[[Ledger], T]) -> T:
        """Do something at the place; whatever stands in its way is dealt with, if it can be."""
        for _ in range(ATTEMPTS):
            try:
                done = work(self._open())
            except DamagedError:
                self._let_go()
                self._ahead.update(self._mine)
                self._place.rescue()
                continue
            if self._place.is_there():
                return done
            # another file got this name meanwhile: do it again in that one
        raise UnwritableError(self.name, "the store is damaged and could not be rescued")

    def _open(self) -> Ledger:
        """Ledger at the place, with everything from this session in it."""
        if self._ledger is not None and not self._place.is_there():
            self._let_go()
            self._ahead.update(self._mine)
        if self._ledger is None:
            self._ledger = self._place.open()
        if self._ahead:
            took = self._ledger.join([self._mine[job] for job in sorted(self._ahead)])
            self._partings.extend(took.clashes)
            self._ahead.clear()
        return self._ledger

    def _reading(self, work: Callable[[Ledger], T]) -> T | None:
        """Ask the place, though nothing can be written there; None where it cannot be asked."""
        try:
            return self._at_place(work)
        except UnwritableError:
            if self._ledger is None and not self._looked:
                self._looked, self._view = True, self._place.look()
            source = self._ledger or self._view
            if source is None:
                return None
        try:
            return work(source)
        except (DamagedError, UnwritableError):
            return None

    def _brought(self, job: str) -> Brought:
        if job not in self._mine:
            there = self._reading(lambda ledger: ledger.brought(job))
            if there is None:
                raise unknown_job(job)
            self._mine[job] = there
        return self._mine[job]

    def _rows(self, job: str) -> Sequence[Row]:
        with self._alone:
            rows = None if job in self._ahead else self._reading(lambda ledger: ledger.rows(job))
            if rows is not None:
                return rows
            mine = self._brought(job)
            return [begun_row(job, mine.begun), *(event_row(job, one) for one in mine.events)]

    def _heads_ahead(self) -> list[JobHead]:
        return [head_from(job, self._mine[job].begun, self._mine[job].events)
                for job in sorted(self._ahead)]

    def _remember(self, mine: Brought, number: int, event: Event) -> Noted:
        """Keep an event in memory."""
        if 1 <= number <= len(mine.events):
            return same_event(mine.job, mine.events[number - 1], event)
        check_number(mine.job, number, len(mine.events))
        noted = Noted(number, self._clock(), event)
        event_row(mine.job, noted)  # what could not be kept is refused here too
        mine.events.append(noted)
        self._fall_behind(mine)
        return noted

    def _fall_behind(self, mine: Brought) -> None:
        """The place lacks something of this job."""
        self._ahead.add(mine.job)
        if self._make_spare is not None and self._spare is None:
            self._spare = self._make_spare()
        if self._spare is not None:
            with suppress(JournalError):
                self._spare.join([mine])

    def _let_go(self) -> None:
        if self._ledger is not None:
            self._ledger.close()
            self._ledger = None
        self._place.let_go()
