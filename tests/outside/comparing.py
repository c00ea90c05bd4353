"""One machine, one condition, one fault: faultkit's voltages beside those from outside."""

from dataclasses import dataclass

import numpy as np

from faultkit.circuit.circuit import Circuit
from faultkit.circuit.simulation import Moment, Simulation
from faultkit.vocabulary.diagnosis import Change
from tests.outside.exact import solve_exactly
from tests.outside.network import Network
from tests.outside.spice import solve_by_simulator
from tests.outside.standing import standing
from tests.outside.wiring import Standing, network_of


@dataclass
class Compared:
    """Every pin's voltage against earth, in volt, and the network for a third way of solving."""

    own: dict[str, complex]
    exact: dict[str, complex]
    network: Network
    moment: Moment
    standing: Standing

    def worst_against_exact(self) -> float:
        """Largest difference from the solve in long arithmetic, in volt."""
        return max(abs(self.own[pin] - self.exact[pin]) for pin in self.own)

    def worst_against_simulator(self, name: str) -> float:
        """Largest difference from the simulator, relative; below 1 V, in volt.

        Skips where neither the simulator nor its stored answer to this network is at hand.
        """
        solved = by_pin(solve_by_simulator(self.network, name), self.standing.merged,
                        list(self.own))
        return max(abs(self.own[pin] - solved[pin]) / max(1.0, abs(self.own[pin]))
                   for pin in self.own)


def refined(circuit: Circuit, moment: Moment) -> dict[str, complex]:
    """Voltage of every pin as the meter uses it, before the meter loads it."""
    solver = circuit.solver
    solution = solver.refine(solver.solve(moment.rows), moment.rows)
    x = np.append(solution.x[:-1], 0.0)
    return {pin: complex(x[column]) for pin, column in circuit.network.node.items()}


def by_pin(solved: dict[str, complex], merged: dict[str, str], pins: list[str],
           ) -> dict[str, complex]:
    """Voltage of every pin; one that no element reaches rests at earth, by its insulation."""
    return {pin: solved.get(merged.get(pin, pin), 0j) for pin in pins}


def compare(circuit: Circuit, condition: str, changes: tuple[Change, ...]) -> Compared:
    """Bring the faulty machine into a condition and solve what it has come to in other ways."""
    simulation, moment = brought(circuit, condition, changes)
    own = refined(circuit, moment)
    stands, network = network_at(simulation, moment, changes)
    pins = [pin for pin in own if ":" in pin]
    return Compared(
        own={pin: own[pin] for pin in pins},
        exact=by_pin(solve_exactly(network), stands.merged, pins),
        network=network,
        moment=moment,
        standing=stands,
    )


def brought(circuit: Circuit, condition: str, changes: tuple[Change, ...],
            ) -> tuple[Simulation, Moment]:
    """The faulty machine in a condition."""
    simulation = circuit.simulate(changes)
    return simulation, simulation.at(condition)


def network_at(simulation: Simulation, moment: Moment, changes: tuple[Change, ...],
               meter: tuple[str, str, complex] | None = None) -> tuple[Standing, Network]:
    """The machine at a moment, and its network."""
    stands = standing(simulation, moment, changes)
    return stands, network_of(stands, meter)
