"""YAML's own complaints, said again so that an author knows what to do."""

import re
from collections.abc import Sequence
from typing import Protocol

from faultkit.loading.problems import Report
from faultkit.vocabulary.origin import Origin

_TWO_COLONS = re.compile(r"^\s*(?:- )?[^\s'\"#\[{][^'\"#]*?:\s+[^'\"\[{].*?:(?:\s|$)")
_BAD_START = re.compile(r"(?:^|[:\-,\[{]\s+)([@`%|>&*!\"'\[{])")


class Mark(Protocol):
    """Position that YAML gives, counted from 0."""

    line: int
    column: int


def syntax_problem(error: Exception, rows: Sequence[str], numbers: Sequence[int], file: str,
                   report: Report) -> None:
    """Turn an error of the YAML scanner or parser into a problem with a way out.

    `numbers` are the line numbers of the rows in their file.
    """
    about = f"{getattr(error, 'context', None) or ''} {getattr(error, 'problem', None) or ''}"
    mark = _mark(error, about)
    if mark is None or not rows:
        report.error(Origin(file, 0, 0), "syntax", "The file cannot be read as YAML.",
                     "Check brackets, quotes and indents.")
        return
    line = min(mark.line, len(rows) - 1)
    row = rows[line]
    column = min(mark.column, len(row)) if line == mark.line else len(row)
    rule, says, way_out = _explain(about, row, column)
    report.error(Origin(file, numbers[line], column + 1), rule, says, way_out)


def _mark(error: Exception, about: str) -> Mark | None:
    """Where it began to go wrong: YAML may notice much later."""
    noticed: Mark | None = getattr(error, "problem_mark", None)
    began: Mark | None = getattr(error, "context_mark", None)
    if noticed is None or began is None:
        return noticed or began
    if "quoted scalar" in about:
        return began
    later = noticed.line > began.line
    return began if later and ("simple key" in about or "flow" in about) else noticed


def _explain(about: str, row: str, column: int) -> tuple[str, str, str]:
    if "quoted scalar" in about or "escape" in about:
        return ("quote", "A quote is not closed, or holds an unknown \\ sign.",
                "Close the quote on its line; inside \"...\" write \\\\ for \\, or use '...'.")
    if "mapping values are not allowed" in about or _TWO_COLONS.match(row):
        return ("colon-in-text", "A text holds ': ' here, which begins a new value.",
                "Put the whole text in quotes; or check the indent of this line.")
    if "flow" in about:
        return ("bracket", "A bracket or brace is not closed, or a comma is missing.",
                "Close it, and put a comma between the items.")
    if row[:column].rstrip().endswith(("}", "]")) and row[column: column + 1] not in {"", ","}:
        return ("bad-start", "A text cannot begin with a bracket or brace.",
                "Put the text in quotes.")
    sign = row[column: column + 1]
    if sign and sign in "@`%|>&*!":
        return ("bad-start", f"A text cannot begin with {sign}.", "Put the text in quotes.")
    found = _BAD_START.search(row)
    if found and ("expected" in about or "did not find" in about) and found[1] in "|>&*!@`%":
        return ("bad-start", f"A text cannot begin with {found[1]}.", "Put the text in quotes.")
    if row[column:].startswith("-") and not row[:column].strip():
        return ("missing-blank", "A list dash needs a blank after it.", "Write '- ' and the item.")
    if "simple key" in about or "expected ':'" in about:
        return ("missing-colon", "A ':' with a blank after it is missing near here.",
                "Write 'key: value', each key on its own line.")
    return ("indent", "The line does not fit into what stands above it.",
            "Check its indent and the list dashes: items of one list stand in one column.")
