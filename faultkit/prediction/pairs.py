"""Rows for two faults at once, computed when single faults fit badly."""

from collections.abc import Mapping, Sequence
from itertools import product

import numpy as np

from faultkit.circuit.circuit import Circuit
from faultkit.errors import CircuitError
from faultkit.prediction.rows import Row, RowMaker
from faultkit.prediction.table import PairRows, Prediction
from faultkit.vocabulary.diagnosis import Change, Expected

ROWS_A_PAIR = 4
"""Severities tried at most for one pair."""


class PairPredictor:
    """Computes pairs of causes on demand and remembers them."""

    def __init__(self, prediction: Prediction, circuit: Circuit) -> None:
        self._prediction = prediction
        self._circuit = circuit
        self._rows: dict[tuple[int, int, tuple[int, ...]], list[tuple[float, Row]]] = {}

    def __call__(self, pairs: Sequence[tuple[int, int]], tests: Sequence[int]) -> PairRows:
        """Return the rows of these pairs on these tests, by index in the prediction.

        A pair that cannot be computed, because its changes exclude each other, is left out.
        """
        chosen = tuple(tests)
        maker = RowMaker(self._circuit, [self._prediction.tests[k] for k in chosen])
        owner: list[tuple[int, int]] = []
        share: list[float] = []
        rows: list[Row] = []
        for pair in pairs:
            for part, row in self._pair(maker, pair, chosen):
                owner.append(pair)
                share.append(part)
                rows.append(row)
        return self._table(owner, share, rows, chosen)

    def _pair(self, maker: RowMaker, pair: tuple[int, int], tests: tuple[int, ...],
              ) -> list[tuple[float, Row]]:
        key = (*pair, tests)
        if key not in self._rows:
            one, two = (self._prediction.causes[k] for k in pair)
            both = list(product(one.variants or ((),), two.variants or ((),)))[:ROWS_A_PAIR]
            expect = dict(one.expect) | dict(two.expect)
            symptoms = _either(one.symptoms, two.symptoms)
            found = []
            for first, second in both:
                row = _compute(maker, (*first, *second), expect, symptoms)
                if row is not None:
                    found.append(row)
            # severities that exclude each other do not occur: the others share the whole
            self._rows[key] = [(1 / len(found), row) for row in found]
        return self._rows[key]

    def _table(self, owner: list[tuple[int, int]], share: list[float], rows: list[Row],
               tests: tuple[int, ...]) -> PairRows:
        def stacked(name: str, *shape: int) -> np.ndarray:
            if not rows:
                return np.zeros((0, *shape))
            return np.stack([getattr(row, name) for row in rows])

        width = self._prediction.word_p.shape[2]
        word_p = np.zeros((len(rows), len(tests), width))
        narrow = stacked("word_p", len(tests), 1)
        size = min(width, narrow.shape[2])
        word_p[:, :, :size] = narrow[:, :, :size]
        return PairRows(
            owner=tuple(owner), share=np.array(share), tests=np.array(tests, dtype=np.int64),
            value=stacked("value", len(tests)), level=stacked("level", len(tests)),
            sigma=stacked("sigma", len(tests)), word_p=word_p,
            symptom_p=stacked("symptom_p", len(self._prediction.symptoms)))


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
