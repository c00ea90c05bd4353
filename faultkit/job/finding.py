"""The remedy that the readings leave, or why there is none yet."""

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from faultkit.belief import Belief, Hypotheses, support
from faultkit.choice import (
    Decision,
    Situation,
    repair_minutes,
    repair_order,
    repair_probability,
)
from faultkit.graph import explanation, moved_by
from faultkit.job.consequences import warnings_of
from faultkit.job.records import Evidence, Finding, JobState, Suspect
from faultkit.vocabulary.diagnosis import Cause, Test
from faultkit.vocabulary.quantities import show_reading

Mask = NDArray[np.bool_]

LEFT = 0.9
"""From this probability on (of what is described) one remedy counts as the one left."""
IN_GROUP = 0.02
"""Remedies at least this probable (of what is described) belong to a group."""
NOT_DESCRIBED = 0.5
"""From this probability of an unknown fault on, no described one is found."""
SHOWS_IT = 10.0
"""A reading shows a fault directly when it is this many times as probable as when healthy."""


def find(state: JobState, graph: "nx.DiGraph[str]", space: Hypotheses, belief: Belief,
         now: Situation, decision: Decision) -> tuple[Finding | None, str]:
    """Finding in a state, and the test that must confirm it before it may be one.

    No finding as long as a test saves minutes, or when a safety function is concerned and a
    test is left that shows the fault directly.
    """
    if decision.measure or not (state.told or state.entries):
        return None, ""
    if belief.unknown > NOT_DESCRIBED or not now.repairs:
        return _nothing(state, space, belief), ""
    first, _ = repair_minutes(now, now.context)
    probability = repair_probability(now)
    order = repair_order(probability, first)
    known = probability.sum()
    best = int(order[0])
    alone = probability[best] >= LEFT * known
    group = [best] if alone else [int(r) for r in order if probability[r] >= IN_GROUP * known]
    rows = np.zeros(space.prior.size, dtype=np.bool_)
    rows[now.forecast.rows[np.isin(now.repair, group)]] = True
    causes = _causes(space, belief, rows)
    unproved = [c for c in causes if c.safety and not _shown(state, graph, space, belief, c)]
    confirm = _confirming(state, graph, space, unproved or causes)
    if unproved and confirm:
        return None, confirm
    remedies = list(space.prediction.machine.remedies.values())
    names = tuple(dict.fromkeys(remedies[i].id for r in group for i in now.repairs[r]))
    share = float(sum(probability[r] for r in group))
    return Finding(
        kind="remedy" if alone else "group",
        remedies=names,
        probability=share,
        causes=tuple(c.id for c in causes),
        evidence=_evidence(state, space, belief, rows),
        instead=_instead(space, belief, rows),
        confirm=confirm,
        says=_sentence(space, names, alone, bool(unproved))
        + _unexplained(state, graph, space, causes),
        warnings=warnings_of(state, space, belief, causes),
    ), ""


def _nothing(state: JobState, space: Hypotheses, belief: Belief) -> Finding:
    rows = np.zeros(space.prior.size, dtype=np.bool_)
    rows[-1] = True
    return Finding("none", (), belief.unknown, (), _evidence(state, space, belief, rows),
                   _instead(space, belief, rows), "",
                   "Nothing described here fits what was measured: it is another fault, or none. "
                   "Check the readings in doubt, then go by the diagram.")


def _causes(space: Hypotheses, belief: Belief, rows: Mask) -> tuple[Cause, ...]:
    """Causes behind some rows, most probable first."""
    weight = space.by_suspect(np.where(rows, belief.rows, 0.0))
    order = np.argsort(-weight, kind="stable")
    found = [c for i in order if weight[i] >= 0.01 * weight.sum()
             for c in space.suspects[int(i)].causes]
    return tuple(space.prediction.causes[c] for c in dict.fromkeys(found))


def _instead(space: Hypotheses, belief: Belief, rows: Mask) -> tuple[Suspect, ...]:
    other = space.by_suspect(np.where(rows, 0.0, belief.rows))
    made = []
    for i in np.argsort(-other, kind="stable")[:5]:
        causes = [space.prediction.causes[c] for c in space.suspects[int(i)].causes]
        if other[i] >= 5e-3:
            made.append(Suspect(" + ".join(c.id for c in causes), causes[0].device,
                                " and ".join(c.says for c in causes), float(other[i]),
                                float(other[i]), causes[0].remedy))
    return tuple(made)


def _evidence(state: JobState, space: Hypotheses, belief: Belief,
              rows: Mask) -> tuple[Evidence, ...]:
    """Readings and symptoms, those that speak loudest first."""
    machine = space.prediction.machine
    readings, symptoms = support(belief, rows)
    made = []
    for entry, bits in zip(state.entries, readings, strict=True):
        test = machine.tests[entry.test]
        made.append(Evidence(entry.test, f"{test.does}: {show_reading(entry.reading, test.meter)}",
                             bits))
    for told in state.told:
        symptom = machine.symptoms[told.symptom]
        made.append(Evidence(told.symptom, symptom.says if told.shows else symptom.works,
                             symptoms[told.symptom]))
    return tuple(sorted(made, key=lambda e: -abs(e.bits)))


def _shown(state: JobState, graph: "nx.DiGraph[str]", space: Hypotheses, belief: Belief,
           cause: Cause) -> bool:
    """Whether a reading at the cause's own device shows the fault directly."""
    index = space.prediction.causes.index(cause)
    rows = space.suspect[:-1] == next(
        i for i, s in enumerate(space.suspects) if s.causes == (index,))
    moved = moved_by(graph, cause.id)
    for entry, weight in zip(state.entries, belief.weights, strict=True):
        test = space.prediction.tests[space.test_index[entry.test]]
        if entry.test in moved and made_at(test, cause.device):
            level = belief.log_joint.max(axis=0).argmax()
            fits = float(np.exp(weight.log[:-1][rows, level]).max())
            if fits >= SHOWS_IT * float(np.exp(weight.healthy[level])):
                return True
    return False


def made_at(test: Test, device: str) -> bool:
    """Whether a test is made at a device: its pins, its current, its movement, itself."""
    pins = [*(test.between or ()), *((test.through,) if test.through else ())]
    at = {pin.rpartition(":")[0] for pin in pins}
    if test.sees:
        at.add(test.sees)
    if test.until:
        at.add(test.until[0])
    return bool(device) and (device in at or test.device == device)


def _confirming(state: JobState, graph: "nx.DiGraph[str]", space: Hypotheses,
                causes: tuple[Cause, ...] | list[Cause]) -> str:
    """Quickest test, not made and not skipped, that shows the first of the causes directly."""
    made = {e.test for e in state.entries} | set(state.skipped)
    for cause in causes[:1]:
        fitting = [t for t in space.prediction.tests
                   if t.id in moved_by(graph, cause.id) - made and made_at(t, cause.device)]
        if fitting:
            return min(fitting, key=lambda t: t.minutes).id
    return ""


def _unexplained(state: JobState, graph: "nx.DiGraph[str]", space: Hypotheses,
                 causes: tuple[Cause, ...]) -> str:
    """Complaints that no path of the graph leads from to the causes found."""
    complaints = [t.symptom for t in state.told if t.shows]
    explained = {path[0] for c in causes for path in explanation(graph, c.id, complaints)}
    left = [space.prediction.machine.symptoms[s].says for s in complaints if s not in explained]
    return f" It does not explain: {'; '.join(left)}." if left else ""


def _sentence(space: Hypotheses, remedies: tuple[str, ...], alone: bool, unproved: bool) -> str:
    says = [space.prediction.machine.remedies[r].says for r in remedies]
    if alone:
        sentence = " and ".join(says) + "."
    else:
        sentence = f"No test is worth its minutes any more. In this order: {'; '.join(says)}."
    if unproved:
        sentence += (" It belongs to a safety function, and no test is left that shows the fault"
                     " directly: have it confirmed before the repair.")
    return sentence
