"""Problems as text for people, as data for programs, and as annotations for code review."""

import unicodedata
from collections.abc import Mapping, Sequence

from faultkit.loading.problems import Problem
from faultkit.vocabulary.near_miss import listed

WIDEST = 96
"""Columns of a source line that are shown around the caret."""

Sources = Mapping[str, Sequence[str]]
"""File -> its lines."""


def as_text(problems: Sequence[Problem], sources: Sources) -> str:
    """Each problem with its source line, a caret and a way out; blank lines between."""
    blocks = []
    for problem in problems:
        block = [f"{where(problem)}: {problem.severity} {problem.rule}: {problem.says}"]
        block += _source(problem, sources)
        if problem.way_out:
            block.append(f"    {problem.way_out}")
        blocks.append("\n".join(block))
    return "\n\n".join(blocks)


def as_data(problems: Sequence[Problem]) -> dict[str, object]:
    """Data for JSON; line and column are null where only the file is known."""
    counts = _counts(problems)
    return {
        "errors": counts["error"],
        "warnings": counts["warning"],
        "problems": [{
            "file": problem.origin.file,
            "line": problem.origin.line or None,
            "column": problem.origin.column or None,
            "severity": problem.severity,
            "rule": problem.rule,
            "says": problem.says,
            "way_out": problem.way_out,
        } for problem in problems],
    }


def as_github(problems: Sequence[Problem]) -> str:
    """Workflow commands, one a line; errors first, since only the first ones are shown."""
    return "\n".join(_annotation(problem) for problem in
                     sorted(problems, key=lambda problem: problem.severity != "error"))


def where(problem: Problem) -> str:
    """`file:line:column`, or the file alone."""
    return str(problem.origin) if problem.origin.line else problem.origin.file


def total(problems: Sequence[Problem]) -> str:
    """`2 errors and 1 warning in 2 files`."""
    counts = _counts(problems)
    parts = [f"{count} {word}{'' if count == 1 else 's'}" for word, count in counts.items()
             if count]
    if not parts:
        return "No problems."
    files = len({problem.origin.file for problem in problems})
    return f"{listed(parts, 'and')} in {files} file{'' if files == 1 else 's'}."


def _counts(problems: Sequence[Problem]) -> dict[str, int]:
    return {severity: sum(problem.severity == severity for problem in problems)
            for severity in ("error", "warning")}


def _source(problem: Problem, sources: Sources) -> list[str]:
    """The line at fault, cut to a window, with a caret under its column."""
    lines = sources.get(problem.origin.file, ())
    number, column = problem.origin.line, problem.origin.column
    if not 0 < number <= len(lines):
        return []
    line = lines[number - 1]
    start = max(0, column - 1 - WIDEST // 2) if len(line) > WIDEST else 0
    shown = line[start: start + WIDEST]
    before = shown[: column - 1 - start]
    gap = " " * sum(2 if unicodedata.east_asian_width(sign) in "WF" else 1 for sign in before)
    return [f"    {shown}", f"    {gap}^"]


def _annotation(problem: Problem) -> str:
    place = f"file={_escaped(problem.origin.file, property_=True)}"
    if problem.origin.line:
        place += f",line={problem.origin.line},col={problem.origin.column}"
    says = _escaped(f"{problem.says} {problem.way_out}".strip(), property_=False)
    return f"::{problem.severity} {place},title={problem.rule}::{says}"


def _escaped(text: str, *, property_: bool) -> str:
    """Workflow-command escapes: percent and line ends; in a property also `:` and `,`."""
    text = text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")
    return text.replace(":", "%3A").replace(",", "%2C") if property_ else text
