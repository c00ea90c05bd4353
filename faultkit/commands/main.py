"""The entry: one parser, one command, one exit code."""

import gc
import sys
from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from importlib import import_module
from io import TextIOWrapper
from typing import NoReturn

from faultkit import __version__
from faultkit.commands.output import INTERRUPTED, USAGE, say
from faultkit.errors import FaultkitError

COMMANDS = ("machines", "find", "next", "predict", "check", "jobs", "report")
"""Modules of this room that bring SAYS, add_arguments and run."""


class Parser(ArgumentParser):
    """Says what is wrong in one sentence."""

    def error(self, message: str) -> NoReturn:
        """End with the code for wrong usage."""
        say(f"{self.prog}: {message}. See: {self.prog} --help")
        raise SystemExit(USAGE)


def build_parser() -> ArgumentParser:
    """Every command with its arguments; nothing heavy is imported for it."""
    from faultkit.commands.find import add_screen_arguments

    parser = Parser(prog="faultkit", description="Find the fault in a hoist's control panel. "
                    "Without a command the screens open.")
    parser.add_argument("--version", action="version", version=f"faultkit {__version__}")
    add_screen_arguments(parser)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")
    for name in COMMANDS:
        module = import_module(f"faultkit.commands.{name}")
        sub = commands.add_parser(name, help=module.SAYS,
                                  description=module.SAYS[0].upper() + module.SAYS[1:])
        module.add_arguments(sub)
        sub.set_defaults(run=module.run)
    return parser


def console() -> int:
    """Run faultkit as a process of its own.

    What a short command builds stays until its end: sweeping the memory for litter meanwhile,
    and once more at the end, would take a fifth of its time. A job sweeps as usual.
    """
    gc.disable()
    code = main()
    gc.freeze()
    return code


def main(arguments: Sequence[str] | None = None) -> int:
    """Run faultkit.

    Parameters
    ----------
    arguments : sequence of str, optional
        Those of the command line if left out.

    Returns
    -------
    int
        0 fine, 1 findings, 2 usage, I/O or the unexpected, 130 interrupted.
    """
    _lend_signs()
    given = build_parser().parse_args(arguments)
    try:
        return _run(given)
    except FaultkitError as error:
        say(f"faultkit: {error}")
    except KeyboardInterrupt:
        say("faultkit: interrupted.")
        return INTERRUPTED
    except BrokenPipeError:
        sys.stdout = None  # the reader has gone; say no more
        return INTERRUPTED
    except OSError as error:
        say(f"faultkit: {error.strerror or error}. Is the disk full, or may it not be written?")
    except Exception as error:  # noqa: BLE001 - the last door: never a traceback for a user
        from faultkit.terminal.trouble import write_down

        say(f"faultkit: {write_down(error)}")
    return USAGE


def _lend_signs() -> None:
    """Write ? for a sign that the terminal's encoding lacks (ohm, micro), and read on likewise."""
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")


def _run(given: Namespace) -> int:
    if given.command is None:
        from faultkit.commands.find import run

        return run(given)
    code: int = given.run(given)
    sys.stdout.flush()
    return code
