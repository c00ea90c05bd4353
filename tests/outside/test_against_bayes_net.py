"""Posteriors and gains against a general-purpose Bayesian-network library."""

from typing import Any

import numpy as np
import pyagrum
import pytest

from faultkit.belief import hypotheses, weigh
from faultkit.belief.likelihood import MISTAKE, UNKNOWN_HEALTHY
from faultkit.choice.gain import gain_table, gains
from faultkit.graph import build_graph
from faultkit.vocabulary.diagnosis import Reading
from tests.belief.made_up import Cell, MadeUp

gum: Any = pyagrum  # its calls carry no types

pytestmark = pytest.mark.outside


def star(prior: np.ndarray, tables: np.ndarray) -> "pyagrum.BayesNet":
    """One cause variable with a child for every test: tables (C, T, K)."""
    net: pyagrum.BayesNet = gum.BayesNet()
    net.add(gum.LabelizedVariable("cause", "cause", prior.size))
    net.cpt("cause")[:] = prior
    for t in range(tables.shape[1]):
        net.add(gum.LabelizedVariable(f"t{t}", f"t{t}", tables.shape[2]))
        net.addArc("cause", f"t{t}")
        for c in range(prior.size):
            net.cpt(f"t{t}")[{"cause": c}] = tables[c, t]
    return net


@pytest.mark.parametrize("seed", range(6))
def test_posteriors_agree_to_twelve_digits(seed: int) -> None:
    """Words; the mixture for mistakes, intermittence and the unknown fault written out."""
    rng = np.random.default_rng(seed)
    words = ("a", "b", "c", "d")
    made = MadeUp(unknown=float(rng.uniform(0.01, 0.2)))
    count, tests = 8, 6
    said = rng.dirichlet(np.full(4, 0.5), (count + 1, tests))
    away = rng.choice([0.0, 0.2], count)
    for t in range(tests):
        made.test(f"t{t}", dict(zip(words, said[-1, t].tolist(), strict=True)), words=words)
    weight = rng.uniform(1.0, 5.0, count)
    for c in range(count):
        cells: dict[str, Cell] = {
            f"t{t}": dict(zip(words, said[c, t].tolist(), strict=True)) for t in range(tests)}
        made.cause(f"c{c}", cells, weight=float(weight[c]), intermittent=float(away[c]))
    prediction = made.prediction()
    space = hypotheses(prediction, build_graph(prediction))

    own = (1 - away)[:, None, None] * said[:-1] + away[:, None, None] * said[-1]
    unknown = UNKNOWN_HEALTHY * said[-1] + (1 - UNKNOWN_HEALTHY) / 4
    tables = (1 - MISTAKE) * np.concatenate([own, unknown[None]]) + MISTAKE / 4
    prior = np.append((1 - made.unknown) * weight / weight.sum(), made.unknown)
    engine = gum.LazyPropagation(star(prior, tables))
    shown = rng.integers(0, 4, tests)
    engine.setEvidence({f"t{t}": int(shown[t]) for t in range(tests)})
    engine.makeInference()

    belief = weigh(space, {}, [(f"t{t}", Reading(None, words[shown[t]])) for t in range(tests)])
    assert belief.rows == pytest.approx(engine.posterior("cause").toarray(), abs=1e-12)


@pytest.mark.parametrize("seed", range(4))
def test_gains_agree_to_twelve_digits(seed: int) -> None:
    rng = np.random.default_rng(100 + seed)
    prior, tables = rng.dirichlet(np.ones(10)), rng.dirichlet(np.full(3, 0.5), (10, 7))
    net = star(prior, tables)
    expected = [gum.InformationTheory(gum.LazyPropagation(net), ["cause"], [f"t{t}"])
                .mutualInformationXY() for t in range(7)]
    assert gains(gain_table(tables, np.arange(10)), prior) == pytest.approx(expected, abs=1e-12)
