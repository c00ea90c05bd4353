"""The machines that are bundled and added, for the terminal to choose from.

The screens get an engine as soon as the wiring is read, and the rest is computed while the
complaint is entered. On lines there is nothing to look at meanwhile: there it is waited for.
"""

from collections.abc import Callable
from threading import Event as Signal
from threading import Thread
from typing import TYPE_CHECKING

from faultkit.commands.opening import JobEngine, engine_of, open_engine, open_machine
from faultkit.errors import FaultkitError

if TYPE_CHECKING:
    from faultkit.job.events import Event
    from faultkit.job.records import Assessment, JobState, Suggestion
    from faultkit.terminal.library import Offer
    from faultkit.vocabulary.machine import Machine

OFTEN = 20
"""Rows computed from one sentence to the next."""


class ComingEngine:
    """An engine whose knowledge is still being computed; whoever needs it waits."""

    def __init__(self, machine: "Machine") -> None:
        self.machine = machine
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

    def close(self) -> None:
        """Give up computing, and let nobody wait any longer."""
        self._closed = True
        self._there.set()

    def _work(self) -> None:
        try:
            self._engine = engine_of(self.machine, self._say, OFTEN)
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
    """Machines by name.

    Parameters
    ----------
    at_once : bool
        True: hand out engines that are still computing.
    """

    def __init__(self, *, at_once: bool) -> None:
        self._at_once = at_once
        self._opened: dict[str, ComingEngine] = {}

    def offers(self) -> "tuple[Offer, ...]":
        """List machines that load."""
        from faultkit.commands.machines import listed
        from faultkit.terminal.library import Offer

        return tuple(Offer(one.name, one.title, one.says) for one in listed() if one.loads)

    def open(self, name: str, say: Callable[[str], None]) -> JobEngine | ComingEngine:
        """Open one; the same one again gives the same engine."""
        if not self._at_once:
            return open_engine(name, say, every=OFTEN)
        if name not in self._opened:
            self._opened[name] = ComingEngine(open_machine(name))
        return self._opened[name]

    def close(self) -> None:
        """Let go of everything that is still being computed."""
        for engine in self._opened.values():
            engine.close()
