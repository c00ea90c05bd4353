"""The store proper: what is kept, whatever database keeps it."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime
from threading import RLock
from typing import TextIO
from uuid import uuid4

from faultkit.errors import JournalError
from faultkit.job.events import Event
from faultkit.journal.bank import Bank, DamagedError, Row
from faultkit.journal.codec import from_text
from faultkit.journal.heads import COLUMNS, advance, head_of, row_of, storable
from faultkit.journal.joining import place
from faultkit.journal.lines import JOB_ID, Brought, bring, in_order_begun, write_jobs
from faultkit.journal.records import Begun, JobHead, Noted, TakenIn
from faultkit.journal.schema import (
    INSERT_EVENT,
    INSERT_HEAD,
    UPDATE_HEAD,
    begun_of,
    begun_row,
    event_row,
    head_from,
    is_whole,
    noted_of,
)
from faultkit.journal.statistics import cures
from faultkit.journal.times import now

HEAD = f"SELECT {', '.join(COLUMNS)} FROM job "
EVENTS = "SELECT job, number, at, data, seal FROM event WHERE job = ? ORDER BY number"
MANY = 1_000_000_000


class Ledger:
    """A store of jobs in a database. See `Store` for what each method does.

    Parameters
    ----------
    clock : callable
        Gives the time, with its zone.
    """

    def __init__(self, bank: Bank, clock: Callable[[], datetime] = now) -> None:
        self.bank = bank
        self.warning = ""
        self.keeping = True
        self._clock = clock
        self._alone = RLock()

    def begin(self, machine: str, version: str) -> str:
        """Begin a job; gives its id."""
        job, begun = uuid4().hex, Begun(machine, version, self._clock())
        with self._alone, self.bank.transaction():
            self._add(Brought(job, begun))
        return job

    def note(self, job: str, number: int, event: Event) -> Noted:
        """Keep the event with this number."""
        noted = Noted(number, self._clock(), event)
        row = event_row(job, noted)
        with self._alone, self.bank.transaction():
            head = self._head(job)
            if 1 <= number <= head.events:
                return same_event(job, self._brought(job).events[number - 1], event)
            check_number(job, number, head.events)
            self.bank.query(INSERT_EVENT, *row)
            self._update(advance(head, noted))
        return noted

    def read(self, job: str) -> tuple[Noted, ...]:
        """Every event of a job in order."""
        with self._alone:
            return tuple(self._brought(job).events)

    def head(self, job: str) -> JobHead:
        """Head of a job by its id or a beginning of it."""
        check_id(job)
        with self._alone:
            rows = self.bank.query(HEAD + "WHERE id >= ? AND id <= ? ORDER BY id LIMIT 2",
                                   job.ljust(32, "0"), job.ljust(32, "f"))
        if not rows:
            raise unknown_job(job)
        if len(rows) > 1:
            raise several_jobs(job)
        return head_of(rows[0])

    def brought(self, job: str) -> Brought:
        """A job with everything that happened in it."""
        with self._alone:
            return self._brought(job)

    def heads(self, limit: int | None = None, *, open_only: bool = False, asset: str = "",
              machine: str = "") -> tuple[JobHead, ...]:
        """Heads of jobs, the one last worked on first."""
        asked = {"machine = ?": storable(machine), "asset = ?": storable(asset)}
        wanted = {test: value for test, value in asked.items() if value}
        tests = " AND ".join([*wanted, *(["closed = ''"] if open_only else [])])
        sql = HEAD + (f"WHERE {tests} " if tests else "") + "ORDER BY last DESC, id DESC LIMIT ?"
        with self._alone:
            rows = self.bank.query(sql, *wanted.values(), MANY if limit is None else limit)
        return tuple(head_of(row) for row in rows)

    def confirmed(self, machine: str, asset: str = "") -> Mapping[str, int]:
        """How often each remedy cured such a machine."""
        return cures(self.heads(machine=machine, asset=asset))

    def rows(self, job: str) -> list[Row]:
        """Rows of a job as they are kept: job, number, at, data, seal."""
        with self._alone:
            return self._rows(job)

    def export(self, out: TextIO, jobs: Sequence[str] | None = None) -> int:
        """Write jobs as JSON Lines."""
        ids = jobs if jobs is not None else in_order_begun(self.heads())
        return write_jobs(out, ids, self.rows)

    def take_in(self, lines: Iterable[str]) -> TakenIn:
        """Take in what `export` wrote."""
        return self.join(bring(lines))

    def join(self, all_brought: Iterable[Brought]) -> TakenIn:
        """Take in jobs from elsewhere: all of them or, where that fails, none."""
        jobs = events = doubled = 0
        clashes = []
        with self._alone, self.bank.transaction():
            for brought in all_brought:
                where = place(brought, self._ways(brought))
                rest = brought.events[where.known:]
                doubled += where.known
                events += len(rest)
                jobs += where.new
                if where.clash:
                    clashes.append(where.clash)
                begun = Begun(brought.begun.machine, brought.begun.version, brought.begun.when,
                              where.origin)
                if where.new:
                    self._add(Brought(where.job, begun, brought.events))
                elif rest:
                    self._go_on(where.job, rest)
        return TakenIn(jobs, events, doubled, tuple(clashes))

    def close(self) -> None:
        """Let go of the database."""
        with self._alone:
            self.bank.close()

    def _add(self, brought: Brought) -> None:
        """Keep a job that is not there."""
        head = head_from(brought.job, brought.begun, brought.events)
        self.bank.query(INSERT_HEAD, *row_of(head))
        self.bank.many(INSERT_EVENT, [begun_row(brought.job, brought.begun),
                                      *(event_row(brought.job, e) for e in brought.events)])

    def _go_on(self, job: str, events: Sequence[Noted]) -> None:
        """Keep more events of a job that is there."""
        head = self._head(job)
        for noted in events:
            head = advance(head, noted)
        self.bank.many(INSERT_EVENT, [event_row(job, noted) for noted in events])
        self._update(head)

    def _update(self, head: JobHead) -> None:
        self.bank.query(UPDATE_HEAD, *row_of(head)[1:], head.id)

    def _head(self, job: str) -> JobHead:
        rows = self.bank.query(HEAD + "WHERE id = ?", job)
        if not rows:
            raise unknown_job(job)
        return head_of(rows[0])

    def _ways(self, brought: Brought) -> list[Brought]:
        """Jobs that are, or may be, the same as one that comes in."""
        origin = brought.begun.origin or brought.job
        rows = self.bank.query("SELECT id FROM job WHERE id IN (?, ?) OR origin = ? ORDER BY id",
                               brought.job, origin, origin)
        return [self._brought(job) for (job,) in rows]

    def _brought(self, job: str) -> Brought:
        """A job with everything that happened in it."""
        first, *rest = self._rows(job)
        try:
            begun = begun_of(first[2], from_text(first[3]))
            return Brought(job, begun, [noted_of(n, at, data) for _, n, at, data, _ in rest])
        except JournalError as error:
            raise JournalError(f"Job {job[:8]} cannot be read: {error.title}",
                               error.way_out) from error

    def _rows(self, job: str) -> list[Row]:
        """Rows of a job, all there and as they were written."""
        rows = self.bank.query(EVENTS, job)
        head = self.bank.query("SELECT events FROM job WHERE id = ?", job)
        if not rows and not head:
            raise unknown_job(job)
        there = all(row[1] == k and is_whole(row) for k, row in enumerate(rows))
        if not there or not head or len(rows) != head[0][0] + 1:
            raise DamagedError(f"{self.bank.name} is damaged: job {job[:8]} has lost something.")
        return rows


def unknown_job(job: str) -> JournalError:
    """Error for a job that is not there."""
    return JournalError(f"There is no job {job[:32]!r} here.", "See: faultkit jobs")


def several_jobs(job: str) -> JournalError:
    """Error for a beginning that does not say which job."""
    return JournalError(f"Several jobs begin with {job}.", "Give more of the id.")


def check_id(job: str) -> None:
    """Refuse what cannot be an id of a job, or the beginning of one."""
    if not job or not JOB_ID.fullmatch(job.ljust(32, "0")):
        raise JournalError(f"{job[:32]!r} is no id of a job.", "See: faultkit jobs")


def check_number(job: str, number: int, events: int) -> None:
    """Refuse an event that leaves one out."""
    if number != events + 1:
        raise JournalError(f"Event {number} of job {job[:8]} cannot follow event {events}.",
                           "Open the job again.")


def same_event(job: str, there: Noted, event: Event) -> Noted:
    """What is there under a number, if it is the same event; JournalError if it is another."""
    if there.event != event:
        raise JournalError(f"Someone else went on with job {job[:8]} meanwhile.",
                           "Open the job again to see what happened.")
    return there
