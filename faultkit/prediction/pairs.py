"""Rows for two faults at once, computed when single faults fit badly."""

from collections.abc import Mapping, Sequence
from itertools import product

import numpy as np

from faultkit.circuit.circuit import Circuit
from faultkit.errors import CircuitError
from faultkit.prediction.rows import Row, RowMaker
from faultkit.prediction.table import Floats, PairRows, Prediction
from faultkit.vocabulary.diagnosis import Change, Expected

KEPT_PAIRS = 600
"""Pairs remembered; the oldest goes first."""
ROWS_A_PAIR = 4
"""Severities tried at most for one pair."""


class PairPredictor:
    """Computes pairs of causes on demand and remembers them.

    A pair is simulated once and read by every test: the next question about it, which comes
    with the next reading of the job, costs nothing.
    """

    def __init__(self, prediction: Prediction, circuit: Circuit) -> None:
        self._prediction = prediction
        self.circuit = circuit
        self._maker = RowMaker(circuit, prediction.tests)
        self._rows: dict[tuple[int, int], list[tuple[float, Row]]] = {}

    def __call__(self, pairs: Sequence[tuple[int, int]], tests: Sequence[int]) -> PairRows:
        """Return the rows of these pairs on these tests, by index in the prediction.

        A pair that cannot be computed, because its changes exclude each other, is left out.
        """
        owner: list[tuple[int, int]] = []
        share: list[float] = []
        rows: list[Row] = []
        for pair in pairs:
            for part, row in self._pair(pair):
                owner.append(pair)
                share.append(part)
                rows.append(row)
        chosen = np.array(tests, dtype=np.int64)
        return PairRows(
            owner=tuple(owner), share=np.array(share), tests=chosen,
            value=self._stacked("value", rows)[:, chosen],
            level=self._stacked("level", rows)[:, chosen],
            sigma=self._stacked("sigma", rows)[:, chosen],
            word_p=self._words(rows)[:, chosen],
            symptom_p=self._stacked("symptom_p", rows))

    def _pair(self, pair: tuple[int, int]) -> list[tuple[float, Row]]:
        if pair not in self._rows:
            if len(self._rows) >= KEPT_PAIRS:
                del self._rows[next(iter(self._rows))]
            one, two = (self._prediction.causes[k] for k in pair)
            both = list(product(one.variants or ((),), two.variants or ((),)))[:ROWS_A_PAIR]
            expect = dict(one.expect) | dict(two.expect)
            symptoms = _either(one.symptoms, two.symptoms)
            made = [_compute(self._maker, (*first, *second), expect, symptoms)
                    for first, second in both]
            # severities that exclude each other do not occur: the others share the whole
            found = [row for row in made if row is not None]
            self._rows[pair] = [(1 / len(found), row) for row in found]
        return self._rows[pair]

    def _words(self, rows: Sequence[Row]) -> Floats:
        """Return (P, T, W) word probabilities, as wide as the table's."""
        wide = np.zeros((len(rows), *self._prediction.word_p.shape[1:]))
        for one, row in zip(wide, rows, strict=True):
            one[:, :row.word_p.shape[1]] = row.word_p
        return wide

    def _stacked(self, name: str, rows: Sequence[Row]) -> Floats:
        """Return one field of the rows, (P, ...), also where there is no row at all."""
        if rows:
            return np.stack([getattr(row, name) for row in rows])
        table = self._prediction
        size = table.symptom_p.shape[1] if name == "symptom_p" else len(table.tests)
        return np.zeros((0, size))


def _compute(maker: RowMaker, changes: Sequence[Change], expect: dict[str, Expected],
             symptoms: dict[str, float]) -> Row | None:
    touched = [(change.what, change.target) for change in changes]
    if len(set(touched)) < len(touched):
        return None
    try:
        return maker.make(changes, expect, symptoms)
    except CircuitError:
        return None


def _either(first: Mapping[str, float], second: Mapping[str, float]) -> dict[str, float]:
    """Return the probability that either cause shows a symptom."""
    return {name: 1 - (1 - first.get(name, 0.0)) * (1 - second.get(name, 0.0))
            for name in {*first, *second}}
