"""Build the digraph from the machine and what is predicted for it."""

import networkx as nx
import numpy as np

from faultkit.errors import KnowledgeError
from faultkit.graph.nodes import node
from faultkit.prediction.table import Prediction

SHOWS = 0.01
"""A symptom less probable than this under every variant of a cause is not explained by it."""


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
    moved, value = prediction.moved, prediction.value
    strongest = np.full((len(prediction.causes), len(prediction.tests)), -1)
    for row in range(len(prediction.owner) - 1, -1, -1):
        if prediction.owner[row] >= 0:
            strongest[prediction.owner[row], moved[row]] = row
    said = (prediction.word_p.argmax(axis=2) if any(prediction.words)
            else np.zeros(value.shape, dtype=np.int64))
    causes = [node("cause", cause.id) for cause in prediction.causes]
    tests = [node("test", test.id) for test in prediction.tests]
    there = np.argwhere(strongest >= 0)
    column = there[:, 1]
    shown = strongest[there[:, 0], column]
    graph.add_edges_from(
        (causes[c], tests[t], {"means": "moves", "expected":
                               prediction.words[t][word] if prediction.words[t] else number})
        for (c, t), word, number in zip(there.tolist(), said[shown, column].tolist(),
                                        value[shown, column].tolist(), strict=True))


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
