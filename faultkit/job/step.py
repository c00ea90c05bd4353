"""One event at a time: from a state to the next, and nothing else happens."""

from dataclasses import replace

from faultkit.errors import UsageError
from faultkit.job.events import (
    BridgeFound,
    BridgeRemoved,
    CalledOut,
    Closed,
    ConditionChanged,
    Event,
    LoadSecured,
    ProofMade,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Remarked,
    Reopened,
    Repaired,
    RepairWithdrawn,
    SymptomTold,
    SymptomWithdrawn,
    TestOffered,
    TestSkipped,
)
from faultkit.job.records import Entry, JobState, Proof, Repair


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
        case RepairWithdrawn():
            return _repair_withdrawn(state)
        case _:
            return _around(state, event)


def _around(state: JobState, event: Event) -> JobState:
    """What is said and done around the search."""
    match event:
        case CalledOut():
            same = _dangers(event) == _dangers(state.call)
            return replace(state, call=event, secured=state.secured if same else None)
        case LoadSecured():
            return replace(state, secured=event)
        case ConditionChanged(condition=condition, dead=dead):
            return replace(state, dead=dead, condition=condition, switched=state.taken)
        case BridgeFound(where=where):
            return replace(state, bridges=tuple(dict.fromkeys((*state.bridges, where))))
        case BridgeRemoved(where=where):
            return replace(state, bridges=tuple(b for b in state.bridges if b != where))
        case ProofMade(function=function, passed=passed, who=who, seen=seen):
            kept = tuple(p for p in state.proofs if p.function != function)
            return replace(state, proofs=(*kept, Proof(function, passed, who, seen)))
        case Remarked(text=text):
            return replace(state, remarks=(*state.remarks, text))
        case Closed():
            return replace(state, closed=event)
        case Reopened():
            return replace(state, closed=None)
        case _:
            raise UsageError(f"This version does not know what {type(event).__name__} is.")


def _dangers(call: CalledOut) -> tuple[object, ...]:
    """What a load was secured against; told anew, it is secured anew."""
    return call.load, call.people, call.slips


def _repaired(state: JobState, event: Repaired) -> JobState:
    """A repair that cured ends the search; one that did not makes the readings history.

    What was proved before it has to be proved again.
    """
    repair = Repair(event.remedy, event.cured, () if event.cured else state.entries,
                    event.repeated, event.reading, event.note)
    return replace(state, repaired=(*state.repaired, repair), proofs=(),
                   entries=state.entries if event.cured else ())


def _repair_withdrawn(state: JobState) -> JobState:
    """The readings that the repair set aside count again, before those taken since."""
    if not state.repaired:
        raise UsageError("There is no repair to take back.")
    last = state.repaired[-1]
    return replace(state, repaired=state.repaired[:-1], entries=(*last.set_aside, *state.entries))


def _find(state: JobState, number: int) -> None:
    if any(entry.number == number for entry in state.entries):
        return
    if any(entry.number == number for entry in state.earlier):
        raise UsageError(f"Reading {number} was taken before the last repair and no longer counts.",
                         "Take it again if it matters.")
    raise UsageError(f"There is no reading {number} in this job.")
