"""What is said of an event once it is kept: one line that begins with `= `."""

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
from faultkit.terminal.desk import Desk
from faultkit.terminal.wording.words import reading_text


def echo_of(event: Event, desk: Desk) -> str:
    """What happened, in one line."""
    match event:
        case SymptomTold(symptom=symptom, shows=shows):
            known = desk.machine.symptoms[symptom]
            return f"Shows: {known.says}" if shows else f"Works: {known.works}"
        case SymptomWithdrawn(symptom=symptom):
            return f"Nothing said any more about: {desk.machine.symptoms[symptom].says}"
        case ReadingTaken(test=test, reading=reading):
            return f"{reading_text(desk.test(test), reading)}   (u takes it back)"
        case ReadingChanged(number=number, reading=reading):
            entry = next(e for e in desk.state.entries if e.number == number)
            return f"Reading {number} changed: {reading_text(desk.test(entry.test), reading)}"
        case ReadingWithdrawn(number=number):
            return f"Reading {number} withdrawn."
        case TestSkipped():
            return "Left out; it is not proposed again. u takes that back."
        case TestOffered():
            return "It can be proposed again."
        case _:
            return _around(event, desk)


def _around(event: Event, desk: Desk) -> str:
    match event:
        case CalledOut():
            return "Call-out noted."
        case LoadSecured(how=how):
            return f"Load secured: {how}."
        case ConditionChanged(dead=dead, steps=steps):
            state = "dead and locked" if dead else "live again"
            return f"Every step acknowledged ({len(steps)}): the machine is {state}."
        case Repaired(remedy=remedy, cured=cured):
            says = desk.machine.remedies[remedy].says
            return (f"Repaired and cured. {says}." if cured else
                    f"Not cured. Readings from before no longer count. {says}.")
        case RepairWithdrawn():
            return "The repair is taken back; its readings count again."
        case BridgeFound(where=where):
            return f"Bridge found: {where}. It must be out before hand-over."
        case BridgeRemoved(where=where):
            return f"Bridge removed: {where}."
        case ProofMade(function=function, passed=passed, who=who):
            says = desk.machine.safety[function].says
            return f"{'PASSED' if passed else 'FAILED'}, by {who}: {says}."
        case Remarked(text=text):
            return f"Noted: {text}"
        case Closed(how=how, who=who):
            return f"Closed: {how}, by {who}."
        case Reopened():
            return "The job is open again."
        case _:
            return type(event).__name__
