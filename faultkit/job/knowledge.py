"""Everything computed from one machine that a job is worked out with."""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

import networkx as nx

from faultkit.belief import Hypotheses, Learned, hypotheses
from faultkit.choice import Effort, effort_of
from faultkit.circuit.circuit import Circuit
from faultkit.graph import build_graph
from faultkit.job.probe import parse_probe
from faultkit.prediction.column import with_column
from faultkit.prediction.pairs import PairPredictor
from faultkit.prediction.table import Prediction, PredictPairs
from faultkit.vocabulary.machine import Machine

KEPT = 3
"""Sets of free entries whose knowledge is kept; the longest unused goes first."""


@dataclass(slots=True, eq=False)
class Session:
    """What was computed for free entries, for as long as the program runs."""

    circuit: Circuit | None = None
    known: "dict[tuple[str, ...], Knowledge]" = field(default_factory=dict)


@dataclass(frozen=True, slots=True, eq=False)
class Knowledge:
    """A machine with what follows from it before any job; made by `know`."""

    machine: Machine
    """With the free entries among its tests."""
    prediction: Prediction
    graph: "nx.DiGraph[str]"
    space: Hypotheses
    """What may be wrong, before anything is told."""
    effort: Effort
    pairs: PredictPairs | None
    """Computes two faults at once; None where there is no circuit to do it."""
    learned: Learned | None = None
    probes: tuple[str, ...] = ()
    """Free entries that have a column, by id, sorted."""
    base: "Knowledge | None" = None
    """The same without free entries; None for that itself."""
    session: Session = field(default_factory=Session)

    def with_probe(self, test_id: str) -> "Knowledge":
        """Return the knowledge with a free entry predicted for all causes.

        Raises
        ------
        UsageError
            The id stands for nothing that can be measured on this machine.
        CircuitError
            The circuit cannot be solved, or a point is not in it.
        """
        return self.with_probes([test_id])

    def with_probes(self, test_ids: Iterable[str]) -> "Knowledge":
        """Return the knowledge with free entries; those that it has cost nothing.

        The order in which they were entered does not matter.
        """
        wanted = tuple(sorted({*self.probes, *test_ids}))
        if wanted == self.probes:
            return self
        base = self.base or self
        known = self.session.known
        made = known.pop(wanted, None) or _extended(base, wanted)
        known[wanted] = made
        while len(known) > KEPT:
            del known[next(iter(known))]
        return made


def _extended(base: Knowledge, wanted: tuple[str, ...]) -> Knowledge:
    """Start from the largest part that is known already: a column takes a second or two."""
    tests = {name: parse_probe(name, base.machine) for name in wanted}
    start = max((k for k in base.session.known.values() if set(k.probes) < set(wanted)),
                key=lambda k: len(k.probes), default=base)
    prediction, circuit = start.prediction, _circuit(base)
    for name in wanted:
        if name not in start.probes:
            prediction = with_column(prediction, tests[name], circuit)
    pairs = PairPredictor(prediction, circuit) if base.pairs is not None else None
    return replace(know(prediction, pairs, base.learned), probes=wanted, base=base,
                   session=base.session)


def _circuit(base: Knowledge) -> Circuit:
    if base.session.circuit is None:
        base.session.circuit = (base.pairs.circuit if isinstance(base.pairs, PairPredictor)
                                else Circuit(base.machine))
    return base.session.circuit


def know(prediction: Prediction, pairs: PredictPairs | None = None,
         learned: Learned | None = None) -> Knowledge:
    """Work out everything that all jobs on a machine share.

    Parameters
    ----------
    learned
        What confirmed repairs have taught; None leaves the author's weights alone.
    """
    graph = build_graph(prediction)
    return Knowledge(prediction.machine, prediction, graph,
                     hypotheses(prediction, graph, learned), effort_of(prediction), pairs, learned)
