"""One more column of the table: a test that nobody foresaw, under every cause."""

from dataclasses import replace

import numpy as np

from faultkit.circuit.circuit import Circuit
from faultkit.prediction.predict import variants_of
from faultkit.prediction.rows import number_read
from faultkit.prediction.table import Prediction
from faultkit.vocabulary.diagnosis import Change, Test


def with_column(prediction: Prediction, test: Test, circuit: Circuit) -> Prediction:
    """Return the prediction with one more test, which reads a number.

    A variant that blows no fuse is brought into the one condition only.

    Raises
    ------
    CircuitError
        If the network cannot be solved, or a point is not in it.
    """
    variants = variants_of(prediction.causes)
    found: dict[tuple[Change, ...], tuple[float, float, float]] = {}
    for variant, blows in zip(variants, prediction.blows.tolist(), strict=True):
        if variant.changes not in found:  # many causes change nothing that is wired
            simulation = circuit.simulate(variant.changes, fuses_hold=max(blows, default=-1) < 0)
            found[variant.changes] = number_read(circuit, simulation, test)
    value, level, sigma = np.array([found[variant.changes] for variant in variants]).T
    machine = prediction.machine
    rows, _, words = prediction.word_p.shape
    return replace(
        prediction,
        machine=replace(machine, tests={**machine.tests, test.id: test}),
        tests=(*prediction.tests, test),
        value=np.column_stack([prediction.value, value]),
        level=np.column_stack([prediction.level, level]),
        sigma=np.column_stack([prediction.sigma, sigma]),
        words=(*prediction.words, ()),
        word_p=np.concatenate([prediction.word_p, np.zeros((rows, 1, words))], axis=1),
        by_hand=np.column_stack([prediction.by_hand, np.zeros(rows, dtype=np.bool_)]))
