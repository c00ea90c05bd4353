"""What follows from a state: suspects, tests worth taking, finding, doubts."""

from dataclasses import dataclass, replace
from math import nan

import numpy as np

from faultkit.belief import (
    Belief,
    Hypotheses,
    after_repairs,
    fits_badly,
    steady_fit,
    weigh,
    with_pairs,
)
from faultkit.choice import (
    Context,
    Decision,
    Situation,
    context_of,
    decide,
    situation,
    test_minutes_from,
)
from faultkit.errors import UsageError
from faultkit.graph import candidates
from faultkit.job.doubts import doubtful, find_doubts
from faultkit.job.finding import find
from faultkit.job.knowledge import Knowledge
from faultkit.job.probe import is_probe
from faultkit.job.records import Assessment, Entry, Finding, JobState, Suggestion, Suspect
from faultkit.job.second_look import second_look
from faultkit.job.suggest import suggest
from faultkit.prediction.table import Floats
from faultkit.vocabulary.diagnosis import Test

SHOWN = 5e-4
"""Suspects at least this probable are shown."""
OFFERED = 24
"""Tests listed, best first."""
HARDLY = 0.05
"""What is less probable than this under every fault that stays hardly goes together."""
LEAST_GAIN = 1e-3
"""Tests that tell less than this many bits about the remedy are not listed."""

DANGER = ("Land or secure the load before anything else: nothing is measured, switched or "
          "repaired until then.")


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """How a job stands, in figures: the state with everything weighed."""

    state: JobState
    knowledge: Knowledge
    space: Hypotheses
    belief: Belief
    before: Belief
    """Without the last entry."""
    now: Situation
    decision: Decision


def assess(state: JobState, knowledge: Knowledge) -> Assessment:
    """Suspects, next tests, finding and doubts in a state. Pure; may take a fraction of a second.

    Raises
    ------
    UsageError
        A symptom or test that the machine does not have.
    """
    knowledge = knowledge.with_probes(_probes(state))
    standing = stand(state, knowledge)
    belief, space, decision = standing.belief, standing.space, standing.decision
    state = standing.state
    columns = [int(c) for c in decision.order if decision.gain[c] >= LEAST_GAIN][:OFFERED]
    offered = [suggest(standing.now, space, decision, c) for c in columns]
    if not offered:  # nothing tells anything any more: say what is left, however little it is
        decision = replace(decision, measure=False)
    finding, confirm = find(state, knowledge.graph, space, belief, standing.now, decision)
    why = ""
    held_back: Finding | None = None
    if finding is not None and finding.kind != "none":
        look = second_look(state, space, belief, standing.now, knowledge.graph,
                           knowledge.effort, finding)
        if look is not None:
            confirm, why = look.test, look.why
            held_back = replace(finding, warnings=(why, *finding.warnings))
            finding = None
    if confirm:
        first = consider(state, knowledge, confirm)
        offered = [replace(first, why=why or first.why),
                   *(s for s in offered if s.test != confirm)]
    if state.danger:
        finding = held_back = None
    return Assessment(
        suspects=_suspects(space, belief, standing.before),
        unknown=belief.unknown,
        next=tuple(offered),
        finding=finding,
        doubts=find_doubts(state, belief, knowledge.machine),
        supply_level=belief.supply if state.entries else 1.0,
        remedies=remedy_probabilities(space, belief.suspects),
        held_back=held_back,
        notes=(*((why,) if why else ()), *_notes(standing)),
    )


def suspected(state: JobState, knowledge: Knowledge) -> tuple[tuple[Suspect, ...], float]:
    """Suspects of `assess`, and the probability of an unknown fault: no test is looked for.

    A hundredth of the time of `assess`, for those that look at many states of a job.

    Raises
    ------
    UsageError
        A symptom or test that the machine does not have.
    """
    knowledge = knowledge.with_probes(_probes(state))
    space, belief, before = _weighed(replace(state, entries=_counted(state, knowledge)), knowledge)
    return _suspects(space, belief, before), belief.unknown


def consider(state: JobState, knowledge: Knowledge, test: str) -> Suggestion:
    """What one test costs and gains now, proposed or not, skipped or not.

    Raises
    ------
    UsageError
        A test that the machine does not have.
    """
    knowledge = knowledge.with_probes(_probes(state, test))
    machine = knowledge.machine
    if test not in machine.tests:
        raise UsageError(f"This machine has no test {test!r}.")
    if test not in knowledge.space.test_index:
        minutes, travel, changing = test_minutes_from(
            knowledge.effort, _context(state, knowledge), machine, machine.tests[test])
        return Suggestion(test, minutes, travel, changing, 0.0, nan, (),
                          "It reads the same under every fault described here.")
    standing = stand(state, knowledge, also=test)
    column = _column(standing.now, knowledge, test)
    assert column is not None
    return suggest(standing.now, standing.space, standing.decision, column)


def _probes(state: JobState, also: str = "") -> list[str]:
    """Free entries among the readings, and this one."""
    return [name for name in (*(e.test for e in state.entries), also) if is_probe(name)]


def _column(now: Situation, knowledge: Knowledge, test: str) -> int | None:
    """Where a test stands in a situation; None for no test."""
    if not test:
        return None
    return int(np.flatnonzero(now.forecast.tests == knowledge.space.test_index[test])[0])


def stand(state: JobState, knowledge: Knowledge, also: str = "") -> Standing:
    """Weigh everything in a state, `also` for one named test that may not be offered."""
    here = _context(state, knowledge)
    state = replace(state, entries=_counted(state, knowledge),
                    skipped=(*state.skipped, *_forbidden(state, knowledge)))
    space, belief, before = _weighed(state, knowledge)
    done = {e.test for e in state.entries}
    again = {e.test for e in doubtful(state, belief)}
    now = situation(space, belief, knowledge.graph, knowledge.effort,
                    here, done, {*state.skipped, *(done - again)}, also)
    return Standing(state, knowledge, space, belief, before, now,
                    decide(now, _column(now, knowledge, also)))


def _weighed(state: JobState, knowledge: Knowledge) -> tuple[Hypotheses, Belief, Belief]:
    """What may be wrong, how probable it is, and how probable without the last entry."""
    failed = {r.remedy for r in state.repaired if not r.cured}
    told = {t.symptom: t.shows for t in state.told}
    taken = [(e.test, e.reading) for e in state.entries]
    space = after_repairs(knowledge.space, failed)
    belief = weigh(space, told, taken)
    if taken and knowledge.pairs is not None and fits_badly(belief):
        space = with_pairs(space, told, taken, knowledge.pairs)
        belief = weigh(space, told, taken)
    return space, belief, weigh(space, told, taken[:-1]) if taken else belief


def _forbidden(state: JobState, knowledge: Knowledge) -> tuple[str, ...]:
    """Live tests of a job of dead work only."""
    if not state.call.dead_only:
        return ()
    conditions = knowledge.machine.conditions
    return tuple(t.id for t in knowledge.prediction.tests if not conditions[t.condition].dead)


def _context(state: JobState, knowledge: Knowledge) -> Context:
    """Where the last reading was taken, in the condition brought about since, if any was."""
    effort, machine = knowledge.effort, knowledge.machine
    here = (context_of(effort, _test(state.entries[-1], knowledge)) if state.entries
            else effort.start)
    last = state.entries[-1].number if state.entries else 0
    if state.condition in machine.conditions and state.switched >= last:
        here = replace(here, condition=effort.condition_index[state.condition])
    return here


def _counted(state: JobState, knowledge: Knowledge) -> tuple[Entry, ...]:
    """Entries of tests that tell anything apart; the others are kept but say nothing."""
    return tuple(e for e in state.entries
                 if _test(e, knowledge).id in knowledge.space.test_index)


def _test(entry: Entry, knowledge: Knowledge) -> Test:
    if entry.test not in knowledge.machine.tests:
        raise UsageError(f"This machine has no test {entry.test!r}.")
    return knowledge.machine.tests[entry.test]


def remedy_probabilities(space: Hypotheses, suspects: Floats) -> tuple[tuple[str, float], ...]:
    """Probability of each remedy, most probable first; a pair counts for both of its remedies."""
    causes = space.prediction.causes
    found: dict[str, float] = {}
    for suspect, probability in zip(space.suspects, suspects, strict=True):
        for remedy in {causes[i].remedy for i in suspect.causes}:
            found[remedy] = found.get(remedy, 0.0) + float(probability)
    return tuple(sorted(found.items(), key=lambda item: (-item[1], item[0])))


def _suspects(space: Hypotheses, belief: Belief, before: Belief) -> tuple[Suspect, ...]:
    order = np.argsort(-belief.suspects, kind="stable")
    shown = [int(i) for i in order if belief.suspects[i] >= SHOWN]
    made = []
    for i in shown:
        causes = [space.prediction.causes[c] for c in space.suspects[i].causes]
        made.append(Suspect(
            cause=" + ".join(c.id for c in causes),
            device=causes[0].device,
            says=" and ".join(c.says for c in causes),
            probability=float(belief.suspects[i]),
            before=float(before.suspects[i]),
            remedy=causes[0].remedy,
        ))
    return tuple(made)


def _notes(standing: Standing) -> tuple[str, ...]:
    space, belief = standing.space, standing.belief
    notes = [DANGER] if standing.state.danger else []
    pairs = sum(float(p) for s, p in zip(space.suspects, belief.suspects, strict=True)
                if len(s.causes) > 1)
    if pairs > 0.5:
        notes.append("Two faults at once explain the readings better than any single one.")
    elif pairs > 0.1:
        notes.append("Two faults at once are possible.")
    complaints = [t.symptom for t in standing.state.told if t.shows]
    if not candidates(standing.knowledge.graph, complaints):
        notes.append("No fault described here explains the complaint by itself.")
    elif _apart(space, {t.symptom: t.shows for t in standing.state.told}):
        notes.append("What is told goes together only if the fault comes and goes: ask again "
                     "what shows and what works.")
    failed = [r.remedy for r in standing.state.repaired if not r.cured]
    if failed:
        says = standing.knowledge.machine.remedies[failed[-1]].says
        notes.append(f"{says}: done, and the complaint stayed. Readings from before it no longer "
                     "count; a second fault, or one that caused the first, is possible.")
    return tuple(notes)


def _apart(space: Hypotheses, told: dict[str, bool]) -> bool:
    """Whether each thing told fits some fault that stays, and all together fit none."""
    return steady_fit(space, told) < HARDLY and all(
        steady_fit(space, {symptom: shows}) >= HARDLY for symptom, shows in told.items())
