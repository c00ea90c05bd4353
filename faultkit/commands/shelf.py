"""The machines that are bundled and added, and the jobs that were kept, for the terminal.

The screens get an engine as soon as the wiring is read, and the rest is computed while the
complaint is entered. On lines there is nothing to look at meanwhile: there it is waited for.
"""

from collections.abc import Callable, Mapping
from threading import Event as Signal
from threading import Thread
from typing import TYPE_CHECKING
from urllib.parse import urlsplit, urlunsplit

from faultkit.commands.book import JobBook
from faultkit.commands.opening import JobEngine, engine_of, open_machine
from faultkit.errors import FaultkitError

if TYPE_CHECKING:
    from faultkit.job.events import Event
    from faultkit.job.knowledge import Knowledge
    from faultkit.job.records import Assessment, JobState, Suggestion
    from faultkit.journal import JobHead, Store
    from faultkit.terminal.desk import Engine
    from faultkit.terminal.library import Offer
    from faultkit.vocabulary.machine import Machine

OFTEN = 20
"""Rows computed from one sentence to the next."""


class ComingEngine:
    """An engine whose knowledge is still being computed; whoever needs it waits."""

    def __init__(self, machine: "Machine", confirmed: Mapping[str, int] | None = None) -> None:
        self.machine = machine
        self._confirmed = confirmed or {}
        self.doing = "Computing every test under every fault, once ..."
        self._there = Signal()
        self._closed = False
        self._engine: JobEngine | None = None
        self._error: BaseException | None = None
        Thread(target=self._work, daemon=True).start()

    def step(self, state: "JobState", event: "Event") -> "JobState":
        """State after an event; needs no waiting."""
        from faultkit.job.step import step

        return step(state, event)

    def assess(self, state: "JobState") -> "Assessment":
        """Suspects, next tests, finding."""
        return self._wait().assess(state)

    def consider(self, state: "JobState", test: str) -> "Suggestion":
        """Cost and gain of one test."""
        return self._wait().consider(state, test)

    @property
    def knowledge(self) -> "Knowledge":
        """Everything computed; waits for it."""
        return self._wait().knowledge

    def close(self) -> None:
        """Give up computing, and let nobody wait any longer."""
        self._closed = True
        self._there.set()

    def _work(self) -> None:
        try:
            self._engine = engine_of(self.machine, self._say, OFTEN, self._confirmed)
        except Exception as error:  # noqa: BLE001 - raised again in the thread that waits
            self._error = error
        finally:
            self.doing = ""
            self._there.set()

    def _say(self, says: str) -> None:
        if self._closed:
            raise FaultkitError("The machine was closed.")
        self.doing = says

    def _wait(self) -> JobEngine:
        self._there.wait()
        if self._error is not None:
            raise self._error
        if self._engine is None:
            raise FaultkitError("The machine was closed.")
        return self._engine


class Shelf:
    """Machines by name, and jobs by id.

    Parameters
    ----------
    at_once : bool
        True: hand out engines that are still computing.
    store : str or None
        Where jobs are kept; None for the usual place.
    learned : bool
        Let repairs that cured such machines before weigh the causes.
    """

    def __init__(self, *, at_once: bool, store: str | None = None, learned: bool = True) -> None:
        self._at_once = at_once
        self._where, self._learned = store, learned
        self._store: Store | None = None
        self._opened: dict[str, ComingEngine] = {}
        self._paths: dict[str, str] = {}

    # --- machines ---------------------------------------------------------------------------

    def offers(self) -> "tuple[Offer, ...]":
        """List machines that load."""
        from faultkit.commands.machines import listed
        from faultkit.terminal.library import Offer

        return tuple(Offer(one.name, one.title, one.says) for one in listed() if one.loads)

    def open(self, name: str, say: Callable[[str], None]) -> JobEngine | ComingEngine:
        """Open one; the same one again gives the same engine."""
        if self._at_once and name in self._opened:
            return self._opened[name]
        machine = open_machine(name)
        if name != machine.id:
            self._paths[machine.id] = name
        confirmed = self._jobs.confirmed(machine.id) if self._learned else {}
        if not self._at_once:
            return engine_of(machine, say, OFTEN, confirmed)
        self._opened[name] = ComingEngine(machine, confirmed)
        return self._opened[name]

    # --- jobs -------------------------------------------------------------------------------

    @property
    def warning(self) -> str:
        """A sentence that must stay in sight; empty where all is well."""
        return self._jobs.warning

    def open_jobs(self, limit: int) -> "tuple[JobHead, ...]":
        """Jobs that are not closed, the one last worked on first."""
        return self._jobs.heads(limit, open_only=True)

    def job(self, name: str) -> "JobHead":
        """Find a job by a beginning of its id; JournalError where there is none, or several."""
        return self._jobs.head(name)

    def begin(self, engine: "Engine") -> JobBook:
        """Open a new job; nothing is kept before its first event."""
        machine = engine.machine
        return JobBook(self._jobs, machine.id, machine.version, self._options(machine.id))

    def resume(self, head: "JobHead") -> JobBook:
        """Open a job that was kept."""
        return JobBook(self._jobs, head.machine, head.version, self._options(head.machine), head)

    def close(self) -> None:
        """Let go of everything that is still being computed, and of the store."""
        for engine in self._opened.values():
            engine.close()
        store, self._store = self._store, None
        if store is not None:
            store.close()

    @property
    def _jobs(self) -> "Store":
        if self._store is None:
            from faultkit.journal import open_store

            self._store = open_store(self._where)
        return self._store

    def _options(self, machine: str) -> tuple[str, ...]:
        """What finds the same machine and the same store again."""
        path = self._paths.get(machine)
        where = without_password(self._where) if self._where else ""
        return (*((path,) if path else ()), *(("--store", where) if where else ()))


def without_password(store: str) -> str:
    """The address of a store as it may stand on a screen."""
    parts = urlsplit(store)
    if "://" not in store or parts.password is None:
        return store
    user, _, host = parts.netloc.rpartition("@")
    return urlunsplit(parts._replace(netloc=f"{user.partition(':')[0]}@{host}"))
