"""From YAML text to our node tree, event by event, with every trap of YAML reported.

Anchors, aliases and tags are refused; duplicate keys are named with both lines; a text that
YAML would silently cut or join is a problem. Nothing here calls YAML's own resolver.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Protocol

import yaml
from yaml import events as ev

from faultkit.loading.decode import CONTROL
from faultkit.loading.problems import Report
from faultkit.loading.scalar_rules import check_scalar
from faultkit.loading.syntax import syntax_problem
from faultkit.loading.tree import Mapping, Node, Scalar, Sequence
from faultkit.vocabulary.origin import Origin

DEEPEST = 30
"""Levels of nesting; a machine needs about six."""

YamlLoader = type[yaml.Loader] | type[yaml.CLoader]

LOADERS: tuple[YamlLoader, ...] = (
    *((yaml.CLoader,) if yaml.__with_libyaml__ else ()), yaml.Loader)
"""Scanners that this PyYAML has, the fastest first."""


class TooDeepError(Exception):
    """Raised inside this file only, to stop at once."""

    def __init__(self, origin: Origin) -> None:
        super().__init__()
        self.origin = origin


class Marked(Protocol):
    """What is read of a node's event."""

    anchor: str | None
    tag: str | None


@dataclass(slots=True)
class Open:
    """A collection that is being filled."""

    origin: Origin
    mapping: bool
    items: list[Node] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Piece:
    """Lines of a file to be composed, with their numbers in it."""

    rows: tuple[str, ...]
    numbers: tuple[int, ...]


def compose(text: str, file: str, report: Report, loader: YamlLoader | None = None,
            ) -> Node | None:
    """Root node of the only document in a text, or None where there is none.

    The text must have passed `decode` (no tabs, no control characters). `loader` chooses the
    scanner: the C one where PyYAML has it.
    """
    rows = tuple(text.split("\n"))
    return compose_piece(Piece(rows, tuple(range(1, len(rows) + 1))), file, report,
                         loader or LOADERS[0])


def compose_piece(piece: Piece, file: str, report: Report, loader: YamlLoader) -> Node | None:
    """Root node of a part of a file; None and a problem where it cannot be composed."""
    try:
        events = yaml.parse("\n".join(piece.rows), Loader=loader)
        return _Builder(file, piece, report).build(events)
    except TooDeepError as deep:
        report.error(deep.origin, "too-deep", f"Nested more than {DEEPEST} levels deep.",
                     "A machine needs about six levels: check the brackets and indents.")
    except (yaml.YAMLError, RecursionError) as error:
        syntax_problem(error, piece.rows, piece.numbers, file, report)
    return None


class _Builder:
    """Builds the tree from parser events."""

    def __init__(self, file: str, piece: Piece, report: Report) -> None:
        self.file = file
        self.piece = piece
        self.report = report
        self.stack: list[Open] = []
        self.root: Node | None = None

    def build(self, events: Iterator[ev.Event]) -> Node | None:
        """Root of the first document, or None where there is none."""
        documents = 0
        for event in events:
            if isinstance(event, ev.ScalarEvent):
                self._refuse_extras(event, self._at(event))
                self._add(self._scalar(event))
            elif isinstance(event, ev.MappingStartEvent | ev.SequenceStartEvent):
                self._open(event)
            elif isinstance(event, ev.MappingEndEvent | ev.SequenceEndEvent):
                self._add(self._close(self.stack.pop()))
            elif isinstance(event, ev.AliasEvent):
                at = self._at(event)
                self.report.error(at, "alias", f"The alias *{event.anchor} is refused.",
                                  "Write the value out, or quote the text if it begins with *.")
                self._add(Scalar("", plain=False, origin=at))
            elif isinstance(event, ev.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self.report.error(self._at(event), "several-documents",
                                      "A second document begins here (---).",
                                      "Keep one document a file: delete the line, or split it.")
                    return self.root
        return self.root

    def _at(self, event: ev.Event) -> Origin:
        mark = event.start_mark
        assert mark is not None
        if mark.line >= len(self.piece.rows):  # the end of the text, which may lack a line end
            return Origin(self.file, self.piece.numbers[-1], len(self.piece.rows[-1]) + 1)
        return Origin(self.file, self.piece.numbers[mark.line], mark.column + 1)

    def _open(self, event: "ev.MappingStartEvent | ev.SequenceStartEvent") -> None:
        at = self._at(event)
        self._refuse_extras(event, at)
        if len(self.stack) >= DEEPEST:
            raise TooDeepError(at)
        self.stack.append(Open(at, isinstance(event, ev.MappingStartEvent)))

    def _refuse_extras(self, event: Marked, at: Origin) -> None:
        if event.anchor is not None:
            self.report.error(at, "anchor", f"The anchor &{event.anchor} is refused.",
                              "Write the value out, or quote the text if it begins with &.")
        if event.tag is not None:
            self.report.error(at, "tag", f"The tag {event.tag} is refused.",
                              "Leave the tag out, or quote the text if it begins with !.")

    def _scalar(self, event: ev.ScalarEvent) -> Scalar:
        start, end = event.start_mark, event.end_mark
        assert start is not None
        assert end is not None
        scalar = Scalar(CONTROL.sub(" ", event.value), not event.style, self._at(event))
        hidden = CONTROL.search(event.value)  # an escape such as \e in double quotes makes one
        if hidden:
            self.report.error(scalar.origin, "control-character",
                              f"The text holds the invisible character U+{ord(hidden[0]):04X}.",
                              "Delete its escape, which begins with a backslash.")
        if scalar.plain:
            check_scalar(scalar, (start.line, end.line, end.column), self.piece.rows, self.report)
        return scalar

    def _add(self, node: Node) -> None:
        if self.stack:
            self.stack[-1].items.append(node)
        elif self.root is None:
            self.root = node

    def _close(self, opened: Open) -> Node:
        if not opened.mapping:
            return Sequence(tuple(opened.items), opened.origin)
        entries: dict[str, tuple[Scalar, Node]] = {}
        for key, value in zip(opened.items[::2], opened.items[1::2], strict=True):
            if not isinstance(key, Scalar):
                self.report.error(key.origin, "key-is-no-text", "A key must be a single text.",
                                  "Quote it if it begins with a bracket or brace.")
                continue
            first = entries.get(key.text)
            if first is not None:
                self.report.error(key.origin, "duplicate-key",
                                  f"The key {key.text!r} stands here for the second time; "
                                  f"the first is in line {first[0].origin.line}.",
                                  "Delete or rename one of the two.")
                continue
            entries[key.text] = (key, value)
        return Mapping(tuple(entries.values()), opened.origin)
