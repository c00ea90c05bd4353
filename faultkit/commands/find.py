"""`faultkit` and `faultkit find`: a job, on screens or line by line."""

import gc
import os
import shutil
import signal
import sys
from argparse import SUPPRESS, ArgumentParser, Namespace
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType
from typing import TYPE_CHECKING, Any

from faultkit.commands.output import say

if TYPE_CHECKING:
    from faultkit.commands.shelf import Shelf

SAYS = "find a fault: on screens, or line by line with --plain"
LEAST = (40, 12)
"""Columns and rows below which screens make no sense."""
SIGNALS = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name))


def add_arguments(parser: ArgumentParser) -> None:
    """Say what can be asked."""
    parser.add_argument("machine", metavar="MACHINE", nargs="?", default=None,
                        help="name or path of a machine; may be left out with --resume")
    add_screen_arguments(parser)


def add_screen_arguments(parser: ArgumentParser) -> None:
    """How to show it; also without a command, and before it."""
    parser.add_argument("--plain", action="store_true", default=SUPPRESS,
                        help="numbered questions line by line, no screens")
    parser.add_argument("--theme", choices=("dark", "light", "contrast", "mono"),
                        default=SUPPRESS, help="colours; NO_COLOR in the environment means mono")
    parser.add_argument("--ascii", action="store_true", default=SUPPRESS,
                        help="draw with plain ASCII signs")
    parser.add_argument("--no-mouse", action="store_true", default=SUPPRESS,
                        help="leave the mouse to the terminal, for selecting text")
    parser.add_argument("--store", metavar="PATH", default=SUPPRESS,
                        help="where jobs are kept; the data folder of this account if left out")
    parser.add_argument("--resume", metavar="JOB", nargs="?", const="", default=SUPPRESS,
                        help="go on with a job, by its id or the beginning of it; "
                             "the open one last worked on if left out")
    parser.add_argument("--no-learned", action="store_true", default=SUPPRESS,
                        help="leave out what earlier repairs of such machines taught")


def run(arguments: Namespace) -> int:
    """Do a job."""
    gc.enable()
    from faultkit.commands.shelf import Shelf

    asked = vars(arguments)
    machine, plain = asked.get("machine"), "plain" in asked
    reason = "" if plain else why_not_screens()
    shelf = Shelf(at_once=not (plain or reason), store=asked.get("store"),
                  learned="no_learned" not in asked)
    try:
        if plain or reason:
            if reason:
                say(f"{reason} Going on line by line.")
            return _on_lines(shelf, machine, asked.get("resume"))
        return _on_screens(shelf, asked)
    finally:
        shelf.close()


def _on_lines(shelf: "Shelf", machine: str | None, resume: str | None) -> int:
    from faultkit.terminal.plain.plain import run_plain

    with ended_by_signals():
        return run_plain(shelf, machine, ask_on_line, say_on_line, resume)


def _on_screens(shelf: "Shelf", asked: dict[str, Any]) -> int:
    from faultkit.loading import find_machine
    from faultkit.terminal.app import FaultkitApp

    machine = asked.get("machine")
    if machine is not None:
        find_machine(machine)
    app = FaultkitApp(shelf, machine, asked.get("theme"), ascii_only="ascii" in asked,
                      resume=asked.get("resume"))
    app.run(mouse="no_mouse" not in asked)
    return app.return_code or 0


@contextmanager
def ended_by_signals() -> Iterator[None]:
    """Let a closed window or a computer that goes down end the talk as a person would.

    Only the first signal counts: what follows must not cut off the last line.
    """
    from faultkit.terminal.plain.talk import Ended

    def end(number: int, _frame: FrameType | None) -> None:
        for one in SIGNALS:
            signal.signal(one, signal.SIG_IGN)
        raise Ended(number)

    before = {one: signal.signal(one, end) for one in SIGNALS}
    try:
        yield
    finally:
        for one, handler in before.items():
            signal.signal(one, handler)


def say_on_line(text: str) -> None:
    """Say a line, and have it out before anything else is done."""
    print(text, flush=True)


def ask_on_line(prompt: str) -> str:
    """Ask on stdout, whether it is a terminal or not. EOFError at the end of the input."""
    print(prompt, end="", flush=True)
    try:
        line = sys.stdin.readline() if sys.stdin is not None else ""
    except OSError as gone:  # a terminal that was closed a moment before the signal says so
        raise EOFError from gone
    if not line:
        raise EOFError
    return line


def why_not_screens() -> str:
    """A sentence if this terminal cannot show screens; empty if it can."""
    if not all(end is not None and end.isatty() for end in (sys.stdin, sys.stderr)):
        return "There is no terminal here."
    if os.environ.get("TERM", "") in ("", "dumb", "unknown"):
        return "This terminal cannot move its cursor (TERM)."
    size = shutil.get_terminal_size()
    if size.columns < LEAST[0] or size.lines < LEAST[1]:
        return (f"This terminal has only {size.columns} by {size.lines} characters; "
                "screens want 48 by 18.")
    return ""
