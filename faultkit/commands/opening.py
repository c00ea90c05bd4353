"""From the name of a machine to everything that is computed from it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from faultkit.commands.output import say as narrate
from faultkit.errors import KnowledgeError

if TYPE_CHECKING:
    from faultkit.job.events import Event
    from faultkit.job.knowledge import Knowledge
    from faultkit.job.records import Assessment, JobState, Suggestion
    from faultkit.vocabulary.machine import Machine

LISTED = 5
"""Problems shown of a machine that does not load."""


def open_machine(name: str) -> "Machine":
    """Load a machine by its name or path.

    Raises
    ------
    FaultkitError
        It is not there, cannot be read, or does not load.
    """
    from faultkit.loading import find_machine, load

    path = find_machine(name)
    loaded = load(path)
    if loaded.machine is None:
        errors = [one for one in loaded.problems if one.severity == "error"]
        first = "; ".join(f"{one.origin}: {one.says}" for one in errors[:LISTED])
        errs = "1 error" if len(errors) == 1 else f"{len(errors)} errors"
        raise KnowledgeError(f"{name!r} has {errs}. {first}",
                             f"Run: faultkit check {name}")
    return loaded.machine


def cache_folder() -> Path:
    """Where computed tables are kept."""
    import platformdirs

    return Path(platformdirs.user_cache_dir("faultkit", appauthor=False)) / "tables"


@dataclass(frozen=True, slots=True)
class JobEngine:
    """What the terminal works a job out with."""

    knowledge: "Knowledge"

    @property
    def doing(self) -> str:
        """Nothing goes on in the background."""
        return ""

    @property
    def machine(self) -> "Machine":
        """The machine."""
        return self.knowledge.machine

    def step(self, state: "JobState", event: "Event") -> "JobState":
        """State after an event; a test or symptom that the machine lacks is refused."""
        from faultkit.job.step import step

        return step(state, event)

    def assess(self, state: "JobState") -> "Assessment":
        """Suspects, next tests, finding."""
        from faultkit.job.assess import assess

        return assess(state, self.knowledge)

    def consider(self, state: "JobState", test: str) -> "Suggestion":
        """Cost and gain of one test."""
        from faultkit.job.assess import consider

        return consider(state, self.knowledge, test)


def open_engine(name: str, say: Callable[[str], None] = narrate, every: int = 100) -> JobEngine:
    """Load a machine and work out what `engine_of` does; FaultkitError where it cannot be."""
    return engine_of(open_machine(name), say, every)


def engine_of(machine: "Machine", say: Callable[[str], None], every: int,
              confirmed: Mapping[str, int] | None = None) -> JobEngine:
    """Compute, or fetch, what every test reads under every cause.

    `say` is told of it each time that about `every` rows are made; what it raises ends it.
    `confirmed` tells how often each remedy cured such a machine before.

    Raises
    ------
    FaultkitError
        The circuit cannot be solved.
    """
    from faultkit.belief import learned_from
    from faultkit.circuit.circuit import Circuit
    from faultkit.job.knowledge import know
    from faultkit.prediction import predict
    from faultkit.prediction.pairs import PairPredictor
    from faultkit.prediction.workers import cores

    circuit = Circuit(machine)

    told = 0

    def progress(done: int, whole: int) -> None:
        nonlocal told
        if done >= told + every:
            told = done
            say(f"Computing every test under every fault, once: {done} of {whole} ...")

    def unkept(why: str) -> None:
        say(f"The table cannot be kept in {cache_folder()} ({why.lower()}): it will be computed "
            "anew each time.")

    prediction = predict(machine, cache_folder(), circuit=circuit, narrate=progress,
                         unkept=unkept, processes=cores())
    learned = learned_from(prediction.causes, confirmed) if confirmed else None
    return JobEngine(know(prediction, PairPredictor(prediction, circuit), learned))


def known(what: str, name: str, names: "list[str]") -> str:
    """Give a name that is among those known, or say which was probably meant.

    Raises
    ------
    FaultkitError
        There is no such name.
    """
    from faultkit.errors import UsageError
    from faultkit.vocabulary.near_miss import did_you_mean

    if name in names:
        return name
    raise UsageError(f"This machine has no {what} {name!r}.", did_you_mean(name, names))
