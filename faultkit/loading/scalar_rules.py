"""Texts that YAML cuts or joins without a word."""

import re
from collections.abc import Sequence

from faultkit.loading.problems import Report
from faultkit.loading.tree import Scalar
from faultkit.vocabulary.origin import Origin

_BLANKS = re.compile("[\u00a0\u2007\u202f\u3000\u200b\u200c\u200d\u2060\ufeff\u00ad]")
"""No-break, figure and ideographic blanks, and signs that have no width."""

Span = tuple[int, int, int]
"""Zero-based line of the start, line and column of the end, among the rows composed."""


def check_scalar(scalar: Scalar, span: Span, rows: Sequence[str], report: Report) -> None:
    """Report a plain text that is not what its author sees."""
    if span[1] > span[0]:
        _several_lines(scalar, span, rows, report)
    else:
        _cut_by_hash(scalar, span, rows, report)
    if not scalar.text.isascii():
        _odd_blanks(scalar, report)


def _several_lines(scalar: Scalar, span: Span, rows: Sequence[str], report: Report) -> None:
    """A plain text over several lines is mostly a forgotten blank after a list dash."""
    following = [row.strip() for row in rows[span[0] + 1: span[1] + 1] if row.strip()]
    if following and all(row.startswith("-") for row in following):
        report.error(scalar.origin, "items-run-together",
                     f"These lines are read as the one text {scalar.text[:60]!r}.",
                     "Put a blank after each list dash: '- -Q1'.")
    else:
        report.error(scalar.origin, "text-over-lines",
                     f"This text runs over several lines: {scalar.text[:60]!r}.",
                     "Check the indent of the next line, or put the text in quotes or under '>-'.")


def _cut_by_hash(scalar: Scalar, span: Span, rows: Sequence[str], report: Report) -> None:
    """A comment after a text stands two blanks away and has a blank after its #."""
    line, column = span[1:]
    if line >= len(rows):
        return
    rest = rows[line][column:]
    stripped = rest.lstrip(" ")
    if not stripped.startswith("#"):
        return
    gap = len(rest) - len(stripped)
    if gap >= 2 and stripped[1:2] in {"", " ", "#"}:
        return
    at = Origin(scalar.origin.file, scalar.origin.line, column + gap + 1)
    report.error(at, "text-cut", f"The text is cut here: only {scalar.text!r} is read.",
                 "Put the text in quotes; or, for a comment, two blanks before # and one after.")


def _odd_blanks(scalar: Scalar, report: Report) -> None:
    match = _BLANKS.search(scalar.text)
    if match is not None:
        report.error(scalar.origin, "odd-blank",
                     f"The text {scalar.text[:40]!r} holds the invisible character "
                     f"U+{ord(match.group()):04X}, which is no blank to YAML.",
                     "Type an ordinary blank, or put the text in quotes if it is meant.")
