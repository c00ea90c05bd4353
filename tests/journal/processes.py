"""Writers started, killed and heard."""

import os
import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from faultkit.journal.store import Store
from tests.architecture.house import ROOT
from tests.journal.writer import event


@dataclass(frozen=True, slots=True)
class Heard:
    """What a writer said."""

    acknowledged: Mapping[str, int]
    """Job -> number of the last event that was acknowledged."""
    done: bool
    errors: str


class Writer:
    """A writer at work; what it says goes to a file, where nothing of it is lost on the way.

    Parameters
    ----------
    seconds : float
        It writes job after job of `events` events each until that time is over.
    """

    def __init__(self, store: Path | str, events: int, seconds: float = 0.0) -> None:
        self._said = tempfile.TemporaryFile("w+")  # noqa: SIM115 - closed at its end
        self._errors = tempfile.TemporaryFile("w+")  # noqa: SIM115 - closed at its end
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tests.journal.writer", str(store), str(events), str(seconds)],
            cwd=ROOT, stdout=self._said, stderr=self._errors)

    def kill(self) -> None:
        """Kill it (-9)."""
        self._process.kill()

    def wait_for_its_first_event(self) -> None:
        """Wait until it acknowledged one."""
        while not any(self._so_far().acknowledged.values()):
            if self._process.poll() is not None:
                raise AssertionError(_all_of(self._errors))
            time.sleep(0.01)

    def end(self, timeout: float) -> Heard:
        """Wait for its end and gather what it said."""
        self._process.wait(timeout)
        heard = self._so_far()
        self._said.close()
        self._errors.close()
        return heard

    def _so_far(self) -> Heard:
        acknowledged: dict[str, int] = {}
        job = ""
        lines = _all_of(self._said).split("\n")[:-1]  # a line that was cut off was not said
        for line in lines:
            if line.startswith("JOB "):
                job = line[4:]
                acknowledged[job] = 0
            elif line.isdigit():
                acknowledged[job] = int(line)
        return Heard(acknowledged, "DONE" in lines, _all_of(self._errors))


def _all_of(file: IO[str]) -> str:
    """What stands in a file that a process is writing, without moving the place it writes at."""
    return os.pread(file.fileno(), 1 << 30, 0).decode()


def kill_at_random(store: Path | str, events: int, rnd: random.Random, longest: float) -> Heard:
    """Start a writer and kill it (-9) at a random moment after its first acknowledged event."""
    writer = Writer(store, events, seconds=3600)
    writer.wait_for_its_first_event()
    time.sleep(rnd.uniform(0.0, longest))
    writer.kill()
    return writer.end(timeout=60)


def assert_nothing_lost(store: Store, heard: Heard, *, killed: bool) -> None:
    """Every acknowledged event is there, in order, once; at most one more was on its way."""
    for job, last in heard.acknowledged.items():
        noted = store.read(job)
        assert [one.number for one in noted] == list(range(1, len(noted) + 1))
        assert [one.event for one in noted] == [event(one.number) for one in noted]
        assert last <= len(noted) <= last + (1 if killed else 0)
        assert store.head(job).events == len(noted)
