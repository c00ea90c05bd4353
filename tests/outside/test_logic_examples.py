"""Cascaded inverters and the adder with multipliers: de Kleer & Williams 1987.

As machines of ours, written by hand in YAML, and their published figures (worked out again;
the printed ones from memory) by the gains themselves.
"""

from collections.abc import Sequence
from itertools import product
from pathlib import Path

import numpy as np
import pytest

from faultkit.belief import hypotheses, weigh, with_pairs
from faultkit.choice.gain import gain_table, gains
from faultkit.graph import build_graph
from faultkit.job.assess import assess
from faultkit.job.events import ReadingTaken, SymptomTold
from faultkit.job.knowledge import know
from faultkit.job.records import JobState
from faultkit.job.step import step
from faultkit.loading import load
from faultkit.prediction import Prediction, predict
from faultkit.prediction.table import PairRows
from faultkit.vocabulary.diagnosis import Reading

pytestmark = pytest.mark.outside
MACHINES = Path(__file__).parent / "machines"


def predicted(name: str) -> Prediction:
    loaded = load(MACHINES / f"{name}.yaml")
    assert loaded.machine is not None, loaded.problems
    return predict(loaded.machine)


def test_the_wrong_output_makes_all_four_inverters_equal_and_c_the_next_test() -> None:
    """Single-fault posteriors .25 each (.24624 with double faults): measure c, in the middle."""
    knowledge = know(predicted("inverters"))
    state = step(JobState("inverters"), SymptomTold("e-wrong", shows=True))
    state = step(state, ReadingTaken("e", Reading(None, "0")))
    found = assess(state, knowledge)
    assert [s.probability for s in found.suspects] == pytest.approx([0.25] * 4, abs=2e-3)
    assert found.next[0].test == "c"
    assert found.next[0].gain_bits > max(s.gain_bits for s in found.next[1:])


def inverter_worlds(fault: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Candidates (which inverters are faulty), the outputs they allow, and their joint prior.

    A faulty inverter gives 0 or 1, half and half: no fault model. Rows are worlds.
    """
    candidates, outputs, prior = [], [], []
    for number, faulty in enumerate(product([False, True], repeat=4)):
        for guess in product([0, 1], repeat=sum(faulty)):
            given, value, values = list(guess), 1, []
            for bad in faulty:
                value = given.pop(0) if bad else 1 - value
                values.append(value)
            candidates.append(number)
            outputs.append(values)
            chance = np.prod([fault if bad else 1 - fault for bad in faulty])
            prior.append(chance * 0.5 ** sum(faulty))
    return np.array(candidates), np.array(outputs), np.array(prior)


def entropies_after(candidates: np.ndarray, outputs: np.ndarray,
                    weight: np.ndarray) -> tuple[float, list[float]]:
    """Entropy of the candidates, and the one expected after b, c, d, e; in nat."""
    shares = np.bincount(candidates, weight)
    shares = shares[shares > 0.0]
    now = float(-(shares * np.log(shares)).sum())
    p = (outputs[:, :, None] == np.arange(2)).astype(float)
    told = gains(gain_table(p, candidates), weight) * np.log(2.0)
    return now, (now - told).tolist()


def test_four_inverters_with_both_ends_known_have_the_published_entropies() -> None:
    """P = .01, a = 1, e = 0: 1.4709 nat; after b .9138, c .7848, d .9138."""
    candidates, outputs, prior = inverter_worlds(0.01)
    weight = np.where(outputs[:, 3] == 0, prior, 0.0)
    weight /= weight.sum()
    singles = np.bincount(candidates, weight)[[1, 2, 4, 8]]
    assert singles == pytest.approx([0.24624] * 4, abs=1e-5)
    now, after = entropies_after(candidates, outputs, weight)
    assert now == pytest.approx(1.4709, abs=1e-4)
    assert after[:3] == pytest.approx([0.9138, 0.7848, 0.9138], abs=1e-4)


def test_four_inverters_with_only_the_input_known_are_measured_at_the_far_end() -> None:
    """Entropy .2240 nat; after b .1995, c .1820, d .1673, e .1544."""
    candidates, outputs, prior = inverter_worlds(0.01)
    now, after = entropies_after(candidates, outputs, prior)
    assert now == pytest.approx(0.2240, abs=1e-4)
    assert after == pytest.approx([0.1995, 0.1820, 0.1673, 0.1544], abs=1e-4)


READ = [("F", Reading(None, "10")), ("G", Reading(None, "12"))]


class Arithmetic:
    """Two faulty parts, each 2 too low or too high at its output: what is read, by arithmetic."""

    def __init__(self, prediction: Prediction) -> None:
        self.prediction = prediction
        self.names = [c.id for c in prediction.causes]

    def __call__(self, pairs: Sequence[tuple[int, int]], tests: Sequence[int]) -> PairRows:
        owner, word_p = [], []
        for pair in pairs:
            for off in product([-2, 2], repeat=2):
                wrong = {self.names[c]: o for c, o in zip(pair, off, strict=True)}
                owner.append(pair)
                word_p.append(self._words(wrong, tests))
        shape = (len(owner), len(tests))
        return PairRows(tuple(owner), np.full(len(owner), 0.25), np.array(list(tests)),
                        np.full(shape, np.nan), np.zeros(shape), np.ones(shape),
                        np.array(word_p), np.zeros((len(owner), 0)))

    def _words(self, wrong: dict[str, int], tests: Sequence[int]) -> np.ndarray:
        x, y, z = (6 + wrong.get(part, 0) for part in ("M1", "M2", "M3"))
        shown = {"X": x, "Y": y, "Z": z, "F": x + y + wrong.get("A1", 0),
                 "G": y + z + wrong.get("A2", 0)}
        p = np.zeros((len(tests), self.prediction.word_p.shape[2]))
        for i, test in enumerate(tests):
            words = self.prediction.words[test]
            word = str(shown[self.prediction.tests[test].id])
            if word in words:
                p[i, words.index(word)] = 1.0
        return p


def test_the_adder_has_the_four_published_minimal_candidates() -> None:
    """F = 10, G = 12: {A1}, {M1}, {A2, M2}, {M2, M3}; no other pair without A1 or M1 explains."""
    prediction = predicted("adder")
    space = with_pairs(hypotheses(prediction, build_graph(prediction)), {}, READ,
                       Arithmetic(prediction))
    belief = weigh(space, {}, READ)
    names = [c.id for c in prediction.causes]
    share = {frozenset(names[c] for c in s.causes): float(p)
             for s, p in zip(space.suspects, belief.suspects, strict=True)}
    singles = sorted((s for s in share if len(s) == 1), key=lambda s: -share[s])
    assert set(singles[:2]) == {frozenset({"A1"}), frozenset({"M1"})}
    assert min(share[s] for s in singles[:2]) > 20 * max(share[s] for s in singles[2:])
    minimal = {frozenset({"A2", "M2"}), frozenset({"M2", "M3"})}
    others = [s for s in share if len(s) == 2 and not s & {"A1", "M1"} and s not in minimal]
    assert minimal <= set(share)
    assert all(share[s] < 0.1 * min(share[m] for m in minimal) for s in others)
