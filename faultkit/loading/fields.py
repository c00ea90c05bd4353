"""Reads the fields of one record from the node tree and notes what does not fit."""

import math
from collections.abc import Iterable

from faultkit.errors import QuantityError
from faultkit.loading.problems import Report
from faultkit.loading.tree import Mapping, Node, Scalar, Sequence, called
from faultkit.vocabulary.near_miss import did_you_mean
from faultkit.vocabulary.origin import Origin
from faultkit.vocabulary.quantities import parse_quantity, parse_range


class Fields:
    """The fields of one record.

    Parameters
    ----------
    node : Node
        What stands behind the record's id; anything but a mapping is a problem.
    what : str
        The record in words, for messages: `place 'panel'`.
    known : iterable of str
        Every key the record may have; others are reported with a near miss.
    report : Report
        Where problems go.
    """

    def __init__(self, node: Node, what: str, known: Iterable[str], report: Report) -> None:
        self.what = what
        self.report = report
        self.origin = node.origin
        self.nodes: dict[str, Node] = {}
        self.keys: dict[str, Scalar] = {}
        names = list(known)
        if not isinstance(node, Mapping):
            report.error(node.origin, "wrong-shape",
                         f"The {what} is {called(node)}; it must be a mapping.",
                         _shape_way_out(what, node, names[0]))
            return
        for key, value in node.entries:
            if key.text in names:
                self.keys[key.text] = key
                self.nodes[key.text] = value
            else:
                report.error(key.origin, "unknown-key",
                             f"The {what} has no field {key.text!r}.",
                             unknown_key_way_out(key, value, names))

    def has(self, key: str) -> bool:
        """True if the field was written."""
        return key in self.nodes

    def at(self, key: str) -> Origin:
        """Where a field's value stands, or the record where it is not given."""
        return self.nodes[key].origin if key in self.nodes else self.origin

    def missing(self, key: str) -> None:
        """Note that a field must be given."""
        self.report.error(self.origin, "missing-key", f"The {self.what} lacks the field {key!r}.",
                          f"Add '{key}: ...'.")

    def text(self, key: str, default: str | None = "") -> str:
        """A text; a default of None means that it must be given."""
        node = self.nodes.get(key)
        if node is None:
            if default is None:
                self.missing(key)
            return default or ""
        return text_of(node, f"field {key!r} of the {self.what}", self.report) or default or ""

    def texts(self, key: str) -> tuple[Scalar, ...]:
        """A list of texts; one text alone is a list of one."""
        node = self.nodes.get(key)
        return () if node is None else texts_of(node, f"field {key!r} of the {self.what}",
                                                self.report)

    def pairs(self, key: str) -> tuple[tuple[Scalar, Node], ...]:
        """Entries of a mapping."""
        node = self.nodes.get(key)
        return () if node is None else entries_of(node, f"field {key!r} of the {self.what}",
                                                  self.report)

    def quantity(self, key: str, unit: str, default: float, low: float = 0.0,
                 high: float = math.inf) -> float:
        """A number in `unit`, from `low` to `high`."""
        node = self.nodes.get(key)
        if node is None:
            return default
        return quantity_of(node, unit, f"field {key!r} of the {self.what}", self.report,
                           default, low, high)

    def whole(self, key: str, default: int, high: int) -> int:
        """A whole number from 1 to `high`."""
        value = self.quantity(key, "1", float(default), 1.0, float(high))
        if value != int(value):
            self.report.error(self.at(key), "whole-number",
                              f"The field {key!r} of the {self.what} must be a whole number.",
                              "Correct the number.")
        return int(value)

    def share(self, key: str, default: float) -> float:
        """A probability from 0 to 1, also written in percent."""
        node = self.nodes.get(key)
        if node is None:
            return default
        return probability_of(node, f"field {key!r} of the {self.what}", self.report, default)

    def yes(self, key: str, *, default: bool) -> bool:
        """Yes or no."""
        node = self.nodes.get(key)
        if node is None:
            return default
        if isinstance(node, Scalar) and node.text in {"yes", "no"}:
            return node.text == "yes"
        self.report.error(node.origin, "yes-or-no",
                          f"The field {key!r} of the {self.what} is {called(node)}.",
                          "Write yes or no.")
        return default


def _shape_way_out(what: str, node: Node, example: str) -> str:
    """What to do about a record that is no mapping."""
    if "{" in what:
        return "Put ': ' before the brace."
    if ":" in what and isinstance(node, Scalar) and not node.text:
        return "Put a blank after each ':' that separates a key from its value."
    return f"Write its fields as 'key: value', such as {example}: ..."


def unknown_key_way_out(key: Scalar, value: Node, names: list[str]) -> str:
    """What to do about a key that is not known."""
    if key.text == "<<":
        return "Merge keys are refused: write the fields out."
    hollow = isinstance(value, Scalar) and not value.text
    if hollow and ":" in key.text:
        return "Put a blank after each ':' that separates a key from its value."
    if hollow and key.text[:1].isdigit():
        return "Inside braces a comma separates fields: write a decimal point, or use quotes."
    return did_you_mean(key.text, names)


def text_of(node: Node, what: str, report: Report) -> str:
    """Text of a scalar, or an empty text and a problem."""
    if isinstance(node, Scalar):
        if not node.text.strip():
            report.error(node.origin, "empty-text", f"The {what} is empty.",
                         "Write a text, or leave the field out.")
        return node.text.strip()
    report.error(node.origin, "wrong-shape", f"The {what} is {called(node)}; it must be a text.",
                 "Put it in quotes if a bracket or brace belongs to the text.")
    return ""


def texts_of(node: Node, what: str, report: Report) -> tuple[Scalar, ...]:
    """Scalars of a list; one text alone is a list of one."""
    items = node.items if isinstance(node, Sequence) else (node,)
    found = []
    for item in items:
        if isinstance(item, Scalar) and item.text.strip():
            found.append(item)
        elif isinstance(item, Mapping) and isinstance(node, Sequence):
            report.error(item.origin, "wrong-shape", f"The {what} holds a mapping; texts are "
                         "wanted.", "Quote an item that holds ': '.")
        else:
            text_of(item, what, report)
    return tuple(found)


def entries_of(node: Node, what: str, report: Report) -> tuple[tuple[Scalar, Node], ...]:
    """Entries of a mapping, or nothing and a problem."""
    if isinstance(node, Mapping):
        return node.entries
    report.error(node.origin, "wrong-shape", f"The {what} is {called(node)}; it must be a mapping.",
                 "Write 'key: value' pairs, with a blank after each colon.")
    return ()


def quantity_of(node: Node, unit: str, what: str, report: Report, default: float,
                low: float, high: float = math.inf) -> float:
    """Number of a scalar in `unit`, from `low` to `high`; the default where it does not fit."""
    if not isinstance(node, Scalar):
        report.error(node.origin, "wrong-shape", f"The {what} is {called(node)}; it must be a "
                     "number with its unit.", "Write one number.")
        return default
    try:
        value = parse_quantity(node.text, unit)
    except QuantityError as error:
        report.error(node.origin, "quantity", error.title, error.way_out)
        return default
    if value < low:
        report.error(node.origin, "too-small", f"The {what} is {node.text}; it must be at least "
                     f"{low:g}.", "Correct the number.")
        return default
    if value > high:
        report.error(node.origin, "too-large", f"The {what} is {node.text}; it may be at most "
                     f"{high:g}.", "Correct the number and its unit.")
        return default
    return value


def probability_of(node: Node, what: str, report: Report, default: float) -> float:
    """Probability of a scalar, `0.2` or `20 %`."""
    value = quantity_of(node, "1", what, report, default, 0.0)
    if value > 1.0:
        report.error(node.origin, "probability", f"The {what} is more than 1.",
                     "Write a share such as 0.2 or 20 %.")
        return default
    return value


def range_of(node: Scalar, unit: str, report: Report) -> tuple[float, float] | None:
    """Range of a scalar such as `0.3 .. 0.6 mm`, or None and a problem."""
    try:
        return parse_range(node.text, unit)
    except QuantityError as error:
        report.error(node.origin, "quantity", error.title, error.way_out)
        return None


def choice_of(text: str, origin: Origin, known: Iterable[str], what: str, report: Report) -> bool:
    """True if the text is one of the known words; else a problem with a near miss."""
    words = list(known)
    if text in words:
        return True
    report.error(origin, "unknown-word", f"{text!r} is not {what}.", did_you_mean(text, words))
    return False


