"""Everything computed from one machine that a job is worked out with."""

from dataclasses import dataclass

import networkx as nx

from faultkit.belief import Hypotheses, hypotheses
from faultkit.choice import Effort, effort_of
from faultkit.graph import build_graph
from faultkit.prediction.table import Prediction, PredictPairs
from faultkit.vocabulary.machine import Machine


@dataclass(frozen=True, slots=True, eq=False)
class Knowledge:
    """A machine with what follows from it before any job; made by `know`."""

    machine: Machine
    prediction: Prediction
    graph: "nx.DiGraph[str]"
    space: Hypotheses
    """What may be wrong, before anything is told."""
    effort: Effort
    pairs: PredictPairs | None
    """Computes two faults at once; None where there is no circuit to do it."""


def know(prediction: Prediction, pairs: PredictPairs | None = None) -> Knowledge:
    """Work out everything that all jobs on a machine share."""
    graph = build_graph(prediction)
    return Knowledge(prediction.machine, prediction, graph, hypotheses(prediction, graph),
                     effort_of(prediction), pairs)
