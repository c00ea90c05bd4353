"""`faultkit check`: does a machine load, and what is wrong where."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from faultkit.commands.output import FINDINGS, FINE, SCHEMA_VERSION, say, write_json

if TYPE_CHECKING:
    from faultkit.loading import Problem

SAYS = "check the YAML of machines: every problem with file, line and column"


def add_arguments(parser: ArgumentParser) -> None:
    """Say what can be asked."""
    parser.add_argument("path", nargs="+", metavar="PATH", help="folder, file or known name")
    parser.add_argument("--format", choices=("text", "json", "github"), default="text")


def run(arguments: Namespace) -> int:
    """Check them all; 1 if anything was found."""
    from faultkit.loading import find_machine, load
    from faultkit.loading.problem_text import as_data, as_github, as_text, total

    problems: list[Problem] = []
    sources: dict[str, tuple[str, ...]] = {}
    for path in arguments.path:
        loaded = load(find_machine(path))
        problems += loaded.problems
        sources.update(loaded.sources)
    if arguments.format == "json":
        write_json({"schema_version": SCHEMA_VERSION, **as_data(problems)})
        return FINDINGS if problems else FINE
    shown = as_github(problems) if arguments.format == "github" else as_text(problems, sources)
    if shown:
        print(shown)
    say(total(problems))
    return FINDINGS if problems else FINE
