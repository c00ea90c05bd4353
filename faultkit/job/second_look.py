"""Never change a part on one reading: the one that decides is confirmed by another.

A slip of the probe or a wrong terminal is not rare, and a repair costs more than a second look.
A finding leans on a reading when without it the finding would not be the likely one. Then the
test is proposed that tells best, for its minutes, between the finding and what would be left
without that reading, be it the same one once more.
"""

from dataclasses import dataclass, replace

import networkx as nx
import numpy as np

from faultkit.belief import Belief, Hypotheses
from faultkit.choice import Effort, Situation, bits_between, situation
from faultkit.job.records import Finding, JobState
from faultkit.prediction.table import Floats

STANDS = 0.7
"""A finding that keeps this probability without a reading does not lean on it."""
AGAIN = 0.7
"""What taking the same reading again is worth, against another test that tells as much: a hand
that went to the wrong terminal may go there again (rule of thumb, no source)."""
TELLS = 0.1
"""Bits from which on a test counts as a second look."""
NOTHING_READ = "No part is changed on the complaint alone: take this reading first."
ALWAYS = 5.0
"""Minutes that a second look may always take; more only if the repair takes twice as long."""


@dataclass(frozen=True, slots=True)
class SecondLook:
    """The test proposed before a finding is given."""

    test: str
    why: str


def second_look(state: JobState, space: Hypotheses, belief: Belief, now: Situation,
                graph: "nx.DiGraph[str]", effort: Effort, finding: Finding) -> SecondLook | None:
    """Return the test that must confirm a finding, or None if it stands by itself."""
    causes = space.prediction.causes
    mine = np.array([all(causes[c].remedy in finding.remedies for c in s.causes)
                     for s in space.suspects])
    rows = np.append(mine[space.suspect[:-1]], False)
    without = [_without(belief, k) for k in range(len(belief.weights))]
    shares = [float(one[rows].sum()) for one in without]
    if shares and min(shares) >= STANDS:
        return None
    done = {entry.test for entry in state.entries}
    doubted, again, says, once_more = belief, "", NOTHING_READ, ""
    if shares:
        weakest = int(np.argmin(shares))
        leans = state.entries[weakest]
        doubted = replace(belief, rows=without[weakest],
                          suspects=space.by_suspect(without[weakest]),
                          unknown=float(without[weakest][-1]))
        taken = sum(entry.test == leans.test for entry in state.entries)
        again = "" if taken > 1 or leans.test in state.skipped else leans.test
        says = (f"One reading alone (number {leans.number}) decides so far; this test must agree "
                "before a part is changed.")
        once_more = (f"This reading alone (number {leans.number}) decides: take it once more "
                     "before a part is changed.")
    open_now = situation(space, doubted, graph, effort, now.context, done,
                         {*state.skipped, *done}, again)
    patience = max(ALWAYS, _repair_minutes(space, finding) / 2)
    bits = bits_between(open_now, rows[open_now.forecast.rows])
    bits = bits * np.where(np.array(open_now.first) == again, AGAIN, 1.0)
    fit = (bits >= TELLS) & (open_now.minutes <= patience)
    if fit.any():
        rate = np.where(fit, bits / np.maximum(open_now.minutes, 1e-9), -1.0)
        test = open_now.first[int(rate.argmax())]
        if test != again:
            return SecondLook(test, says)
    elif not again or space.prediction.machine.tests[again].minutes > patience:
        return None
    return SecondLook(again, once_more)


def _without(belief: Belief, reading: int) -> Floats:
    """(H,) probability of each row without one of the readings."""
    log = belief.log_joint - belief.weights[reading].log
    joint = np.exp(log - log.max())
    return np.asarray(joint.sum(axis=1) / joint.sum())


def _repair_minutes(space: Hypotheses, finding: Finding) -> float:
    """Minutes of the remedy named first, with its proof."""
    remedy = space.prediction.machine.remedies[finding.remedies[0]]
    return remedy.minutes + remedy.proof
