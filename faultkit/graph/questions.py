"""Questions on the digraph."""

from collections.abc import Collection, Iterable

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from faultkit.graph.nodes import node, record_id


def candidates(graph: "nx.DiGraph[str]", complaints: Iterable[str]) -> frozenset[str]:
    """Ids of the causes that could explain at least one of the complaints.

    They are the descendants of the complaints that are causes. Without a complaint every
    cause is a candidate.
    """
    asked = [node("symptom", complaint) for complaint in complaints]
    if not asked:
        return frozenset(record_id(n) for n in graph if graph.nodes[n]["kind"] == "cause")
    found: set[str] = set()
    for complaint in asked:
        found.update(n for n in graph.successors(complaint))
    return frozenset(record_id(n) for n in found)


def splitting_tests(graph: "nx.DiGraph[str]", live: Collection[str]) -> frozenset[str]:
    """Ids of the tests whose reading at least one live cause moves.

    All others read the same, healthy, under every live cause.
    """
    found: set[str] = set()
    for cause in live:
        found.update(graph.successors(node("cause", cause)))
    return frozenset(record_id(n) for n in found if graph.nodes[n]["kind"] == "test")


def moved_by(graph: "nx.DiGraph[str]", cause: str) -> frozenset[str]:
    """Ids of the tests whose reading a cause moves."""
    return frozenset(record_id(n) for n in graph.successors(node("cause", cause))
                     if graph.nodes[n]["kind"] == "test")


def moves(graph: "nx.DiGraph[str]", cause: str, test: str) -> bool:
    """Whether a cause moves the reading of a test."""
    return bool(graph.has_edge(node("cause", cause), node("test", test)))


def may_explain(graph: "nx.DiGraph[str]", symptoms: Iterable[str],
               causes: Iterable[str]) -> NDArray[np.bool_]:
    """(causes, symptoms) True where the cause could explain the symptom."""
    columns = [node("symptom", symptom) for symptom in symptoms]
    rows = [node("cause", cause) for cause in causes]
    return np.array([[graph.has_edge(column, row) for column in columns] for row in rows],
                    dtype=np.bool_).reshape(len(rows), len(columns))


def missing_needs(graph: "nx.DiGraph[str]", test: str, taken: Collection[str]) -> tuple[str, ...]:
    """Ids of the tests still to be made before `test`, in an order in which they can be made."""
    wanted: list[str] = []
    _collect_needs(graph, node("test", test), frozenset(taken), wanted)
    return tuple(wanted)


def _collect_needs(graph: "nx.DiGraph[str]", name: str, taken: frozenset[str],
                   wanted: list[str]) -> None:
    for earlier in graph.nodes[name]["needs"]:
        if earlier not in taken and earlier not in wanted:
            _collect_needs(graph, node("test", earlier), taken, wanted)
            wanted.append(earlier)


def explanation(graph: "nx.DiGraph[str]", cause: str,
                complaints: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """Paths complaint -> cause -> remedy, as ids; one for each complaint it explains."""
    name = node("cause", cause)
    remedies = [n for n in graph.successors(name) if graph.nodes[n]["kind"] == "remedy"]
    return tuple(
        (complaint, cause, record_id(remedy))
        for complaint in complaints if graph.has_edge(node("symptom", complaint), name)
        for remedy in remedies
    )
