"""Readings that fit badly."""

from faultkit.belief import Belief
from faultkit.job.records import Doubt, Entry, JobState
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.quantities import show_reading

NAMED = 0.3
"""A reading that is wrong with at least this probability is named."""


def doubtful(state: JobState, belief: Belief) -> tuple[Entry, ...]:
    """Entries to be named, in the order taken."""
    return tuple(e for e, wrong in zip(state.entries, belief.wrong, strict=True)
                 if wrong >= NAMED)


def find_doubts(state: JobState, belief: Belief, machine: Machine) -> tuple[Doubt, ...]:
    """Doubts about readings, the most doubtful first."""
    doubts = []
    for entry, wrong in zip(state.entries, belief.wrong, strict=True):
        if wrong < NAMED:
            continue
        test = machine.tests[entry.test]
        shown = show_reading(entry.reading, test.meter)
        doubts.append(Doubt(entry.number, entry.test,
                            f"Reading {entry.number} ({shown}: {test.does}) fits badly with the "
                            "others. Take it again.", wrong))
    return tuple(sorted(doubts, key=lambda d: (-d.wrong, d.number)))
