"""After a syntax error: compose what can be composed, so that one run tells everything.

A file is cut at the keys in its first column, and a part that cannot be composed is cut again
at the records in it. Each broken part gives its own problem; the rest is kept.
"""

from faultkit.loading.compose import LOADERS, Piece, YamlLoader, compose_piece
from faultkit.loading.problems import Report
from faultkit.loading.tree import Mapping, Node, Scalar

MOST_PIECES = 400
MOST_BROKEN = 20
"""Bounds on the work for a file that is no knowledge file at all."""


def recover(text: str, file: str, report: Report, loader: YamlLoader | None = None) -> Node | None:
    """Root of all parts of a broken text that compose; None where nothing does."""
    chosen = loader or LOADERS[0]
    rows = tuple(text.split("\n"))
    starts = [index for index, row in enumerate(rows)
              if row[:1] not in {"", " ", "#", "-", "}", "]"}]
    if len(starts) > MOST_PIECES:
        return None
    entries: list[tuple[Scalar, Node]] = []
    origin = None
    broken = 0
    for start, end in zip(starts, [*starts[1:], len(rows)][:len(starts)], strict=True):
        piece = Piece(rows[start:end], tuple(range(start + 1, end + 1)))
        own = Report()
        root = compose_piece(piece, file, own, chosen)
        if root is None:
            broken += 1
            root = _records(rows, start, end, file, own, chosen)
        report.found |= own.found
        if isinstance(root, Mapping):
            entries += root.entries
            origin = origin or root.origin
        if broken > MOST_BROKEN:
            break
    return Mapping(tuple(entries), origin) if origin is not None else None


def _records(rows: tuple[str, ...], start: int, end: int, file: str, report: Report,
             loader: YamlLoader) -> Node | None:
    """Records of one section that compose, under the section's key."""
    body = [index for index in range(start + 1, end) if rows[index].strip()
            and not rows[index].lstrip().startswith("#")]
    if not body or not rows[start].rstrip().endswith(":"):
        return None
    indent = len(rows[body[0]]) - len(rows[body[0]].lstrip())
    starts = [index for index in body if rows[index][:indent].strip() == ""
              and rows[index][indent: indent + 1] not in {"", " ", "}", "]"}]
    if not indent or not 1 < len(starts) <= MOST_PIECES:
        return None
    key: Scalar | None = None
    entries: list[tuple[Scalar, Node]] = []
    origin = None
    found = Report()
    broken = 0
    for first, last in zip(starts, [*starts[1:], end], strict=True):
        piece = Piece((rows[start], *rows[first:last]),
                      (start + 1, *range(first + 1, last + 1)))
        root = compose_piece(piece, file, found, loader)
        broken += root is None
        if isinstance(root, Mapping) and len(root.entries) == 1:
            key, inner = root.entries[0]
            if isinstance(inner, Mapping):
                entries += inner.entries
                origin = origin or inner.origin
        if broken > MOST_BROKEN:
            break
    if broken:
        report.found = found.found  # each broken record by itself, instead of the first one
    if key is None or origin is None:
        return None
    return Mapping(((key, Mapping(tuple(entries), origin)),), key.origin)
