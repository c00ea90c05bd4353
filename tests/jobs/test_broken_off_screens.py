"""A job on screens that is killed at any moment goes on where it stood.

`FAULTKIT_SCREEN_KILLS` says how often it is killed (3 by default: each takes some seconds).
"""

import os
import random
import subprocess
import sys
import threading
from pathlib import Path

from faultkit.commands.opening import JobEngine
from faultkit.job.events import Event
from tests.jobs.process import KILL, ROOT
from tests.jobs.test_broken_off import CAUSES, WINCH, ends, kept, winch

__all__ = ["winch"]

KILLS = int(os.environ.get("FAULTKIT_SCREEN_KILLS", "3"))
STARTING, WORKING = 1.0, 6.0
"""Seconds from the start to the kill: at the least, and how many more at the most."""


def run(store: Path, cause: str, job: str, kill_after: float | None) -> tuple[int, list[int]]:
    """Exit code of one run, and the numbers of events it said were done."""
    working = subprocess.Popen(
        [sys.executable, "-m", "tests.jobs.on_screens", WINCH, str(store), cause,
         *([job] if job else [])],
        cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    timer = None
    if kill_after is not None:
        timer = threading.Timer(kill_after, working.send_signal, (KILL,))
        timer.start()
    said, trouble = working.communicate(timeout=240)
    if timer is not None:
        timer.cancel()
    assert working.returncode in (0, -KILL), trouble[-2000:]
    whole = said if said.endswith("\n") else said.rpartition("\n")[0]
    return working.returncode, [int(row) for row in whole.split()]


def to_the_end(store: Path, cause: str, chance: random.Random, most: int,
               ) -> tuple[int, list[Event]]:
    """Do one job, killed at random moments; how often it was, and its events."""
    kills, job, before = 0, "", list[Event]()
    while True:
        after = STARTING + chance.uniform(0, WORKING) if kills < most else None
        code, seen = run(store, cause, job, after)
        job, events = kept(store)
        assert events[:len(before)] == before
        assert len(events) >= max(seen, default=0)
        before = events
        if code == 0:
            assert len(events) == seen[-1]
            return kills, events
        kills += 1


def test_no_event_that_was_seen_is_lost_or_doubled_by_kills_of_the_screens(
    winch: JobEngine, tmp_path: Path,
) -> None:
    chance, kills, number = random.Random(21), 0, 0
    _, reference = to_the_end(tmp_path / "whole.sqlite", CAUSES[0], chance, 0)
    while kills < KILLS:
        store = tmp_path / f"killed-{number}.sqlite"
        more, events = to_the_end(store, CAUSES[0], chance, KILLS - kills)
        kills += more
        number += 1
        assert ends(winch, events) == ends(winch, reference)
