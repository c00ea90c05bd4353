"""`faultkit check`: does a machine load, and what is wrong where."""

from argparse import ArgumentParser, Namespace
from collections.abc import Mapping
from typing import TYPE_CHECKING

from faultkit.commands.output import FINDINGS, FINE, SCHEMA_VERSION, say, write_json

if TYPE_CHECKING:
    from faultkit.loading import Problem

SAYS = "check the YAML of machines: every problem with file, line and column"
Sources = Mapping[str, tuple[str, ...]]


def add_arguments(parser: ArgumentParser) -> None:
    """Say what can be asked."""
    parser.add_argument("path", nargs="+", metavar="PATH", help="folder, file or known name")
    parser.add_argument("--format", choices=("text", "json", "github"), default="text")


def run(arguments: Namespace) -> int:
    """Check them all; 1 if anything was found."""
    from faultkit.loading import find_machine, load

    problems: list[Problem] = []
    sources: dict[str, tuple[str, ...]] = {}
    for path in arguments.path:
        loaded = load(find_machine(path))
        problems += loaded.problems
        sources.update(loaded.sources)
    if arguments.format == "json":
        write_json({"schema_version": SCHEMA_VERSION, "problems": [_data(p) for p in problems]})
    elif arguments.format == "github":
        for problem in sorted(problems, key=lambda one: (one.severity != "error", one)):
            print(annotation(problem))
    else:
        for problem in problems:
            print(in_words(problem, sources))
        say(_total(problems))
    return FINDINGS if problems else FINE


def in_words(problem: "Problem", sources: Sources) -> str:
    """`file:line:column: severity rule: sentence`, the source line and a caret."""
    origin = problem.origin
    where = str(origin) if origin.line else origin.file
    rows = [f"{where}: {problem.severity} {problem.rule}: {problem.says}"]
    lines = sources.get(origin.file, ())
    if 0 < origin.line <= len(lines):
        source = lines[origin.line - 1]
        before = "".join(c if c == "\t" else " " for c in source[:origin.column - 1])
        rows += [f"    {source}", f"    {before}^"]
    if problem.way_out:
        rows.append(f"    {problem.way_out}")
    return "\n".join(rows)


def annotation(problem: "Problem") -> str:
    """One line that a build server shows beside the source."""
    origin = problem.origin
    text = f"{problem.says} {problem.way_out}".strip()
    for sign, code in (("%", "%25"), ("\r", "%0D"), ("\n", "%0A")):
        text = text.replace(sign, code)
    file = origin.file.replace("%", "%25").replace(":", "%3A").replace(",", "%2C")
    return (f"::{problem.severity} file={file},line={max(origin.line, 1)},"
            f"col={max(origin.column, 1)},title={problem.rule}::{text}")


def _data(problem: "Problem") -> dict[str, object]:
    origin = problem.origin
    return {"file": origin.file, "line": origin.line, "column": origin.column,
            "severity": problem.severity, "rule": problem.rule, "says": problem.says,
            "way_out": problem.way_out}


def _total(problems: "list[Problem]") -> str:
    errors = sum(one.severity == "error" for one in problems)
    warnings = len(problems) - errors
    if not problems:
        return "No problems."
    return f"{errors} error{'s' * (errors != 1)}, {warnings} warning{'s' * (warnings != 1)}."
