"""The whole table of a machine, from the cache or from the circuit."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from faultkit.circuit.circuit import Circuit
from faultkit.prediction.cache import fetch, keep, key_of
from faultkit.prediction.rows import Row, RowMaker, words_of
from faultkit.prediction.table import Floats, Ints, Prediction
from faultkit.prediction.workers import Task, make_by_workers, make_row
from faultkit.vocabulary.diagnosis import Cause, Change, Test
from faultkit.vocabulary.machine import Machine

WORTH_WORKERS = 120
"""Rows from which starting processes pays."""
TOLD_APART = 4.0
"""Readings this many standard deviations apart are different outcomes."""


@dataclass(frozen=True, slots=True)
class Variant:
    """A row to be made."""

    owner: int
    share: float
    changes: tuple[Change, ...]


def variants_of(causes: Sequence[Cause]) -> list[Variant]:
    """Return one variant per severity of each cause, and the healthy machine last."""
    result = []
    for k, cause in enumerate(causes):
        severities: tuple[tuple[Change, ...], ...] = cause.variants or ((),)
        result += [Variant(k, 1 / len(severities), changes) for changes in severities]
    return [*result, Variant(-1, 1.0, ())]


def predict(machine: Machine, cache: Path | None = None, *, circuit: Circuit | None = None,
            narrate: Callable[[int, int], None] | None = None,
            unkept: Callable[[str], None] | None = None,
            processes: int = 1) -> Prediction:
    """Work out what every test reads under every cause.

    Parameters
    ----------
    machine : Machine
    cache : Path, optional
        Folder in which tables are kept by the hash of their content; None keeps nothing.
    circuit : Circuit, optional
        The machine's circuit, if it is at hand.
    narrate : callable, optional
        Told the rows made and the rows to make, now and then.
    unkept : callable, optional
        Told why the table could not be written into the folder.
    processes : int
        Worker processes for a large table; with 1 all is done here (see `workers`).

    Raises
    ------
    CircuitError
        If the network cannot be solved, naming devices.
    """
    key = key_of(machine)
    arrays = fetch(cache, key)
    causes = tuple(machine.causes.values())
    tests = tuple(machine.tests.values())
    variants = variants_of(causes)
    if arrays is None:
        tasks = [(causes[v.owner].id if v.owner >= 0 else "", v.changes) for v in variants]

        def tell(done: int) -> None:
            if narrate is not None:
                narrate(done, len(tasks))

        if processes > 1 and len(tasks) >= WORTH_WORKERS:
            rows = make_by_workers(machine, tests, tasks, processes, tell)
        else:
            rows = _make_here(RowMaker(circuit or Circuit(machine), tests), tasks, tell)
        arrays = _stacked(tests, rows)
        why = keep(cache, key, arrays)
        if why and unkept is not None:
            unkept(why)
    return _table(machine, causes, tests, variants, arrays)


def _make_here(maker: RowMaker, tasks: Sequence[Task], tell: Callable[[int], None]) -> list[Row]:
    rows: list[Row] = []
    for task in tasks:
        rows.append(make_row(maker, task))
        if len(rows) % 20 == 0:
            tell(len(rows))
    return rows


def _stacked(tests: Sequence[Test], rows: Sequence[Row]) -> dict[str, NDArray[np.generic]]:
    """Return the rows as arrays, without the generated tests that tell nothing."""
    arrays = {name: np.stack([getattr(row, name) for row in rows])
              for name in ("value", "level", "sigma", "word_p", "symptom_p", "by_hand",
                           "chatters", "blows")}
    useful = [not test.generated or tells_apart(arrays["value"][:, k], arrays["sigma"][:, k],
                                                arrays["word_p"][:, k])
              for k, test in enumerate(tests)]
    kept = np.flatnonzero(useful)
    for name in ("value", "level", "sigma", "word_p", "by_hand"):
        arrays[name] = arrays[name][:, kept]
    arrays["kept"] = kept
    return arrays


def tells_apart(value: Floats, sigma: Floats, word_p: Floats) -> bool:
    """Tell whether some variant rules out what another one reads.

    Parameters
    ----------
    value, sigma : (V,) expected readings and standard deviations
    word_p : (V, W) word probabilities, zero for numbers
    """
    if np.isnan(value).all():
        return bool(np.ptp(word_p, axis=0).max() > 0.5)
    over = np.isinf(value)
    if over.any() and not over.all():
        return True
    if over.all():
        return False
    farthest = np.maximum(value.max() - value, value - value.min())
    return bool((farthest > TOLD_APART * sigma).any())


def _table(machine: Machine, causes: tuple[Cause, ...], tests: tuple[Test, ...],
           variants: Sequence[Variant], arrays: dict[str, NDArray[np.generic]]) -> Prediction:
    kept = tuple(tests[int(k)] for k in arrays["kept"].tolist())
    owner: Ints = np.array([variant.owner for variant in variants], dtype=np.int64)
    share: Floats = np.array([variant.share for variant in variants])
    floats = {name: np.asarray(arrays[name], dtype=np.float64)
              for name in ("value", "level", "sigma", "word_p", "symptom_p")}
    return Prediction(
        machine=machine, causes=causes, tests=kept, owner=owner, share=share,
        value=floats["value"], level=floats["level"], sigma=floats["sigma"],
        words=tuple(words_of(test, machine) for test in kept), word_p=floats["word_p"],
        symptoms=tuple(machine.symptoms), symptom_p=floats["symptom_p"],
        by_hand=np.asarray(arrays["by_hand"], dtype=np.bool_),
        chatters=np.asarray(arrays["chatters"], dtype=np.bool_),
        blows=np.asarray(arrays["blows"], dtype=np.int16))
