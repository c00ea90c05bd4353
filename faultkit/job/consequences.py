"""What must be minded before a finding is put right: bridges, and fuses that would blow again."""

import numpy as np

from faultkit.belief import Belief, Hypotheses
from faultkit.job.records import JobState
from faultkit.prediction.rows import fuses_of
from faultkit.prediction.table import APART, Floats, Ints, Prediction
from faultkit.vocabulary.diagnosis import Cause, Test

NAMED = 3
"""Causes named in one warning."""
PROPOSED = 2
"""Tests named before a new fuse goes in."""
LEFT = 1e-6
"""A cause at least this probable could still have blown the fuse."""
SELDOM = "A fuse seldom blows by itself"
BEHIND_IT = ("measure the resistance behind it to the return wire and to earth, on the dead "
             "machine")
"""What shows a short where no test described does (common practice, no source)."""
WITHOUT_CAUSE = (f"{SELDOM}, and nothing described that blows {{fuse}} is left. Before a new one "
                 f"goes in: {BEHIND_IT}.")
SAYS = 0.5
"""Share of the words that must be others before a look shows anything."""


def warnings_of(state: JobState, space: Hypotheses, belief: Belief,
                causes: tuple[Cause, ...]) -> tuple[str, ...]:
    """Sentences that go with a finding of these causes."""
    table = space.prediction
    said = [f"{cause.says}: a safety function is defeated. It must be put right and proved before "
            "hand-over." for cause in causes if cause.critical]
    for k, fuse in enumerate(fuses_of(table.machine)):
        if not table.blows.size:
            break
        blown = [c for c in causes if _blown(c, fuse)]
        if blown:
            said += _blows_again(state, space, belief, k, blown[0])
        by = [c for c in causes
              if c.device != fuse and (table.blows[_rows(table, c), k] >= 0).any()]
        if by:
            said.append(f"{by[0].says}: it blows {_named(table, fuse)}. Put it right first, then "
                        "fit a fuse of the same rating and kind.")
    return tuple(dict.fromkeys(said))


def _rows(table: Prediction, cause: Cause) -> Ints:
    return np.flatnonzero(table.owner == table.causes.index(cause))


def _blows_again(state: JobState, space: Hypotheses, belief: Belief, k: int,
                 found: Cause) -> list[str]:
    """Warn of what would blow a new fuse, and name tests that show it on a dead machine."""
    table, fuse = space.prediction, found.device
    blowing = {int(owner) for owner in table.owner[table.blows[:, k] >= 0]
               if owner >= 0 and table.causes[int(owner)].device != fuse}
    weight = np.zeros(len(table.causes))
    for suspect, share in zip(space.suspects, belief.suspects, strict=True):
        for c in blowing & set(suspect.causes):
            weight[c] += share
    left = [c for c in sorted(blowing, key=lambda c: (-weight[c], c)) if weight[c] >= LEFT]
    if not left:
        return [WITHOUT_CAUSE.format(fuse=fuse)]
    names = "; ".join(f"{table.causes[c].says} ({_when(table, c, k)})" for c in left[:NAMED])
    more = f"; and {len(left) - NAMED} more" if len(left) > NAMED else ""
    said = [f"{SELDOM}. A new {fuse} would blow again with: {names}{more}."]
    tests = _showing(state, table, k, weight, found)
    said.append(f"Before a new {fuse} goes in and the supply comes back: "
                f"{'; then: '.join(t.does for t in tests) or BEHIND_IT}.")
    return said


def _when(table: Prediction, cause: int, k: int) -> str:
    rows = table.blows[table.owner == cause, k]
    conditions = tuple(table.machine.conditions.values())
    return conditions[int(rows[rows >= 0][0])].says


def _showing(state: JobState, table: Prediction, k: int, weight: Floats,
             found: Cause) -> list[Test]:
    """Dead tests, not made yet, that best tell these causes from a fuse that just went."""
    base = int(_rows(table, found)[0])
    done = {entry.test for entry in state.entries} | set(state.skipped)
    fit = np.array([test.id not in done and not _at_fuse(test, found.device)
                    and table.machine.conditions[test.condition].dead for test in table.tests])
    causes = [c for c in np.flatnonzero(weight >= LEFT).tolist()
              if (table.blows[table.owner == c, k] >= 0).any()]
    shows = np.array([weight[c] * fit * _apart(table, base, np.flatnonzero(
        (table.owner == c) & (table.blows[:, k] >= 0))).mean(axis=0) for c in causes])
    minutes = np.array([test.minutes for test in table.tests])
    chosen: list[Test] = []
    for _ in range(PROPOSED):
        worth = shows.sum(axis=0)
        if worth.max() <= 0.0:
            break
        best = np.flatnonzero(worth >= 0.99 * worth.max())
        t = int(best[minutes[best].argmin()])
        chosen.append(table.tests[t])
        shows = shows * (shows[:, t] <= 0.0)[:, np.newaxis]
    return chosen


def _blown(cause: Cause, fuse: str) -> bool:
    """Whether a cause is the fuse itself, found open for good."""
    return cause.device == fuse and not cause.intermittent and any(
        change.what == "contact" and change.target.startswith(f"{fuse}:")
        and change.value == "open" for variant in cause.variants for change in variant)


def _at_fuse(test: Test, fuse: str) -> bool:
    """Whether a test only tells whether the fuse is whole."""
    return test.device == fuse and (
        not test.between or test.between[1].partition(":")[0] == fuse)


def _apart(table: Prediction, base: int, rows: Ints) -> Floats:
    """(rows, T) 1 where a row reads another number than the base, or mostly another word."""
    value, sigma = table.value, table.sigma
    with np.errstate(invalid="ignore"):
        far = np.abs(value[rows] - value[base]) > APART * np.hypot(sigma[rows], sigma[base])
    far &= np.isfinite(value[rows]) & np.isfinite(value[base])
    far |= np.isinf(value[rows]) != np.isinf(value[base])
    said = 0.5 * np.abs(table.word_p[rows] - table.word_p[base]).sum(axis=2) > SAYS
    return np.asarray(far | said, dtype=np.float64)


def _named(table: Prediction, device: str) -> str:
    says = table.machine.devices[device].says
    return f"{device} ({says})" if says else device
