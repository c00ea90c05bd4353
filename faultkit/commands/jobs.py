"""`faultkit jobs`: what is kept of jobs; to be listed, carried to another store, counted."""

import re
import sys
from argparse import SUPPRESS, ArgumentParser, Namespace
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import fields
from pathlib import Path
from typing import TYPE_CHECKING, Any, TextIO

from faultkit.commands.output import (
    FINDINGS,
    FINE,
    SCHEMA_VERSION,
    number,
    say,
    write_json,
)
from faultkit.errors import FileError
from faultkit.vocabulary.says import on_one_line

if TYPE_CHECKING:
    from datetime import datetime

    from faultkit.job.events import Event
    from faultkit.journal.records import JobHead, Noted
    from faultkit.journal.statistics import Statistics
    from faultkit.journal.store import Store

SAYS = "list, show, export, import and count the jobs that are kept"
STANDARD = "-"
"""Stands for stdin or stdout."""
SHOWN = 20
"""Jobs listed unless more are asked for."""


def add_arguments(parser: ArgumentParser) -> None:
    """Say what can be asked."""
    parser.set_defaults(work=list_jobs)
    _add_common(parser)
    _add_list_arguments(parser)
    works = parser.add_subparsers(metavar="WHAT")

    def work(name: str, says: str, function: Callable[["Store", Namespace], int],
             *, form: bool = True) -> ArgumentParser:
        sub: ArgumentParser = works.add_parser(name, help=says,
                                               description=says[0].upper() + says[1:])
        sub.set_defaults(work=function)
        _add_common(sub, form=form)
        return sub

    _add_list_arguments(work("list", "list jobs, the one last worked on first", list_jobs))
    show = work("show", "show everything that happened in a job", show_job)
    show.add_argument("job", metavar="ID", help="as listed; a beginning of it will do")
    out = work("export", "write jobs as JSON Lines, for another store", export_jobs, form=False)
    out.add_argument("file", metavar="FILE", help="a new file, or - for stdout")
    out.add_argument("job", metavar="ID", nargs="*", help="only these jobs")
    out.add_argument("--force", action="store_true", help="overwrite the file")
    come = work("import", "take in jobs that were exported; twice changes nothing", import_jobs)
    come.add_argument("file", metavar="FILE", help="an exported file, or - for stdin")
    _add_choice(work("stats", "count faults by device and month, minutes and tests", count_jobs))
    learned = work("weights", "show what repairs that cured taught, beside the author's weights",
                   show_weights)
    learned.add_argument("machine", metavar="MACHINE", help="name or path of a machine")
    learned.add_argument("--asset", metavar="TAG", default=SUPPRESS, help="only of this asset")
    learned.add_argument("--all", action="store_true", default=SUPPRESS,
                         help="also causes that were never found")


def run(arguments: Namespace) -> int:
    """Do it."""
    from faultkit.journal.opening import open_store

    store = open_store(vars(arguments).get("store"))
    try:
        if store.warning:
            say(f"faultkit: {store.warning}")
        told = store.warning
        code: int = arguments.work(store, arguments)
        if store.warning not in (told, ""):
            say(f"faultkit: {store.warning}")
        return code
    finally:
        store.close()


def list_jobs(store: "Store", arguments: Namespace) -> int:
    """List heads."""
    asked = vars(arguments)
    limit = None if asked.get("all") else SHOWN
    heads = store.heads(limit and limit + 1, open_only="open" in asked,
                        asset=asked.get("asset", ""), machine=asked.get("machine", ""))
    more = limit is not None and len(heads) > limit
    heads = heads[:limit]
    if asked.get("format") == "json":
        write_json({"schema_version": SCHEMA_VERSION, "more": more,
                    "jobs": [head_data(head) for head in heads]})
        return FINE
    for head in heads:
        state = head.closed or "open"
        words = [head.id[:8], local(head.last), on_one_line(head.machine), state,
                 *(on_one_line(text) for text in (head.asset, head.site, head.complaint) if text)]
        print("  ".join(words))
    if not heads:
        say("No job is kept here.")
    elif more:
        say(f"These are the last {limit}. All of them: faultkit jobs --all")
    return FINE


def show_job(store: "Store", arguments: Namespace) -> int:
    """Show what happened."""
    head = store.head(arguments.job)
    noted = store.read(head.id)
    if vars(arguments).get("format") == "json":
        write_json({"schema_version": SCHEMA_VERSION, **head_data(head),
                    "happened": [noted_data(one) for one in noted]})
        return FINE
    print(f"Job {head.id} on {on_one_line(head.machine)} (version {on_one_line(head.version)})")
    print(f"Begun {local(head.begun)}, last worked on {local(head.last)}, "
          f"{head.closed or 'open'}")
    for one in noted:
        print(f"{one.number:>4}  {local(one.when, seconds=True)}  {in_words(one.event)}")
    return FINE


def export_jobs(store: "Store", arguments: Namespace) -> int:
    """Write JSON Lines."""
    jobs = [store.head(job).id for job in arguments.job] or None
    if arguments.file == STANDARD:
        count = store.export(sys.stdout, jobs)
    else:
        with new_file(Path(arguments.file), force=arguments.force) as out:
            count = store.export(out, jobs)
    say(f"{_count(count, 'job')} written.")
    return FINE


def import_jobs(store: "Store", arguments: Namespace) -> int:
    """Take in JSON Lines."""
    try:
        if arguments.file == STANDARD:
            took = store.take_in(sys.stdin)
        else:
            with Path(arguments.file).open(encoding="utf-8") as lines:
                took = store.take_in(lines)
    except UnicodeDecodeError as error:
        raise FileError(f"{arguments.file} is no text.", "Nothing was taken in.") from error
    except OSError as error:
        raise FileError(f"{arguments.file} cannot be read: {error.strerror}.") from error
    if vars(arguments).get("format") == "json":
        write_json({"schema_version": SCHEMA_VERSION, "jobs": took.jobs, "events": took.events,
                    "doubled": took.doubled, "clashes": list(took.clashes)})
    else:
        print(f"{_count(took.events, 'event')} taken in, {_count(took.jobs, 'job')} new; "
              f"{_count(took.doubled, 'event')} known already.")
        for clash in took.clashes:
            print(clash)
    return FINDINGS if took.clashes else FINE


def count_jobs(store: "Store", arguments: Namespace) -> int:
    """Count faults, minutes, tests."""
    from faultkit.journal.statistics import statistics_of

    asked = vars(arguments)
    figures = statistics_of(store.heads(asset=asked.get("asset", ""),
                                        machine=asked.get("machine", "")))
    if asked.get("format") == "json":
        write_json({
            "schema_version": SCHEMA_VERSION, "jobs": figures.jobs, "open": figures.open,
            "closed": dict(figures.closed), "mean_minutes": _figure(figures.mean_minutes),
            "median_minutes": _figure(figures.median_minutes),
            "tests_a_job": _figure(figures.tests_a_job),
            "faults": [{"device": device_of(remedy), "remedy": remedy, "months": dict(months)}
                       for remedy, months in figures.cures.items()]})
        return FINE
    _print_figures(figures)
    return FINE


def show_weights(store: "Store", arguments: Namespace) -> int:
    """Show both shares of every cause."""
    from faultkit.belief.learned import STRENGTH, learned_from, weights
    from faultkit.commands.opening import open_machine

    asked = vars(arguments)
    machine = open_machine(arguments.machine)
    causes = list(machine.causes.values())
    confirmed = store.confirmed(machine.id, asked.get("asset", ""))
    rows = weights(causes, learned_from(causes, confirmed))
    if asked.get("format") == "json":
        write_json({
            "schema_version": SCHEMA_VERSION, "machine": machine.id,
            "asset": asked.get("asset"), "strength": STRENGTH, "confirmed": dict(confirmed),
            "causes": [{"id": row.cause, "author": number(row.author),
                        "learned": number(row.learned), "count": number(row.count)}
                       for row in rows]})
        return FINE
    shown = [row for row in rows if row.count or asked.get("all")]
    if shown:
        print("author  learned  found")
    for row in sorted(shown, key=lambda row: (-row.learned, row.cause)):
        print(f"{row.author:6.2%}  {row.learned:7.2%}  {row.count:5.1f}  "
              f"{on_one_line(machine.causes[row.cause].says)}  [{row.cause}]")
    say(f"{_count(sum(confirmed.values()), 'repair')} that cured, beside the author's weights, "
        f"which are worth {STRENGTH:g}. Without: faultkit find --no-learned")
    return FINE


def device_of(remedy: str) -> str:
    """Designation in a remedy's id: `-Q3` of `Q3.replace`."""
    return "-" + remedy.partition(".")[0].lstrip("-")


def head_data(head: "JobHead") -> dict[str, Any]:
    """Head for JSON."""
    return {"id": head.id, "machine": head.machine, "version": head.version,
            "begun": head.begun.isoformat(), "last": head.last.isoformat(),
            "events": head.events, "readings": head.readings, "asset": head.asset,
            "site": head.site, "complaint": head.complaint, "who": head.who,
            "closed": head.closed or None, "origin": head.origin or None,
            "repairs": [{"remedy": one.remedy, "cured": one.cured, "when": one.when.isoformat()}
                        for one in head.repairs]}


def noted_data(noted: "Noted") -> dict[str, Any]:
    """Event for JSON."""
    from faultkit.journal.codec import to_data

    return {"number": noted.number, "when": noted.when.isoformat(),
            "event": to_data(noted.event)}


def in_words(event: "Event") -> str:
    """Event in a line: its kind in words, and what it holds."""
    kind = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", type(event).__name__).capitalize()
    held = []
    for one in fields(event):
        value = getattr(event, one.name)
        if isinstance(value, bool):
            held.append(f"{one.name.replace('_', ' ')} {'yes' if value else 'no'}")
        elif value not in ("", None, ()):
            held.append(", ".join(map(str, value)) if isinstance(value, tuple) else str(value))
    return f"{kind}: {on_one_line('; '.join(held))}" if held else kind


def local(when: "datetime", *, seconds: bool = False) -> str:
    """Moment by the clock on the wall."""
    return f"{when.astimezone():%Y-%m-%d %H:%M:%S}" if seconds else (
        f"{when.astimezone():%Y-%m-%d %H:%M}")


@contextmanager
def new_file(path: Path, *, force: bool) -> Iterator[TextIO]:
    """Write a file that appears only when it is complete.

    Raises
    ------
    FileError
        It exists, or cannot be written.
    """
    if path.exists() and not force:
        raise FileError(f"{path} exists.", "Name another file, or overwrite it with --force.")
    part = path.with_name(f"{path.name}.part")
    try:
        with part.open("w", encoding="utf-8", newline="\n") as out:
            yield out
        part.replace(path)
    except OSError as error:
        raise FileError(f"{path} cannot be written: {error.strerror}.") from error
    finally:
        part.unlink(missing_ok=True)


def _add_common(parser: ArgumentParser, *, form: bool = True) -> None:
    parser.add_argument("--store", metavar="PATH", default=SUPPRESS,
                        help="a file of jobs, or postgresql://...; your account's own if left out")
    if form:
        parser.add_argument("--format", choices=("text", "json"), default=SUPPRESS)


def _add_choice(parser: ArgumentParser) -> None:
    parser.add_argument("--asset", metavar="TAG", default=SUPPRESS, help="only of this asset")
    parser.add_argument("--machine", metavar="MACHINE", default=SUPPRESS,
                        help="only of this machine")


def _add_list_arguments(parser: ArgumentParser) -> None:
    _add_choice(parser)
    parser.add_argument("--open", action="store_true", default=SUPPRESS,
                        help="only jobs that are not closed")
    parser.add_argument("--all", action="store_true", default=SUPPRESS,
                        help=f"all, not only the last {SHOWN}")


def _print_figures(figures: "Statistics") -> None:
    closed = ", ".join(f"{count} {how}" for how, count in figures.closed.items())
    print(f"Jobs: {figures.jobs}, {figures.open} of them open{closed and '; closed: ' + closed}")
    if figures.mean_minutes is not None and figures.median_minutes is not None:
        print(f"Minutes from call to hand-over: {figures.mean_minutes:.0f} on average, "
              f"{figures.median_minutes:.0f} in the middle of all")
    if figures.tests_a_job is not None:
        print(f"Tests a job: {figures.tests_a_job:.1f}")
    for device, months in by_device(figures.cures).items():
        total = sum(months.values())
        listed = "  ".join(f"{month}: {count}" for month, count in months.items())
        print(f"{on_one_line(device):<8} {total:>5}   {listed}")


def by_device(cures: Mapping[str, Mapping[str, int]]) -> dict[str, dict[str, int]]:
    """Device -> month -> how often something on it was the fault; most often first."""
    found: dict[str, dict[str, int]] = {}
    for remedy, months in cures.items():
        of_device = found.setdefault(device_of(remedy), {})
        for month, count in months.items():
            of_device[month] = of_device.get(month, 0) + count
    ranked = sorted(found.items(), key=lambda item: (-sum(item[1].values()), item[0]))
    return {device: dict(sorted(months.items())) for device, months in ranked}


def _figure(value: float | None) -> float | str | None:
    return None if value is None else number(value, 4)


def _count(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
