"""Minutes: of a test with the way to it, of a repair with its proof.

Where somebody is, is a context: a place and a condition. From it follow the travel and the
change of condition of whatever comes next, so tests with the machine dead are batched without
any rule that says so.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from faultkit.prediction.table import Floats, Ints, Prediction
from faultkit.vocabulary.diagnosis import Meter, Test
from faultkit.vocabulary.machine import Machine

LIVE_SURCHARGE = 1.0
"""Minutes added to a test with probes on a live machine: gloves, face shield, a second look
(common practice, no source)."""
ENTERING = 0.5
"""Minutes for any test to be read, set up and written down (common practice, no source): without
them a string of quick looks that tell little each would seem the shorter way."""
GIVING_UP = 240.0
"""Minutes until somebody finds a fault that nothing here describes (common practice, no
source): the price at which measuring and repairing on are weighed against giving up."""
WITH_PROBES: frozenset[Meter] = frozenset(
    {"V AC", "V DC", "V AC low", "V DC low", "mA", "ohm", "Mohm", "Hz"})


@dataclass(frozen=True, slots=True)
class Context:
    """Where the electrician is, and what the machine is in: indices of place and condition."""

    place: int
    condition: int


@dataclass(frozen=True, slots=True, eq=False)
class Effort:
    """All minutes of a machine. P places, C conditions, T tests, R remedies."""

    travel: Floats
    """(P, P)"""
    change: Floats
    """(C, C) minutes from one condition into another."""
    dead: NDArray[np.bool_]
    """(C,)"""
    restoring: Floats
    """(C,) minutes to a live machine, for the proof after a repair."""
    isolating: float
    """Minutes from live to the first dead condition."""
    live: int
    """Condition in which a repair leaves the machine: the first live one."""
    place_index: Mapping[str, int]
    condition_index: Mapping[str, int]
    test_place: Ints
    test_condition: Ints
    test_minutes: Floats
    """(T,) with the live surcharge."""
    remedy_index: Mapping[str, int]
    remedy_place: Ints
    remedy_minutes: Floats
    """(R,) work and proof."""
    remedy_dead: NDArray[np.bool_]
    """(R,)"""
    start: Context
    """Where a job begins: a machine that stands still is live until somebody isolates it."""


def effort_of(prediction: Prediction) -> Effort:
    """All minutes of a machine, as arrays."""
    machine = prediction.machine
    places = {name: i for i, name in enumerate(machine.places)}
    conditions = {name: i for i, name in enumerate(machine.conditions)}
    dead = np.array([c.dead for c in machine.conditions.values()], dtype=np.bool_)
    first_dead, first_live = _first(dead), _first(~dead)
    tests, remedies = prediction.tests, tuple(machine.remedies.values())
    root = next((i for i, p in enumerate(machine.places.values()) if p.beside is None), 0)
    return Effort(
        travel=_travel(machine),
        change=_change(machine),
        dead=dead,
        restoring=np.array([c.restoring if c.dead else 0.0
                            for c in machine.conditions.values()]),
        isolating=next((c.isolating for c in machine.conditions.values() if c.dead), 0.0),
        live=first_live,
        place_index=places,
        condition_index=conditions,
        test_place=np.array([places[t.place] for t in tests], dtype=np.int64),
        test_condition=np.array([conditions[t.condition] for t in tests], dtype=np.int64),
        test_minutes=np.array([own_minutes(machine, t) for t in tests]),
        remedy_index={r.id: i for i, r in enumerate(remedies)},
        remedy_place=np.array([places[r.place] for r in remedies], dtype=np.int64),
        remedy_minutes=np.array([r.minutes + r.proof for r in remedies]),
        remedy_dead=np.array([r.dead for r in remedies], dtype=np.bool_),
        start=Context(root, first_dead if dead.all() else first_live),
    )


def own_minutes(machine: Machine, test: Test) -> float:
    """Minutes of a test itself, with its entry and the surcharge for probes on a live machine."""
    live = not machine.conditions[test.condition].dead
    return test.minutes + ENTERING + (LIVE_SURCHARGE if live and test.meter in WITH_PROBES else 0.0)


def _first(where: NDArray[np.bool_]) -> int:
    found = np.flatnonzero(where)
    return int(found[0]) if found.size else 0


def _travel(machine: Machine) -> Floats:
    """(P, P) minutes along the tree of places."""
    ways = []
    for place in machine.places.values():
        way, here = {place.id: 0.0}, place
        while here.beside is not None:
            minutes = way[here.id] + here.minutes
            here = machine.places[here.beside]
            if here.id in way:
                break
            way[here.id] = minutes
        ways.append(way)
    return np.array([[min((a[name] + b[name] for name in a.keys() & b.keys()), default=0.0)
                      for b in ways] for a in ways])


def _change(machine: Machine) -> Floats:
    """(C, C) minutes from the condition of the row into that of the column."""
    conditions = tuple(machine.conditions.values())
    table = np.zeros((len(conditions), len(conditions)))
    for i, here in enumerate(conditions):
        for j, there in enumerate(conditions):
            if i == j:
                continue
            if there.dead and not here.dead:
                table[i, j] = there.isolating
            elif here.dead and not there.dead:
                table[i, j] = here.restoring + there.minutes
            else:
                table[i, j] = there.minutes
    return table


def test_costs(effort: Effort, context: Context) -> tuple[Floats, Floats, Floats]:
    """(T,) minutes of every test from here; of these, travel and change of condition."""
    travel = effort.travel[context.place, effort.test_place]
    changing = effort.change[context.condition, effort.test_condition]
    return effort.test_minutes + travel + changing, travel, changing


def test_minutes_from(effort: Effort, context: Context, machine: Machine,
                      test: Test) -> tuple[float, float, float]:
    """Minutes of one test from here, predicted or not; of these, travel and change."""
    there = context_of(effort, test)
    travel = float(effort.travel[context.place, there.place])
    changing = float(effort.change[context.condition, there.condition])
    return own_minutes(machine, test) + travel + changing, travel, changing


def repair_costs(effort: Effort, context: Context) -> tuple[Floats, Floats]:
    """(R,) minutes of every remedy: way, isolation, work, switching on again, proof.

    Gives those of the next thing done from here, and those of a later one, when the machine
    is live again after the proof of the one before (travel still from here).
    """
    work = effort.remedy_minutes + effort.travel[context.place, effort.remedy_place]
    isolated = effort.isolating + float(effort.restoring[int(effort.dead.argmax())])
    later = work + np.where(effort.remedy_dead, isolated, 0.0)
    if not effort.dead[context.condition]:
        return later, later
    return np.asarray(work + effort.restoring[context.condition]), later


def context_after_test(effort: Effort, test: int) -> Context:
    """Where somebody is after a test, by index in the prediction."""
    return Context(int(effort.test_place[test]), int(effort.test_condition[test]))


def context_of(effort: Effort, test: Test) -> Context:
    """Where somebody is after a test, predicted or not."""
    return Context(effort.place_index[test.place], effort.condition_index[test.condition])


def context_after_repair(effort: Effort, remedy: int) -> Context:
    """Where somebody is after a remedy was carried out and proved, by index."""
    return Context(int(effort.remedy_place[remedy]), effort.live)


def combined_repairs(effort: Effort, context: Context,
                     repairs: tuple[tuple[int, ...], ...]) -> tuple[Floats, Floats]:
    """(R,) minutes of repairs made of one or more remedies each: as the next thing, and later."""
    first, later = repair_costs(effort, context)
    return (np.array([sum(first[i] for i in r) for r in repairs]),
            np.array([sum(later[i] for i in r) for r in repairs]))
