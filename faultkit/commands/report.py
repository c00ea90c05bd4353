"""`faultkit report`: one document on a job that was kept, to be signed or filed."""

import sys
from argparse import SUPPRESS, ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from faultkit.commands.output import FINE, say

if TYPE_CHECKING:
    from faultkit.journal import JobHead, Store
    from faultkit.vocabulary.machine import Machine

SAYS = "write the report on a job, to be signed"
FORMS = ("md", "html", "json")
ENDINGS = {".md": "md", ".markdown": "md", ".html": "html", ".htm": "html", ".json": "json"}
"""Form that the name of a file asks for."""
OFTEN = 100
"""Rows computed from one sentence to the next."""


def add_arguments(parser: ArgumentParser) -> None:
    """Say what can be asked."""
    parser.add_argument("job", metavar="JOB", nargs="?", default="",
                        help="as `faultkit jobs` lists it; a beginning will do; the job last "
                             "worked on if left out")
    parser.add_argument("--format", choices=FORMS, default=SUPPRESS,
                        help="md: Markdown, reads as plain text; html: a page to print; json. "
                             "By the ending of --output if left out, otherwise md")
    parser.add_argument("--output", metavar="FILE", help="a new file; stdout if left out")
    parser.add_argument("--force", action="store_true", help="overwrite the file")
    parser.add_argument("--machine", metavar="MACHINE",
                        help="name or path of the machine, where the job does not find it")
    parser.add_argument("--store", metavar="PATH", default=SUPPRESS,
                        help="a file of jobs, or postgresql://...; your account's own if left out")


def run(arguments: Namespace) -> int:
    """Write it."""
    from faultkit.commands.book import report_text
    from faultkit.commands.opening import engine_of
    from faultkit.journal import open_store

    asked = vars(arguments)
    path = Path(arguments.output) if arguments.output else None
    form = asked.get("format") or ENDINGS.get(path.suffix.lower() if path else "", "md")
    if path is not None:
        refuse_existing(path, force=arguments.force)
    store = open_store(asked.get("store"))
    try:
        if store.warning:
            say(f"faultkit: {store.warning}")
        head = _head(store, arguments.job)
        machine = _machine(head, arguments.machine)
        engine = engine_of(machine, say, OFTEN, confirmed_elsewhere(store, head))
        text = report_text(engine, head.id, store.read(head.id), head.version, form)
    finally:
        store.close()
    _write(text, path, force=arguments.force)
    return FINE


def confirmed_elsewhere(store: "Store", head: "JobHead") -> "dict[str, int]":
    """How often each remedy cured such a machine in other jobs: none speaks for itself."""
    confirmed = dict(store.confirmed(head.machine))
    if head.closed == "fit for use":
        for repair in head.repairs:
            if repair.cured and repair.remedy in confirmed:
                confirmed[repair.remedy] -= 1
    return {remedy: count for remedy, count in confirmed.items() if count > 0}


def refuse_existing(path: Path, *, force: bool) -> None:
    """Refuse before anything is computed.

    Raises
    ------
    FileError
        The file is there and may not be overwritten.
    """
    from faultkit.errors import FileError

    if path.exists() and not force:
        raise FileError(f"{path} exists.", "Name another file, or overwrite it with --force.")


def _head(store: "Store", job: str) -> "JobHead":
    """The job asked for, or the one last worked on."""
    from faultkit.errors import UsageError

    if job:
        return store.head(job)
    for head in store.heads(1):
        return head
    raise UsageError("No job is kept here yet.", "Do one first: faultkit find MACHINE")


def _machine(head: "JobHead", name: str | None) -> "Machine":
    """The machine of a job; a job knows its id only, not the folder it was loaded from."""
    from faultkit.commands.opening import open_machine
    from faultkit.errors import FaultkitError, UsageError
    from faultkit.vocabulary.says import on_one_line

    try:
        machine = open_machine(name or head.machine)
    except FaultkitError as error:
        if name:
            raise
        raise UsageError(f"The machine of this job, {on_one_line(head.machine)!r}, is not found or "
                         f"does not load. {on_one_line(error.title)}",
                         "Name its folder: --machine PATH") from error
    if machine.id != head.machine:
        raise UsageError(f"This job was done on {on_one_line(head.machine)!r}, not on "
                         f"{machine.id!r}.", "Name that machine's folder: --machine PATH")
    return machine


def _write(text: str, path: Path | None, *, force: bool) -> None:
    """To the file, complete or not at all; to stdout without one."""
    from faultkit.commands.jobs import new_file

    if path is None:
        sys.stdout.write(text)
        return
    with new_file(path, force=force) as out:
        out.write(text)
    say(f"Written: {path}")
