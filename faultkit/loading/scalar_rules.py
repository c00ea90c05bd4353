"""Texts that YAML cuts or joins without a word."""

import re
from typing import Any

from faultkit.loading.problems import Report
from faultkit.loading.tree import Scalar
from faultkit.vocabulary.origin import Origin

_BLANKS = re.compile("[\u00a0\u2007\u202f\u3000\u200b\u200c\u200d\u2060\ufeff\u00ad]")
"""No-break, figure and ideographic blanks, and signs that have no width."""


def check_scalar(scalar: Scalar, line: int, end: Any, lines: list[str], report: Report) -> None:
    """Report a text that is not what its author sees.

    `line` and `end` are the zero-based start line and the end mark of PyYAML.
    """
    if not scalar.plain:
        return
    if end.line > line:
        _several_lines(scalar, line, end, lines, report)
    else:
        _cut_by_hash(scalar, end, lines, report)
    if not scalar.text.isascii():
        _odd_blanks(scalar, report)


def _several_lines(scalar: Scalar, line: int, end: Any, lines: list[str],
                   report: Report) -> None:
    """A plain text over several lines is mostly a forgotten blank after a list dash."""
    last = min(end.line, len(lines) - 1)
    rows = [row.strip() for row in lines[line + 1: last + 1]]
    rows = [row for row in rows if row and not row.startswith("#")]
    if rows and all(row.startswith("-") for row in rows):
        report.error(scalar.origin, "items-run-together",
                     f"These lines are read as the one text {scalar.text[:60]!r}.",
                     "Put a blank after each list dash: '- -Q1'.")
    else:
        report.error(scalar.origin, "text-over-lines",
                     f"This text runs over several lines: {scalar.text[:60]!r}.",
                     "Check the indent of the next line, or put the text in quotes or under '>-'.")


def _cut_by_hash(scalar: Scalar, end: Any, lines: list[str], report: Report) -> None:
    """A comment after a text stands two blanks away and has a blank after its #."""
    if end.line >= len(lines):
        return
    rest = lines[end.line][end.column:]
    stripped = rest.lstrip(" ")
    if not stripped.startswith("#"):
        return
    gap = len(rest) - len(stripped)
    if gap >= 2 and stripped[1:2] in {"", " ", "#"}:
        return
    report.error(Origin(scalar.origin.file, end.line + 1, end.column + gap + 1), "text-cut",
                 f"The text is cut here: only {scalar.text!r} is read.",
                 "Put the text in quotes; or, for a comment, two blanks before # and one after.")


def _odd_blanks(scalar: Scalar, report: Report) -> None:
    match = _BLANKS.search(scalar.text)
    if match is not None:
        report.error(scalar.origin, "odd-blank",
                     f"The text {scalar.text[:40]!r} holds the invisible character "
                     f"U+{ord(match.group()):04X}, which is no blank to YAML.",
                     "Type an ordinary blank, or put the text in quotes if it is meant.")
