"""What may happen in a job, and what may not yet.

Asked before an event is accepted, and never when a job is read back: what happened, happened.
"""

from collections.abc import Mapping

from faultkit.errors import UsageError
from faultkit.job.events import (
    BridgeFound,
    BridgeRemoved,
    Closed,
    ConditionChanged,
    Event,
    ProofMade,
    ReadingChanged,
    ReadingTaken,
    Remarked,
    Reopened,
    Repaired,
    SymptomTold,
    SymptomWithdrawn,
    TestOffered,
    TestSkipped,
)
from faultkit.job.named import named_test
from faultkit.job.records import JobState
from faultkit.vocabulary.diagnosis import Reading, Test
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.near_miss import did_you_mean, listed


def refuse(state: JobState, event: Event, machine: Machine) -> None:
    """Refuse an event that must not happen in this state; else do nothing.

    Raises
    ------
    UsageError
        One sentence that says why not, and the way out.
    """
    if state.closed is not None and not isinstance(event, Reopened | Remarked):
        raise UsageError("This job is closed.", "Reopen it first.")
    if state.danger and isinstance(event, ReadingTaken | ConditionChanged | Repaired | ProofMade):
        raise UsageError("A load may fall or sink on somebody.",
                         "Land or secure the load first, and say how.")
    match event:
        case SymptomTold(symptom=symptom) | SymptomWithdrawn(symptom=symptom):
            _known("symptom", symptom, machine.symptoms)
        case TestSkipped(test=name) | TestOffered(test=name):
            named_test(machine, name)
        case ReadingTaken() | ReadingChanged():
            _reading(state, event, machine)
        case ConditionChanged():
            _condition(event, machine)
        case Repaired():
            _repaired(state, event, machine)
        case ProofMade():
            _known("safety function", event.function, machine.safety)
            _named(event.who)
        case Closed():
            _closed(state, event, machine)
        case Reopened() if state.closed is None:
            raise UsageError("This job is open already.")
        case _:
            _words(state, event)


def unproved(state: JobState, machine: Machine) -> tuple[str, ...]:
    """Safety functions not proved as passed since the last repair, in the machine's order."""
    passed = {proof.function for proof in state.proofs if proof.passed}
    return tuple(name for name in machine.safety if name not in passed)


def live(test: Test, machine: Machine) -> bool:
    """Whether a test is made with the machine under voltage."""
    return not machine.conditions[test.condition].dead


def _reading(state: JobState, event: ReadingTaken | ReadingChanged, machine: Machine) -> None:
    if isinstance(event, ReadingChanged):
        for entry in state.entries:
            if entry.number == event.number:
                _fits(event.reading, named_test(machine, entry.test))
        return
    test = named_test(machine, event.test)
    says = machine.conditions[test.condition].says
    if live(test, machine):
        _dead_only(state, test)
        if state.dead:
            raise UsageError(f"The machine is dead, and this test needs: {says}.",
                             "Bring it back to life step by step first.")
    elif not state.dead:
        raise UsageError(f"The machine is live, and this test needs: {says}.",
                         "Make it dead and prove it dead, step by step, first.")
    _fits(event.reading, test)


def _dead_only(state: JobState, test: Test) -> None:
    if state.call.dead_only:
        raise UsageError(f"This job is dead work only, and this test is live: {test.does}.",
                         "Choose a test on the dead machine, or change the call-out.")


def _fits(reading: Reading, test: Test) -> None:
    if test.words and reading.word not in test.words:
        shown = reading.word or str(reading)
        raise UsageError(f"{shown!r} is no reading of this test.",
                         f"It is one of {listed(test.words)}.")
    if not test.words and reading.value is None:
        raise UsageError(f"{reading.word!r} is no reading of this test.",
                         f"It is read in {test.meter}.")


def _condition(event: ConditionChanged, machine: Machine) -> None:
    _known("condition", event.condition, machine.conditions)
    condition = machine.conditions[event.condition]
    if condition.dead != event.dead:
        raise UsageError(f"This condition is {'dead' if condition.dead else 'live'}: "
                         f"{condition.says}.", "Choose the condition that was brought about.")


def _repaired(state: JobState, event: Repaired, machine: Machine) -> None:
    _known("remedy", event.remedy, machine.remedies)
    if not event.repeated:
        return
    test = named_test(machine, event.repeated)
    if live(test, machine):
        _dead_only(state, test)
    if event.reading is not None:
        _fits(event.reading, test)


def _closed(state: JobState, event: Closed, machine: Machine) -> None:
    _named(event.who)
    if event.how != "fit for use" and not event.reason.strip():
        raise UsageError("The reason is missing.",
                         "Say what was tried." if event.how == "no fault found"
                         else "Say why the machine is not fit for use.")
    if event.how == "not fit for use":
        return
    instead = "Else hand it over as not fit for use, with the reason."
    if state.danger:
        raise UsageError("The load was never landed or secured.", f"Do that first. {instead}")
    if state.bridges:
        raise UsageError(f"A bridge is still in: {'; '.join(state.bridges)}.",
                         f"Remove it and say so. {instead}")
    failed = [machine.safety[p.function].says for p in state.proofs
              if not p.passed and p.function in machine.safety]
    if failed:
        raise UsageError(f"A safety function failed its proof: {failed[0]}.",
                         f"Put it right and prove it again. {instead}")
    left = [machine.safety[name].says for name in unproved(state, machine)]
    if left:
        more = f", and {len(left) - 1} more" if len(left) > 1 else ""
        raise UsageError(f"Not proved since the last repair: {left[0]}{more}.",
                         f"Prove every safety function first. {instead}")


def _words(state: JobState, event: Event) -> None:
    """Events that carry words only."""
    match event:
        case Remarked(text=text) if not text.strip():
            raise UsageError("The remark is empty.", "Write something.")
        case BridgeFound(where=where) if not where.strip():
            raise UsageError("Where is the bridge?", "Name the two points, or the device.")
        case BridgeRemoved(where=where) if where not in state.bridges:
            raise UsageError(f"No bridge is noted at {where!r}.",
                             did_you_mean(where, state.bridges))
        case _:
            pass


def _known(what: str, name: str, known: Mapping[str, object]) -> None:
    if name not in known:
        raise UsageError(f"This machine has no {what} {name!r}.", did_you_mean(name, known))


def _named(who: str) -> None:
    if not who.strip():
        raise UsageError("The name of who proves or hands over is missing.", "Give it.")
