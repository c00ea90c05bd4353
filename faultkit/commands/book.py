"""One job in the store: its events are kept under its id, from the first one on."""

import json
import shlex
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, runtime_checkable

from faultkit.errors import FileError

if TYPE_CHECKING:
    from faultkit.job.events import Event
    from faultkit.job.knowledge import Knowledge
    from faultkit.journal import JobHead, Noted, Store
    from faultkit.terminal.desk import Engine

SHORT = 8
"""Signs of an id that tell jobs apart for a person."""


class JobBook:
    """Where one job is written down.

    Parameters
    ----------
    store : Store
    machine, version : str
        Of the machine.
    options : sequence of str
        What must be typed besides `--resume` to find the job again.
    head : JobHead or None
        The job to go on with; None for a new one, which begins with its first event.
    """

    def __init__(self, store: "Store", machine: str, version: str,
                 options: tuple[str, ...] = (), head: "JobHead | None" = None) -> None:
        self._store, self._options = store, options
        self._machine, self._version = machine, version
        self.id = head.id if head is not None else ""
        self._noted = list(store.read(self.id)) if self.id else []

    @property
    def noted(self) -> "tuple[Noted, ...]":
        """What happened so far."""
        return tuple(self._noted)

    @property
    def way_back(self) -> str:
        """A sentence that says where the job is; empty while nothing of it was kept."""
        if not self._noted:
            return ""
        if not self._store.keeping:
            return self._store.warning
        command = shlex.join(("faultkit", "find", *self._options, "--resume", self.id[:SHORT]))
        return f"The job is kept: {command}"

    def hear(self, event: "Event") -> None:
        """Keep an event; on disk when this returns. JournalError where that cannot be."""
        if not self.id:
            self.id = self._store.begin(self._machine, self._version)
        self._noted.append(self._store.note(self.id, len(self._noted) + 1, event))

    def report(self, engine: "Engine") -> str:
        """Write the report as Markdown text."""
        return report_text(engine, self.id, self._noted, self._version, "md")

    def save_report(self, engine: "Engine", form: str) -> str:
        """Write the report into a new file here; a sentence that says where it is."""
        text = report_text(engine, self.id, self._noted, self._version, form)
        path = _free(Path.cwd() / f"faultkit-{self.id[:SHORT]}.{form}")
        try:
            with path.open("x", encoding="utf-8") as file:
                file.write(text)
        except OSError as error:
            raise FileError(f"The report could not be written to {path}: {error.strerror}.",
                            "Write it elsewhere: faultkit report --output FILE") from error
        return f"Saved: {path}"


@runtime_checkable
class Knowing(Protocol):
    """An engine with everything computed; asking for it waits until it is there."""

    @property
    def knowledge(self) -> "Knowledge":
        """What the job is worked out with."""
        ...


def report_text(engine: "Engine", job: str, noted: "Sequence[Noted]", version: str,
                form: str) -> str:
    """The report of a job in one of its forms."""
    from faultkit.reports import as_data, as_html, as_markdown, build_report

    assert isinstance(engine, Knowing)
    report = build_report(engine.knowledge, job, noted, zone=None, version=version)
    if form == "html":
        return as_html(report)
    if form == "json":
        return json.dumps(as_data(report), ensure_ascii=False, indent=2, allow_nan=False) + "\n"
    return as_markdown(report)


def _free(path: Path) -> Path:
    """The path, or one beside it that is not taken."""
    number, free = 1, path
    while free.exists():
        number += 1
        free = path.with_stem(f"{path.stem}-{number}")
    return free
