"""One event at a time: from a state to the next, and nothing else happens."""

from dataclasses import replace

from faultkit.errors import UsageError
from faultkit.job.records import (
    Entry,
    Event,
    JobState,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Repaired,
    SymptomTold,
    SymptomWithdrawn,
    TestOffered,
    TestSkipped,
)


def step(state: JobState, event: Event) -> JobState:
    """State after an event; the state given is left as it is.

    Raises
    ------
    UsageError
        A reading that is not (or no longer) there is changed or withdrawn.
    """
    match event:
        case SymptomTold(symptom=symptom):
            kept = tuple(t for t in state.told if t.symptom != symptom)
            return replace(state, told=(*kept, event))
        case SymptomWithdrawn(symptom=symptom):
            return replace(state, told=tuple(t for t in state.told if t.symptom != symptom))
        case ReadingTaken(test=test, reading=reading):
            entry = Entry(state.taken + 1, test, reading)
            return replace(state, entries=(*state.entries, entry), taken=entry.number)
        case ReadingChanged(number=number, reading=reading):
            _find(state, number)
            return replace(state, entries=tuple(
                replace(e, reading=reading) if e.number == number else e for e in state.entries))
        case ReadingWithdrawn(number=number):
            _find(state, number)
            return replace(state, entries=tuple(e for e in state.entries if e.number != number))
        case TestSkipped(test=test):
            skipped = state.skipped if test in state.skipped else (*state.skipped, test)
            return replace(state, skipped=skipped)
        case TestOffered(test=test):
            return replace(state, skipped=tuple(t for t in state.skipped if t != test))
        case Repaired():
            return _repaired(state, event)


def _repaired(state: JobState, event: Repaired) -> JobState:
    """A repair that cured ends the search; one that did not makes the readings history."""
    if event.cured:
        return replace(state, repaired=(*state.repaired, event))
    return replace(state, repaired=(*state.repaired, event), entries=(),
                   earlier=(*state.earlier, *state.entries))


def _find(state: JobState, number: int) -> None:
    if any(entry.number == number for entry in state.entries):
        return
    if any(entry.number == number for entry in state.earlier):
        raise UsageError(f"Reading {number} was taken before the last repair and no longer counts.",
                         "Take it again if it matters.")
    raise UsageError(f"There is no reading {number} in this job.")
