"""Build the digraph from the machine and what is predicted for it."""

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from faultkit.errors import KnowledgeError
from faultkit.graph.nodes import node
from faultkit.prediction.table import Ints, Prediction

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
    frozen: nx.DiGraph[str] = nx.freeze(graph)
    return frozen


def _join_symptoms(graph: "nx.DiGraph[str]", prediction: Prediction) -> None:
    known = prediction.owner >= 0
    owner, share = prediction.owner[known], prediction.share[known, np.newaxis]
    shape = (len(prediction.causes), len(prediction.symptoms))
    most, mean, whole = np.zeros(shape), np.zeros(shape), np.zeros((shape[0], 1))
    np.maximum.at(most, owner, prediction.symptom_p[known])
    np.add.at(mean, owner, share * prediction.symptom_p[known])
    np.add.at(whole, owner, share)
    mean /= np.maximum(whole, np.finfo(float).tiny)
    symptoms = [node("symptom", symptom) for symptom in prediction.symptoms]
    causes = [node("cause", cause.id) for cause in prediction.causes]
    graph.add_edges_from(
        (symptoms[column], causes[row], {"means": "explains", "p": float(mean[row, column])})
        for column, row in np.argwhere(most.T >= SHOWS).tolist())


def _join_tests(graph: "nx.DiGraph[str]", prediction: Prediction) -> None:
    moved, value = moved_rows(prediction), prediction.value
    strongest = np.full((len(prediction.causes), len(prediction.tests)), -1)
    for row in range(len(prediction.owner) - 1, -1, -1):
        if prediction.owner[row] >= 0:
            strongest[prediction.owner[row], moved[row]] = row
    word_p = prediction.word_p
    causes = [node("cause", cause.id) for cause in prediction.causes]
    tests = [node("test", test.id) for test in prediction.tests]
    for cause, column in np.argwhere(strongest >= 0).tolist():
        row, words = strongest[cause, column], prediction.words[column]
        expected = (words[int(word_p[row, column, :len(words)].argmax())] if words
                    else float(value[row, column]))
        graph.add_edge(causes[cause], tests[column], means="moves", expected=expected)


def _refuse_circles(graph: "nx.DiGraph[str]") -> None:
    """Look among the tests only: every other edge leads on to another kind of node."""
    tests = (name for name in graph if graph.nodes[name]["kind"] == "test")
    try:
        circle = nx.find_cycle(graph.subgraph(tests))
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
    value, sigma = prediction.value, prediction.sigma
    off_scale = np.isinf(value)
    both = np.isfinite(value) & np.isfinite(value[-1])
    spread = np.hypot(sigma, sigma[-1])
    with np.errstate(invalid="ignore"):
        far = both & (np.abs(value - value[-1]) > APART * spread)
    atom = (off_scale != off_scale[-1]) & ~np.isnan(value) & ~np.isnan(value[-1])
    said = 0.5 * np.abs(prediction.word_p - prediction.word_p[-1]).sum(axis=2) > WORDS_APART
    return np.asarray(far | atom | said)
