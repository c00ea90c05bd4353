"""The door to the circuit: compile a machine once, then ask for any fault and any test."""

from collections.abc import Iterable, Sequence
from functools import cached_property

from faultkit.circuit.meter import Measured, read_tests
from faultkit.circuit.network import Network, compile_network
from faultkit.circuit.simulation import Event, Simulation
from faultkit.circuit.solve import Solver
from faultkit.vocabulary.diagnosis import Change, Test
from faultkit.vocabulary.machine import Machine


class Circuit:
    """A machine's circuit.

    Parameters
    ----------
    machine : Machine
    extra : iterable of Change
        Further changes that must be possible, besides those of the machine's causes.
    """

    def __init__(self, machine: Machine, extra: Iterable[Change] = ()) -> None:
        self.machine = machine
        self._extra = tuple(extra)
        self._tried = tuple(dict.fromkeys(
            symptom.when for symptom in machine.symptoms.values() if symptom.when))

    @cached_property
    def network(self) -> Network:
        """The compiled network, once it is asked for: a table from the disk does not need it."""
        changes = [change for cause in self.machine.causes.values()
                   for variant in cause.variants for change in variant]
        return compile_network(self.machine, [*changes, *self._extra])

    @cached_property
    def solver(self) -> Solver:
        """Solver of the network."""
        return Solver(self.network)

    def simulate(self, changes: Sequence[Change] = (), *, fuses_hold: bool = False) -> Simulation:
        """Return the machine with these changes, as the electrician finds it.

        The operator has tried everything that a symptom speaks of, so a fuse that blows in any
        of those attempts is found blown in every condition. Where it is known that the
        `fuses_hold`, nothing needs to be tried.
        """
        simulation = Simulation(self.machine, self.network, self.solver, changes)
        if fuses_hold:
            return simulation
        for condition in self._tried:
            simulation.at(condition)
        blown = simulation.blown()
        if blown:
            blew = {name: self._when_blown(simulation, name) for name in blown}
            return Simulation(self.machine, self.network, self.solver, changes, blew)
        return simulation

    def _when_blown(self, simulation: Simulation, name: str) -> str:
        """Return the condition with the fewest actions, of those tried, that blew a fuse pole."""
        return min((condition for tried in self._tried for condition in self._way(tried)
                    if name in simulation.blown(condition)),
                   key=lambda condition: sum(len(self.machine.conditions[c].steps)
                                             for c in self._way(condition)))

    def _way(self, condition: str) -> list[str]:
        """Return a condition and those it comes after."""
        way = [condition]
        while (before := self.machine.conditions[way[-1]].after) is not None:
            way.append(before)
        return way

    def read(self, simulation: Simulation, tests: Sequence[Test]) -> list[Measured]:
        """Return what each of the computed tests reads."""
        return read_tests(simulation, self.solver, tests)

    def trace(self, simulation: Simulation, condition: str) -> tuple[Event, ...]:
        """Return what moved on the way into a condition, and when."""
        return simulation.at(condition).events


def is_computed(test: Test) -> bool:
    """Tell whether the circuit gives this test's reading."""
    return bool(test.between or test.through or test.until or test.sees)
