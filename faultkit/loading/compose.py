"""From YAML text to our node tree, event by event, with every trap of YAML reported.

Anchors, aliases and tags are refused; duplicate keys are named with both lines; a text that
YAML would silently cut or join is a problem. Nothing here calls YAML's own resolver.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml
from yaml import events as ev

from faultkit.loading.problems import Report
from faultkit.loading.scalar_rules import check_scalar
from faultkit.loading.syntax import syntax_problem
from faultkit.loading.tree import Mapping, Node, Scalar, Sequence
from faultkit.vocabulary.origin import Origin

DEEPEST = 30
"""Levels of nesting; a machine needs about six."""

FAST: Any = getattr(yaml, "CLoader", None)
PURE: Any = yaml.Loader


class TooDeep(Exception):
    """Raised inside this file only, to stop at once."""

    def __init__(self, origin: Origin) -> None:
        super().__init__()
        self.origin = origin


@dataclass(slots=True)
class Open:
    """A collection that is being filled."""

    origin: Origin
    mapping: bool
    items: list[Node] = field(default_factory=list)


def compose(text: str, file: str, report: Report, loader: Any = None) -> Node | None:
    """Root node of the only document in a text, or None where there is none.

    The text must have passed `decode` (no tabs, no control characters). `loader` chooses the
    scanner: the C one where PyYAML has it.
    """
    chosen = loader or FAST or PURE
    lines = text.split("\n")
    try:
        return _Builder(file, lines, report).build(yaml.parse(text, Loader=chosen))
    except TooDeep as deep:
        report.error(deep.origin, "too-deep", f"Nested more than {DEEPEST} levels deep.",
                     "A machine needs about six levels: check the brackets and indents.")
    except (yaml.YAMLError, RecursionError) as error:
        syntax_problem(error, lines, file, report)
    return None


class _Builder:
    """Builds the tree from parser events."""

    def __init__(self, file: str, lines: list[str], report: Report) -> None:
        self.file = file
        self.lines = lines
        self.report = report
        self.stack: list[Open] = []
        self.root: Node | None = None

    def build(self, events: Iterator[ev.Event]) -> Node | None:
        documents = 0
        for event in events:
            if isinstance(event, ev.ScalarEvent):
                self._refuse_extras(event)
                self._add(self._scalar(event))
            elif isinstance(event, (ev.MappingStartEvent, ev.SequenceStartEvent)):
                self._refuse_extras(event)
                if len(self.stack) >= DEEPEST:
                    raise TooDeep(self._at(event))
                self.stack.append(Open(self._at(event), isinstance(event, ev.MappingStartEvent)))
            elif isinstance(event, (ev.MappingEndEvent, ev.SequenceEndEvent)):
                self._add(self._close(self.stack.pop()))
            elif isinstance(event, ev.AliasEvent):
                self.report.error(self._at(event), "alias", f"The alias *{event.anchor} is refused.",
                                  "Write the value out, or quote the text if it begins with *.")
                self._add(Scalar("", False, self._at(event)))
            elif isinstance(event, ev.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    self.report.error(self._at(event), "several-documents",
                                      "A second document begins here (---).",
                                      "Keep one document a file: delete the line or split the file.")
                    return self.root
        return self.root

    def _at(self, event: ev.Event) -> Origin:
        mark = event.start_mark
        return Origin(self.file, mark.line + 1, mark.column + 1)

    def _refuse_extras(self, event: Any) -> None:
        if event.anchor is not None:
            self.report.error(self._at(event), "anchor", f"The anchor &{event.anchor} is refused.",
                              "Write the value out, or quote the text if it begins with &.")
        if event.tag is not None:
            self.report.error(self._at(event), "tag", f"The tag {event.tag} is refused.",
                              "Leave the tag out, or quote the text if it begins with !.")

    def _scalar(self, event: Any) -> Scalar:
        plain = event.style is None or event.style == ""
        scalar = Scalar(event.value, plain, self._at(event))
        check_scalar(scalar, event.start_mark.line, event.end_mark, self.lines, self.report)
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
