"""Processes that are killed, and several on one store.

FAULTKIT_KILLS sets the number of writers killed (-9): 15 unless it says otherwise. The full
editions are in tests/benchmarks/journal.py.
"""

import os
import random
from pathlib import Path

from faultkit.job.events import Remarked
from faultkit.journal import open_store
from tests.journal.processes import Writer, assert_nothing_lost, kill_at_random

KILLS = int(os.environ.get("FAULTKIT_KILLS", "15"))


def test_a_process_killed_at_any_moment_loses_no_acknowledged_event(tmp_path: Path) -> None:
    path, rnd = tmp_path / "jobs.sqlite", random.Random(20250301)
    for _ in range(KILLS):
        heard = kill_at_random(path, 20, rnd, longest=0.2)
        store = open_store(path)
        assert store.warning == ""
        assert_nothing_lost(store, heard, killed=True)
        job = list(heard.acknowledged)[-1]
        number = len(store.read(job)) + 1
        store.note(job, number, Remarked("it goes on"))
        assert store.read(job)[-1].event == Remarked("it goes on")
        store.close()


def test_eight_processes_on_one_store_lose_nothing_and_see_no_error(tmp_path: Path) -> None:
    path = tmp_path / "jobs.sqlite"
    writers = [Writer(path, 20, seconds=2.0) for _ in range(8)]
    all_heard = [writer.end(timeout=120) for writer in writers]
    store = open_store(path)
    for heard in all_heard:
        assert heard.done, heard.errors
        assert_nothing_lost(store, heard, killed=False)
    assert len(store.heads()) == sum(len(heard.acknowledged) for heard in all_heard)
    store.close()
