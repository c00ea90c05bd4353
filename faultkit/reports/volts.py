"""Voltages along a run, computed for the healthy machine and with the fault that was found."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from faultkit.circuit.circuit import Circuit
from faultkit.circuit.simulation import Simulation
from faultkit.errors import CircuitError
from faultkit.job.knowledge import Knowledge
from faultkit.job.records import Entry
from faultkit.vocabulary.diagnosis import Cause, Change, Reading, Test
from faultkit.vocabulary.quantities import show_reading

VOLTS = ("V AC", "V DC", "V AC low", "V DC low")
LIVE = 0.1
"""Share of the highest healthy voltage on the run from which on a point counts as live."""
FAR = 6.0
"""Standard deviations after which a reading speaks no louder against a severity."""

State = Literal["live", "gone", "low", ""]


@dataclass(frozen=True, slots=True)
class Volts:
    """What stands at each point of a run, against its last one."""

    points: tuple[tuple[str, str, State], ...]
    """Healthy, with the fault, and what that makes of the point."""
    known: bool
    with_fault: bool


class Bench:
    """The circuit of one machine, and the simulations made of it so far."""

    def __init__(self, knowledge: Knowledge) -> None:
        self.knowledge = knowledge
        self._circuit = Circuit(knowledge.machine)
        self._simulations: dict[tuple[Change, ...], Simulation] = {}

    def along(self, test: Test, pins: Sequence[str], causes: Sequence[Cause],
              entries: Sequence[Entry]) -> Volts:
        """Voltages of these pins against the black point of a test, in its condition.

        Nothing is known in a dead condition, or where a pin is not part of the circuit.
        """
        nothing = Volts(tuple(("", "", "") for _ in pins), known=False, with_fault=False)
        if test.meter not in VOLTS or test.between is None:
            return nothing
        black = test.between[1]
        tests = [replace(test, between=(pin, black)) for pin in pins]
        try:
            healthy = self._read((), tests)
            changes = self._changes(causes, entries)
            found = self._read(changes, tests) if changes else None
        except CircuitError:
            return nothing
        most = max((abs(v) for v in healthy), default=0.0)
        if most == 0.0:
            return nothing
        return Volts(tuple(_point(test, v, found[k] if found else None, LIVE * most)
                           for k, v in enumerate(healthy)), known=True, with_fault=bool(found))

    def _read(self, changes: tuple[Change, ...], tests: Sequence[Test]) -> list[float]:
        if changes not in self._simulations:
            self._simulations[changes] = self._circuit.simulate(changes)
        return [one.value for one in self._circuit.read(self._simulations[changes], tests)]

    def _changes(self, causes: Sequence[Cause], entries: Sequence[Entry]) -> tuple[Change, ...]:
        """The severity of each cause that fits the readings best, made together."""
        made: list[Change] = []
        for cause in causes:
            if cause.variants:
                made += cause.variants[self._likeliest(cause, entries)]
        return tuple(made)

    def _likeliest(self, cause: Cause, entries: Sequence[Entry]) -> int:
        prediction = self.knowledge.prediction
        rows = np.flatnonzero(prediction.owner == prediction.causes.index(cause))
        columns = {test.id: k for k, test in enumerate(prediction.tests)}
        misfit = np.zeros(rows.size)
        for entry in entries:
            if (k := columns.get(entry.test)) is not None:
                misfit += [self._misfit(int(row), k, entry.reading) for row in rows]
        return min(int(misfit.argmin()), len(cause.variants) - 1)

    def _misfit(self, row: int, column: int, reading: Reading) -> float:
        """How badly a reading fits a row, in squares of standard deviations, at most FAR."""
        prediction = self.knowledge.prediction
        if reading.value is None:
            words = prediction.words[column]
            p = float(prediction.word_p[row, column, words.index(reading.word)]) if (
                reading.word in words) else 0.0
            return float(min(FAR ** 2, -2.0 * np.log(max(p, 1e-9))))
        expected = float(prediction.value[row, column])
        if np.isinf(expected) or np.isinf(reading.value):
            return 0.0 if expected == reading.value else FAR ** 2
        far = abs(reading.value - expected) / float(prediction.sigma[row, column])
        return float(min(FAR, far) ** 2) if far == far else 0.0


def _point(test: Test, healthy: float, found: float | None, least: float,
           ) -> tuple[str, str, State]:
    here = healthy if found is None else found
    state: State = "live" if abs(here) >= least else "gone" if abs(healthy) >= least else "low"
    return _text(test, healthy), "" if found is None else _text(test, found), state


def _text(test: Test, value: float) -> str:
    """Rounded as one reads it off the picture: whole volts, tenths below ten."""
    rounded = round(value, 1 if abs(value) < 9.95 else 0)
    text = show_reading(Reading(rounded), test.meter)
    return "0 V" if rounded == 0 else text.removesuffix(" AC").removesuffix(" DC")
