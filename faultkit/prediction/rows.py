"""One row of the table: what every test reads under one set of changes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf, isinf, nan

import numpy as np
from numpy.typing import NDArray

from faultkit.circuit.circuit import Circuit, is_computed
from faultkit.circuit.meter import Measured, word_of
from faultkit.circuit.simulation import Simulation
from faultkit.prediction.spread import WORD_SLIP, relied_on, spread
from faultkit.prediction.table import Floats
from faultkit.vocabulary.diagnosis import Change, Expected, Test
from faultkit.vocabulary.kinds import KINDS
from faultkit.vocabulary.machine import Machine


@dataclass(slots=True, eq=False)
class Row:
    """Columns of one variant: T tests, S symptoms, W words at most."""

    value: Floats
    level: Floats
    sigma: Floats
    word_p: Floats
    symptom_p: Floats
    by_hand: NDArray[np.bool_]
    chatters: NDArray[np.bool_]
    blows: NDArray[np.int16]
    """(F,) index of the condition that blows each fuse, -1 for none."""


def words_of(test: Test, machine: Machine) -> tuple[str, ...]:
    """Return the words that a test can give; empty if it gives a number."""
    if test.meter != "words":
        return ()
    if test.words:
        return test.words
    if test.sees and test.sees in machine.devices:
        return KINDS[machine.devices[test.sees].kind].shows
    return ()


def fuses_of(machine: Machine) -> tuple[str, ...]:
    """Return the designations of fuses and breakers, in the machine's order."""
    return tuple(d.id for d in machine.devices.values() if d.kind in ("fuse", "breaker"))


def _firm(value: float) -> float:
    """Cut off the digits that depend on the order of solving: the same table every time."""
    return float(f"{value:.7g}")


def number_read(circuit: Circuit, simulation: Simulation,
                test: Test) -> tuple[float, float, float]:
    """Return value, level and sigma of a computed test that reads a number."""
    (measured,) = circuit.read(simulation, [test])
    return _number(simulation, test, measured)


def _number(simulation: Simulation, test: Test, measured: Measured) -> tuple[float, float, float]:
    restless = bool(simulation.at(test.condition).chattering)
    value = relied_on(test.meter, _firm(measured.value))
    return value, _firm(measured.level), spread(test.meter, value, chatters=restless,
                                                inner=measured.inner)


class RowMaker:
    """Makes rows for one machine."""

    def __init__(self, circuit: Circuit, tests: Sequence[Test]) -> None:
        self.circuit = circuit
        self.machine = circuit.machine
        self.tests = tuple(tests)
        self.words = tuple(words_of(test, self.machine) for test in tests)
        self.width = max((len(words) for words in self.words), default=1) or 1
        self._computed = [k for k, test in enumerate(tests) if is_computed(test)]
        self._conditions = tuple(self.machine.conditions)
        self._fuses = fuses_of(self.machine)
        self._symptoms = tuple(self.machine.symptoms.values())

    def make(self, changes: Sequence[Change], expect: Mapping[str, Expected],
             symptoms: Mapping[str, float]) -> Row:
        """Compute one row; `expect` and `symptoms` are the author's word, which goes first."""
        row = self._empty()
        if self._computed or any(symptom.when for symptom in self._symptoms):
            self._compute(row, self.circuit.simulate(changes))
        for k, test in enumerate(self.tests):
            own = expect.get(test.id) or (None if is_computed(test) else test.healthy)
            if own is not None:
                self._write_down(row, k, own)
        for k, symptom in enumerate(self._symptoms):
            if symptom.id in symptoms:
                row.symptom_p[k] = symptoms[symptom.id]
        return row

    def _empty(self) -> Row:
        size = len(self.tests)
        return Row(np.full(size, nan), np.zeros(size), np.ones(size),
                   np.zeros((size, self.width)), np.zeros(len(self._symptoms)),
                   np.zeros(size, dtype=np.bool_),
                   np.zeros(len(self._conditions), dtype=np.bool_),
                   np.full(len(self._fuses), -1, dtype=np.int16))

    def _compute(self, row: Row, simulation: Simulation) -> None:
        own = [self.tests[k] for k in self._computed]
        for k, measured in zip(self._computed, self.circuit.read(simulation, own), strict=True):
            test = self.tests[k]
            if test.sees and not test.until:
                self._say(row, k, {measured.word: 1.0})
                continue
            row.value[k], row.level[k], row.sigma[k] = _number(simulation, test, measured)
        for k, symptom in enumerate(self._symptoms):
            if symptom.when:
                moment = simulation.at(symptom.when)
                row.symptom_p[k] = all(word_of(simulation, moment, device) in words
                                       for device, words in symptom.sees.items())
        for k, condition in enumerate(self._conditions):
            row.chatters[k] = bool(simulation.at(condition).chattering)
        for name, condition in simulation.blew.items():
            k = self._fuses.index(name.partition(":")[0])
            row.blows[k] = self._conditions.index(condition)

    def _say(self, row: Row, k: int, words: Mapping[str, float]) -> None:
        """Write word probabilities, each softened by the chance of a slip."""
        known = self.words[k]
        if not known:
            return
        row.word_p[k, :len(known)] = WORD_SLIP / len(known)
        for word, share in words.items():
            if word in known:
                row.word_p[k, known.index(word)] += (1 - WORD_SLIP) * share
        total = row.word_p[k].sum()
        row.word_p[k] /= total

    def _write_down(self, row: Row, k: int, own: Expected) -> None:
        """Let the author's word stand."""
        row.by_hand[k] = True
        if own.words:
            self._say(row, k, own.words)
            return
        meter = self.tests[k].meter
        low = relied_on(meter, own.low if own.low is not None else -inf)
        high = own.high if own.high is not None else inf
        if isinf(low) and low > 0:
            row.value[k], row.sigma[k] = inf, spread(meter, inf)
        else:
            # an author's range holds about 95 % of readings: four standard deviations
            row.value[k] = (low + high) / 2
            row.sigma[k] = max((high - low) / 4, spread(meter, row.value[k]))
        row.level[k] = 0.0
