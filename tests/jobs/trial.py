"""One trial: a machine with hidden faults, a job worked off, and whether it ended right."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from faultkit.circuit.circuit import Circuit
from faultkit.job.events import Repaired
from faultkit.job.knowledge import Knowledge, know
from faultkit.job.records import JobState
from faultkit.job.step import step
from faultkit.loading import find_machine, load
from faultkit.prediction import predict
from faultkit.prediction.pairs import PairPredictor
from tests.jobs.faulty_hoist import FaultyHoist
from tests.jobs.finder import Ending, complaint, go_on, work_off

WRONG_WITHIN = 4
"""A planted wrong reading is among this many first ones."""


@dataclass(frozen=True)
class Bench:
    """A machine with everything that trials share."""

    knowledge: Knowledge
    circuit: Circuit


@dataclass(frozen=True)
class Outcome:
    """How one trial ended."""

    causes: tuple[str, ...]
    seed: int
    ending: str
    """`right`, `equal` (no test tells it from what was found), `wrong`, `tired`, or `latent`
    (nothing shows, so that nobody calls)."""
    found: tuple[str, ...]
    measurements: int
    minutes: float
    first: bool = False
    """The remedy named first was right."""
    second: bool = False
    """Of a pair: the second cause was found after the repair of the first."""


def bench(name: str, cache: Path | None) -> Bench:
    """Open a bundled machine."""
    loaded = load(find_machine(name))
    assert loaded.machine is not None, loaded.problems
    circuit = Circuit(loaded.machine)
    prediction = predict(loaded.machine, cache, circuit=circuit)
    return Bench(know(prediction, PairPredictor(prediction, circuit)), circuit)


def single(on: Bench, cause: int, seed: int, *, wrong_reading: bool = False) -> Outcome:
    """Hide one cause and find it."""
    rng = np.random.default_rng([seed, cause])
    prediction = on.knowledge.prediction
    hoist = FaultyHoist(prediction, on.circuit, (cause,), rng)
    name = (prediction.causes[cause].id,)
    told = complaint(hoist, rng)
    if not any(one.shows for one in told):
        return Outcome(name, seed, "latent", (), 0, 0.0)
    at = int(rng.integers(WRONG_WITHIN)) if wrong_reading else -1
    ending = work_off(on.knowledge, hoist, told, rng, wrong_at=at)
    return Outcome(name, seed, judged(on, hoist, ending), ending.remedies, ending.measurements,
                   ending.minutes, ending.remedies[:1] == (prediction.causes[cause].remedy,))


def judged(on: Bench, hoist: FaultyHoist, ending: Ending) -> str:
    """Tell whether a finding is right: it names a remedy of a cause that is there."""
    causes = on.knowledge.prediction.causes
    if {causes[c].remedy for c in hoist.causes} & set(ending.remedies):
        return "right"
    if not ending.remedies:
        return "tired"
    twins = [k for k, cause in enumerate(causes) if cause.remedy == ending.remedies[0]]
    if any(no_test_tells(on, hoist.rows[0][1], twin) for twin in twins):
        return "equal"
    return "wrong"


def no_test_tells(on: Bench, row: int, other: int) -> bool:
    """Tell whether no test of the machine reads differently under a row and another cause."""
    table = on.knowledge.prediction
    for twin in np.flatnonzero(table.owner == other):
        two = np.array([twin, row])
        pair = type(table)(
            machine=table.machine, causes=table.causes, tests=table.tests,
            owner=table.owner[two], share=table.share[two], value=table.value[two],
            level=table.level[two], sigma=table.sigma[two], words=table.words,
            word_p=table.word_p[two], symptoms=table.symptoms, symptom_p=table.symptom_p[two],
            by_hand=table.by_hand[two], chatters=table.chatters[two])
        if not pair.moved[0].any():
            return True
    return False


def double(on: Bench, causes: tuple[int, int], seed: int) -> Outcome:
    """Hide two causes, find one, repair it, and find the other."""
    rng = np.random.default_rng([seed, *causes])
    prediction = on.knowledge.prediction
    names = tuple(prediction.causes[c].id for c in causes)
    hoist = FaultyHoist(prediction, on.circuit, causes, rng)
    told = complaint(hoist, rng)
    if not any(one.shows for one in told):
        return Outcome(names, seed, "latent", (), 0, 0.0)
    ending = work_off(on.knowledge, hoist, told, rng)
    cures = {prediction.causes[c].remedy: c for c in causes}
    right = next((r for r in ending.remedies if r in cures), None)
    if right is None:
        return Outcome(names, seed, judged(on, hoist, ending), ending.remedies,
                       ending.measurements, ending.minutes)
    second = _second(on, ending, right, [c for c in causes if c != cures[right]], rng)
    return Outcome(names, seed, "right", ending.remedies, ending.measurements, ending.minutes,
                   ending.remedies[0] == right, second)


def _second(on: Bench, ending: Ending, right: str, left: list[int],
            rng: np.random.Generator) -> bool:
    """Repair in the order of the finding and go on with what is left in the machine."""
    prediction = on.knowledge.prediction
    if not left or prediction.causes[left[0]].remedy == right:
        return True
    hoist = FaultyHoist(prediction, on.circuit, (left[0],), rng)
    shows = hoist.shows()
    complained = [t.symptom for t in ending.state.told if t.shows]
    if all(shows[symptom] for symptom in complained):
        state: JobState = ending.state
        for remedy in ending.remedies[:ending.remedies.index(right) + 1]:
            state = step(state, Repaired(remedy, cured=False))
        after = go_on(on.knowledge, hoist, state, rng)
    elif any(seen for symptom, seen in shows.items()):
        after = work_off(on.knowledge, hoist, complaint(hoist, rng), rng)
    else:
        return True  # what is left shows nowhere: the proofs of hand-over must find it
    return judged(on, hoist, after) in ("right", "equal")
