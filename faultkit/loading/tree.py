"""The node tree of a knowledge file: texts with positions, nothing resolved.

A plain scalar is **the text it is**: `no` is a contact form, `N` is neutral, `010` is a wire
number, `12:30` stays `12:30`. Types are decided by the field that reads the text.
"""

from dataclasses import dataclass

from faultkit.vocabulary.origin import Origin


@dataclass(frozen=True, slots=True)
class Scalar:
    """One text."""

    text: str
    plain: bool
    """False for a quoted or block text."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list."""

    items: tuple["Node", ...]
    origin: Origin


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys with their values, in the order written, each key once."""

    entries: tuple[tuple[Scalar, "Node"], ...]
    origin: Origin

    def get(self, key: str) -> "Node | None":
        """Value of a key."""
        return next((value for name, value in self.entries if name.text == key), None)


Node = Scalar | Sequence | Mapping


def called(node: Node) -> str:
    """What a node is, in words for a message."""
    if isinstance(node, Scalar):
        return f"the text {node.text!r}" if node.text or not node.plain else "nothing"
    return "a list" if isinstance(node, Sequence) else "a mapping"
