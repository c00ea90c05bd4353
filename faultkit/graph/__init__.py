"""The digraph of symptoms, causes, tests and remedies, frozen once built.

    symptom -> cause    could explain it, with the probability that it shows
    cause   -> test     moves this reading, with the reading expected
    cause   -> remedy   is cured by
    test    -> test     must come first

A complaint selects its descendants, the tests that can split the live causes are their
successors, an explanation is a path. What every reading would be in figures stands in the
prediction table; whether there is anything to weigh stands here.
"""

from faultkit.graph.build import build_graph
from faultkit.graph.questions import (
    candidates,
    explanation,
    may_explain,
    missing_needs,
    moved_by,
    moves,
    splitting_tests,
)

__all__ = [
    "build_graph",
    "candidates",
    "explanation",
    "may_explain",
    "missing_needs",
    "moved_by",
    "moves",
    "splitting_tests",
]
