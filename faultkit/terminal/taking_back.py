"""What leads back from an event to the state before it: the event that does, or why none can."""

from collections.abc import Callable

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
from faultkit.job.records import JobState
from faultkit.vocabulary.diagnosis import Test
from faultkit.vocabulary.machine import Machine

FURTHER = "Undo again takes back what came before."
STAYS: dict[type[Event], str] = {
    LoadSecured: "That the load was secured stays written down.",
    ConditionChanged: "What hands have switched no key takes back: change the state of the "
                      "machine again.",
    RepairWithdrawn: "Readings were taken since that repair: enter the repair anew.",
    ProofMade: "A proof stays written down: prove it again, the last word counts.",
    Remarked: "A remark stays written down.",
}
"""Why nothing leads back from some events."""


def counter_of(event: Event, before: JobState, number: Callable[[int], int]) -> Event | None:
    """Event that leads back to the state before; None where none does.

    `number` gives the number that a reading bears now: one that comes back gets a new one.
    """
    match event:
        case SymptomTold(symptom=symptom) | SymptomWithdrawn(symptom=symptom):
            told = [t for t in before.told if t.symptom == symptom]
            return told[-1] if told else SymptomWithdrawn(symptom)
        case ReadingTaken():
            return ReadingWithdrawn(number(before.taken + 1))
        case ReadingChanged(number=old) | ReadingWithdrawn(number=old):
            entry = next(e for e in before.entries if e.number == old)
            if isinstance(event, ReadingWithdrawn):
                return ReadingTaken(entry.test, entry.reading)
            return ReadingChanged(number(old), entry.reading)
        case TestSkipped(test=test):
            return TestOffered(test)
        case TestOffered(test=test):
            return TestSkipped(test)
        case Repaired():
            return RepairWithdrawn()
        case RepairWithdrawn():
            return _repaired_again(before)
        case _:
            return _around(event, before)


def _around(event: Event, before: JobState) -> Event | None:
    match event:
        case CalledOut():
            return before.call
        case LoadSecured():
            return before.secured
        case BridgeFound(where=where):
            return BridgeRemoved(where)
        case BridgeRemoved(where=where):
            return BridgeFound(where)
        case Closed():
            return Reopened()
        case Reopened():
            return before.closed
        case _:
            return None


def _repaired_again(before: JobState) -> Event | None:
    """The same repair once more, where it sets aside the same readings."""
    last = before.repaired[-1]
    if before.entries and not last.cured:
        return None
    return Repaired(last.remedy, last.cured, last.repeated, last.reading, last.note)


def why_not(event: Event) -> str:
    """Why an event cannot be taken back."""
    why = STAYS.get(type(event), "This cannot be taken back.")
    return f"{why} {FURTHER}"


def taken_back(event: Event, machine: Machine, test_by: Callable[[str], Test]) -> str:
    """What was taken back, in words."""
    match event:
        case ReadingTaken(test=test):
            return f"Reading taken back: {_does(test_by(test))}"
        case ReadingChanged(number=number):
            return f"Reading {number} is again as it was."
        case ReadingWithdrawn(number=number):
            return f"Reading {number} is back."
        case TestSkipped(test=test):
            return f"Can be proposed again: {_does(test_by(test))}"
        case TestOffered(test=test):
            return f"Left out again: {_does(test_by(test))}"
        case Repaired(remedy=remedy):
            says = machine.remedies[remedy].says
            return f"Repair taken back, its readings count again: {says}."
        case RepairWithdrawn():
            return "The repair stands again."
        case _:
            return _put_back(event)


PUT_BACK: dict[type[Event], str] = {
    CalledOut: "The call-out is as it was.",
    LoadSecured: "How the load is secured is as it was.",
    Closed: "The job is open again.",
    Reopened: "The job is closed as it was.",
}


def _put_back(event: Event) -> str:
    if isinstance(event, BridgeFound):
        return f"No bridge after all: {event.where}."
    if isinstance(event, BridgeRemoved):
        return f"The bridge is still there: {event.where}."
    return PUT_BACK.get(type(event), "What was told about the complaint is as it was.")


def _does(test: Test) -> str:
    does = test.does.rstrip(".")
    return does if does.endswith("?") else f"{does}."
