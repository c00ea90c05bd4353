"""A faulty machine that answers like the real one: computed readings, meter noise, last digit.

The supply stands a few percent off its rated value, as it does in the field, and every reading
is computed by the circuit for this very machine; nothing is taken from the table that the
finder uses, except what the author wrote by hand.
"""

from dataclasses import dataclass, field
from math import floor, inf, isinf, log10

import numpy as np

from faultkit.circuit.circuit import Circuit, is_computed
from faultkit.circuit.meter import word_of
from faultkit.circuit.simulation import Simulation
from faultkit.prediction.table import Prediction
from faultkit.vocabulary.diagnosis import Change, Reading, Test

NOISE = 0.02
"""Largest relative error of a reading, either way."""
COUNTS = 4000
"""Of the meter's display."""
SUPPLY = 0.04
"""Largest deviation of the supply from its rated value, either way."""


def on_display(value: float) -> float:
    """Round to the last digit of a display of 4000 counts (ranges 4, 40, 400 ...)."""
    if value == 0 or isinf(value):
        return value
    decade = floor(log10(abs(value) / COUNTS * 1000))
    digit = 10.0 ** (decade - 2)
    if abs(value) / digit > COUNTS:
        digit *= 10
    return round(value / digit) * digit


@dataclass
class FaultyHoist:
    """One machine with one or more causes in it."""

    prediction: Prediction
    circuit: Circuit
    causes: tuple[int, ...]
    rng: np.random.Generator
    simulation: Simulation = field(init=False)

    def __post_init__(self) -> None:
        changes: list[Change] = []
        self.rows = [self._variant(cause) for cause in self.causes]
        for cause, (severity, _) in zip(self.causes, self.rows, strict=True):
            variants = self.prediction.causes[cause].variants
            changes += variants[severity] if variants else ()
        supply: list[Change] = []
        mains = [d.id for d in self.circuit.machine.devices.values() if d.kind == "mains"]
        touched = {change.target for change in changes}
        for device in mains:
            if f"{device}/level" not in touched:
                level = 1 + self.rng.uniform(-SUPPLY, SUPPLY)
                supply.append(Change("attribute", f"{device}/level", f"{level:.4f}"))
        changes += supply
        self.simulation = self.circuit.simulate(changes)
        self._away = max(self.prediction.causes[cause].intermittent for cause in self.causes)
        self._sound = self.circuit.simulate(supply) if self._away else self.simulation

    def _variant(self, cause: int) -> tuple[int, int]:
        """Return a severity by its number and its row in the table."""
        rows = np.flatnonzero(self.prediction.owner == cause)
        severity = int(self.rng.integers(len(rows)))
        return severity, int(rows[severity])

    def shows(self) -> dict[str, bool]:
        """Return whether each symptom shows on this machine."""
        machine = self.circuit.machine
        result = {}
        for k, symptom in enumerate(machine.symptoms.values()):
            own = [self.prediction.causes[c].symptoms.get(symptom.id) for c in self.causes]
            given = [p for p in own if p is not None]
            if given:
                result[symptom.id] = bool(self.rng.random() < max(given))
            elif symptom.when:
                moment = self.simulation.at(symptom.when)
                result[symptom.id] = all(word_of(self.simulation, moment, device) in words
                                         for device, words in symptom.sees.items())
            else:
                result[symptom.id] = bool(self.rng.random()
                                          < self.prediction.symptom_p[-1, k])
        return result

    def read(self, test: Test) -> Reading:
        """Return what the electrician reads; an intermittent fault is away now and then."""
        away = bool(self.rng.random() < self._away)
        column = next(k for k, t in enumerate(self.prediction.tests) if t.id == test.id)
        hand = [row for _, row in self.rows if self.prediction.by_hand[row, column]]
        if hand or not is_computed(test):
            row = hand[0] if hand else self.rows[0][1]
            return self._by_hand(column, len(self.prediction.owner) - 1 if away else row)
        measured = self.circuit.read(self._sound if away else self.simulation, [test])[0]
        if measured.word:
            return Reading(None, measured.word)
        return Reading(self._noisy(measured.value))

    def _noisy(self, value: float) -> float:
        if isinf(value):
            return inf
        return on_display(value * (1 + self.rng.uniform(-NOISE, NOISE)))

    def _by_hand(self, column: int, row: int) -> Reading:
        words = self.prediction.words[column]
        if words:
            p = self.prediction.word_p[row, column, :len(words)]
            return Reading(None, str(self.rng.choice(list(words), p=p / p.sum())))
        value, sigma = self.prediction.value[row, column], self.prediction.sigma[row, column]
        if isinf(value):
            return Reading(inf)
        # the author's range is four standard deviations wide: stay inside it
        return Reading(on_display(max(value + sigma * self.rng.uniform(-2, 2), 0.0)))
