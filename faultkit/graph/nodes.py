"""How nodes are named: the kind of record and its id, as text, so that exports stay readable."""

from typing import Literal

NodeKind = Literal["symptom", "cause", "test", "remedy"]


def node(kind: NodeKind, record_id: str) -> str:
    """Name of the node of one record."""
    return f"{kind}:{record_id}"


def record_id(name: str) -> str:
    """Id of the record a node stands for."""
    return name.partition(":")[2]
