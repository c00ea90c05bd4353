"""`faultkit` and `faultkit find`: a job, on screens or line by line."""

import gc
import os
import shutil
import sys
from argparse import SUPPRESS, ArgumentParser, Namespace

from faultkit.commands.output import say

SAYS = "find a fault: on screens, or line by line with --plain"
LEAST = (40, 12)
"""Columns and rows below which screens make no sense."""


def add_arguments(parser: ArgumentParser) -> None:
    """Say what can be asked."""
    parser.add_argument("machine", metavar="MACHINE", help="name or path of a machine")
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


def run(arguments: Namespace) -> int:
    """Do a job."""
    gc.enable()
    from faultkit.commands.shelf import Shelf

    asked = vars(arguments)
    machine, plain = asked.get("machine"), "plain" in asked
    reason = "" if plain else why_not_screens()
    if plain or reason:
        from faultkit.terminal.plain.plain import run_plain

        if reason:
            say(f"{reason} Going on line by line.")
        return run_plain(Shelf(at_once=False), machine, ask_on_line, print)
    if machine is not None:
        from faultkit.loading import find_machine

        find_machine(machine)
    from faultkit.terminal.app import FaultkitApp

    app = FaultkitApp(Shelf(at_once=True), machine, asked.get("theme"),
                      ascii_only="ascii" in asked)
    app.run(mouse="no_mouse" not in asked)
    return app.return_code or 0


def ask_on_line(prompt: str) -> str:
    """Ask on stdout, whether it is a terminal or not. EOFError at the end of the input."""
    print(prompt, end="", flush=True)
    line = sys.stdin.readline() if sys.stdin is not None else ""
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
