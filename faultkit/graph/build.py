"""Build the digraph from the machine and what is predicted for it."""

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from faultkit.errors import KnowledgeError
from faultkit.graph.nodes import node
from faultkit.graph.readable import readable
from faultkit.prediction.table import Floats, Ints, Prediction

SHOWS = 0.01
"""A symptom less probable than this under every variant of a cause is not explained by it."""
APART = 3.0
"""Numbers count as different from this many standard deviations on."""
WORDS_APART = 0.05
"""Words count as different when this much probability has moved."""


def build_graph(prediction: Prediction) -> "nx.DiGraph[str]":
    """Digraph of a machine, frozen.

    Nodes carry `kind` and `says`; edges carry `means` (`explains`, `moves`, `cured by`,
    `comes before`), and `p` or `expected` where there is a figure.

    Raises
    ------
    KnowledgeError
        Tests that need each other in a circle.
    """
    machine = prediction.machine
    graph: nx.DiGraph[str] = nx.DiGraph(machine=machine.id)
    for symptom in machine.symptoms.values():
        graph.add_node(node("symptom", symptom.id), kind="symptom", says=symptom.says)
    for cause in prediction.causes:
        graph.add_node(node("cause", cause.id), kind="cause", says=cause.says,
                       device=cause.device)
    for test in machine.tests.values():
        graph.add_node(node("test", test.id), kind="test", says=test.does,
                       needs=test.needs)
    for remedy in machine.remedies.values():
        graph.add_node(node("remedy", remedy.id), kind="remedy", says=remedy.says)
    _join_symptoms(graph, prediction)
    _join_tests(graph, prediction)
    for cause in prediction.causes:
        graph.add_edge(node("cause", cause.id), node("remedy", cause.remedy), means="cured by")
    for test in machine.tests.values():
        for first in test.needs:
            graph.add_edge(node("test", first), node("test", test.id), means="comes before")
    _refuse_circles(graph)
    return nx.freeze(graph)


def _join_symptoms(graph: "nx.DiGraph[str]", prediction: Prediction) -> None:
    of_cause = cause_rows(prediction)
    for column, symptom in enumerate(prediction.symptoms):
        for cause, rows in zip(prediction.causes, of_cause, strict=True):
            share = prediction.share[rows]
            shows = prediction.symptom_p[rows, column]
            if shows.size and shows.max() >= SHOWS:
                graph.add_edge(node("symptom", symptom), node("cause", cause.id),
                               means="explains", p=float(shows @ share / share.sum()))


def _join_tests(graph: "nx.DiGraph[str]", prediction: Prediction) -> None:
    moved, value = moved_rows(prediction), readable(prediction)
    for cause, rows in zip(prediction.causes, cause_rows(prediction), strict=True):
        for column in np.flatnonzero(moved[rows].any(axis=0)).tolist():
            strongest = int(rows[moved[rows, column]][0])
            graph.add_edge(node("cause", cause.id), node("test", prediction.tests[column].id),
                           means="moves", expected=_expected(prediction, value, strongest, column))


def _expected(prediction: Prediction, value: Floats, row: int, column: int) -> float | str:
    words = prediction.words[column]
    if words:
        return words[int(prediction.word_p[row, column, :len(words)].argmax())]
    return float(value[row, column])


def _refuse_circles(graph: "nx.DiGraph[str]") -> None:
    try:
        circle = nx.find_cycle(graph)
    except nx.NetworkXNoCycle:
        return
    names = ", ".join(edge[0].removeprefix("test:") for edge in circle)
    raise KnowledgeError(f"These tests need each other in a circle: {names}.",
                         "Remove one of them from `needs`.")


def cause_rows(prediction: Prediction) -> list[Ints]:
    """Rows of each cause's variants, in the order of the causes."""
    return [np.flatnonzero(prediction.owner == index) for index in range(len(prediction.causes))]


def moved_rows(prediction: Prediction) -> NDArray[np.bool_]:
    """(V, T) True where a variant's reading differs from the healthy one beyond its spread.

    Two finite numbers differ beyond `APART` joint standard deviations, `OL` differs from
    every finite number, words differ when `WORDS_APART` of the probability has moved.
    """
    value, sigma = readable(prediction), prediction.sigma
    off_scale = np.isinf(value)
    both = np.isfinite(value) & np.isfinite(value[-1])
    spread = np.hypot(sigma, sigma[-1])
    with np.errstate(invalid="ignore"):
        far = both & (np.abs(value - value[-1]) > APART * spread)
    atom = (off_scale != off_scale[-1]) & ~np.isnan(value) & ~np.isnan(value[-1])
    said = 0.5 * np.abs(prediction.word_p - prediction.word_p[-1]).sum(axis=2) > WORDS_APART
    return np.asarray(far | atom | said)
