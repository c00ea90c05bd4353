"""Works a job off by following every proposal, and says how it ended."""

from dataclasses import dataclass

import numpy as np

from faultkit.job.assess import assess
from faultkit.job.events import ReadingTaken, SymptomTold
from faultkit.job.knowledge import Knowledge
from faultkit.job.records import Assessment, JobState
from faultkit.job.step import step
from faultkit.vocabulary.diagnosis import Reading
from tests.jobs.faulty_hoist import FaultyHoist

PATIENCE = 40
"""Measurements after which a job counts as not solved."""
WORKING = 2
"""Functions that the operator says do work."""


@dataclass(frozen=True)
class Ending:
    """How a job ended."""

    kind: str
    remedies: tuple[str, ...]
    measurements: int
    minutes: float
    state: JobState
    assessment: Assessment


def complaint(hoist: FaultyHoist, rng: np.random.Generator) -> list[SymptomTold]:
    """One symptom that shows, and functions that work, as an operator would tell."""
    shows = hoist.shows()
    healthy = dict(zip(hoist.prediction.symptoms, hoist.prediction.symptom_p[-1], strict=True))
    there = [s for s, seen in shows.items() if seen and healthy[s] < 0.5]
    fine = [s for s, seen in shows.items() if not seen and healthy[s] < 0.5]
    told = [SymptomTold(str(rng.choice(there)), shows=True)] if there else []
    chosen = [str(s) for s in rng.permutation(fine)[:WORKING]] if fine else []
    return told + [SymptomTold(s, shows=False) for s in chosen]


def work_off(knowledge: Knowledge, hoist: FaultyHoist, told: list[SymptomTold],
             rng: np.random.Generator, wrong_at: int = -1) -> Ending:
    """Follow every proposal to the finding; the reading number `wrong_at` is wrong."""
    state = JobState(knowledge.machine.id)
    for one in told:
        state = step(state, one)
    return go_on(knowledge, hoist, state, wrong_at=wrong_at, rng=rng)


def go_on(knowledge: Knowledge, hoist: FaultyHoist, state: JobState,
          rng: np.random.Generator, wrong_at: int = -1) -> Ending:
    """Measure on from a state until there is a finding."""
    minutes = 0.0
    count = 0
    while True:
        now = assess(state, knowledge)
        if now.finding is not None and now.finding.kind != "none":
            return Ending(now.finding.kind, now.finding.remedies, count, minutes, state, now)
        if not now.next or count >= PATIENCE:
            kind = now.finding.kind if now.finding else "tired"
            return Ending(kind, (), count, minutes, state, now)
        proposal = now.next[0]
        reading = hoist.read(knowledge.machine.tests[proposal.test])
        if count == wrong_at:
            reading = wrong(knowledge, proposal.test, reading, rng)
        state = step(state, ReadingTaken(proposal.test, reading))
        minutes += proposal.minutes
        count += 1


def wrong(knowledge: Knowledge, test: str, true: Reading, rng: np.random.Generator) -> Reading:
    """Return another reading that this test could give, as after a slip of the probe."""
    column = [t.id for t in knowledge.prediction.tests].index(test)
    words = knowledge.prediction.words[column]
    if words:
        others = [w for w in words if w != true.word]
        return Reading(None, str(rng.choice(others)))
    values = knowledge.prediction.value[:, column]
    values = values[~np.isnan(values)]
    assert true.value is not None
    far = [v for v in values if np.isinf(v) != np.isinf(true.value)
           or (np.isfinite(v) and abs(v - true.value) > 0.2 * max(abs(true.value), 1.0))]
    return Reading(float(rng.choice(far))) if far else true
