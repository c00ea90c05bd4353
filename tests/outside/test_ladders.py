"""Twenty random circuits at every node: faultkit, a circuit simulator, long arithmetic."""

from pathlib import Path

import pytest

from faultkit.circuit.circuit import Circuit
from faultkit.loading import load
from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.machine import Machine
from tests.outside.comparing import compare
from tests.outside.ladders import Ladder

pytestmark = pytest.mark.outside

VOLTS = 1e-6
"""Allowed difference from the solve in 256-bit arithmetic."""
RELATIVE = 1e-4
"""Allowed difference from the simulator, whose own answers are not exact at floating nodes."""


def loaded(ladder: Ladder, folder: Path) -> Machine:
    """The ladder as a user would load it."""
    path = folder / f"ladder-{ladder.seed}.yaml"
    path.write_text(ladder.text, encoding="utf-8")
    found = load(path)
    errors = [str(problem) for problem in found.problems if problem.severity == "error"]
    assert found.machine is not None, errors
    return found.machine


@pytest.mark.parametrize("seed", range(20))
def test_a_random_ladder_has_the_same_voltage_at_every_node_by_all_three_ways(
    seed: int, tmp_path: Path
) -> None:
    ladder = Ladder(seed)
    machine = loaded(ladder, tmp_path)
    fault = ladder.faults[seed % len(ladder.faults)]
    cases: list[tuple[str, tuple[Change, ...]]] = [("healthy", ()), ("faulty", (fault,))]
    for word, changes in cases:
        found = compare(Circuit(machine, changes), "held", changes)
        assert len(found.own) > 20
        assert found.worst_against_exact() < VOLTS, (word, changes)
        assert found.worst_against_simulator(f"ladder-{seed}-{word}") < RELATIVE, (word, changes)


def test_the_ladders_have_what_makes_circuits_hard(tmp_path: Path) -> None:
    # a comparison over circuits where nothing floats and nothing moves would prove little
    floating = moved = carrying = 0
    for seed in range(20):
        circuit = Circuit(loaded(Ladder(seed), tmp_path))
        moment = circuit.simulate().at("held")
        assert moment.solution is not None
        volts = {abs(moment.solution.x[column]) for column in circuit.network.node.values()}
        floating += any(0 < v < 1e-3 for v in volts)
        moved += any(event.word == "in" for event in moment.events)
        carrying += max(volts) > 20
    assert floating >= 10
    assert moved >= 10
    assert carrying == 20
