"""What the journal stands: kills, crowds, many jobs.

    python -m tests.benchmarks.journal [--kills 500] [--plain 500] [--seconds 60] [--jobs 10000]

`--kills`: writers killed (-9) at a random moment, each in a job that nobody else has; `--plain`:
the same for scripted jobs line by line, killed and resumed (tests/jobs/test_broken_off.py);
`--seconds`: how long 8 processes write to one store at once; `--jobs`: how many the store holds
when it is listed. 0 leaves a part out.
"""

import argparse
import os
import random
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from faultkit.job.events import CalledOut, Closed, Event, ProofMade, ReadingTaken, Repaired
from faultkit.journal import open_store
from faultkit.journal.lines import Brought
from faultkit.journal.records import Begun, Noted
from faultkit.vocabulary.diagnosis import Reading
from tests.architecture.house import ROOT
from tests.journal.making import ledger
from tests.journal.processes import Writer, assert_nothing_lost, kill_at_random

PROCESSES = 8
TIMES = 9
REMEDIES = ("Q3.replace", "Q2.replace", "W1.14.core", "B1.replace", "K3.replace")


def killed(folder: Path, count: int) -> str:
    """Kill writers, and look after each."""
    path, chance, acknowledged = folder / "killed.sqlite", random.Random(1), 0
    for _ in range(count):
        heard = kill_at_random(path, 20, chance, longest=0.25)
        store = open_store(path)
        if store.warning:
            raise SystemExit(store.warning)
        assert_nothing_lost(store, heard, killed=True)
        acknowledged += sum(heard.acknowledged.values())
        store.close()
    return f"{count} writers killed, {acknowledged} acknowledged events: none lost, none doubled"


def killed_on_lines(count: int) -> str:
    """Kill scripted jobs line by line."""
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider",
         "tests/jobs/test_broken_off.py", "-k", "kills_at_random"],
        cwd=ROOT, env={**os.environ, "FAULTKIT_KILLS": str(count)}, check=False,
        capture_output=True, text=True)
    return f"line by line, {count} kills: {done.stdout.strip().splitlines()[-1]}"


def crowded(folder: Path, seconds: float) -> str:
    """Let processes write to one store at once."""
    path = folder / "crowded.sqlite"
    all_heard = [writer.end(timeout=seconds + 120)
                 for writer in [Writer(path, 25, seconds) for _ in range(PROCESSES)]]
    store, events = open_store(path), 0
    for heard in all_heard:
        if not heard.done or heard.errors:
            raise SystemExit(heard.errors)
        assert_nothing_lost(store, heard, killed=False)
        events += sum(heard.acknowledged.values())
    jobs = len(store.heads())
    store.close()
    return (f"{PROCESSES} processes, {seconds:g} s: {jobs} jobs, {events} events "
            f"({events / seconds:.0f} a second), no error, none lost")


def made_up(count: int) -> Iterator[Brought]:
    """Jobs as they might be."""
    chance, when = random.Random(1), datetime(2023, 1, 1, tzinfo=UTC)
    for _ in range(count):
        when += timedelta(minutes=chance.randrange(10, 200))
        events: list[Event] = [CalledOut("A. Person", f"H-{chance.randrange(200)}", "bay 3",
                                         "UP does nothing at the first step")]
        events += [ReadingTaken(f"walk-up/-X1:{chance.randrange(30)}/up-slow",
                                Reading(chance.random() * 113))
                   for _ in range(chance.randrange(4, 20))]
        events += [Repaired(chance.choice(REMEDIES), cured=True),
                   ProofMade("emergency stop", passed=True, who="A. Person")]
        if chance.random() < 0.97:
            events.append(Closed("fit for use", "A. Person"))
        noted = [Noted(number, when + timedelta(minutes=number), event)
                 for number, event in enumerate(events, start=1)]
        yield Brought(f"{chance.getrandbits(128):032x}", Begun("bridge-hoist", "1", when), noted)


def listed(folder: Path, count: int) -> list[str]:
    """Time what a list of many jobs takes."""
    path = folder / "many.sqlite"
    store = ledger(path)
    took = store.join(made_up(count))
    store.close()
    size = path.stat().st_size / 1e6
    command = [sys.executable, "-m", "faultkit", "jobs", "--store", str(path)]

    def opened(limit: int | None) -> None:
        one = open_store(path)
        one.heads(limit)
        one.close()

    def run(*more: str) -> None:
        subprocess.run([*command, *more], cwd=ROOT, check=True, capture_output=True)

    return [f"{count} jobs, {took.events} events, {size:.0f} MB:",
            timed("open, and the heads of 20", lambda: opened(20)),
            timed("open, and the heads of all", lambda: opened(None)),
            timed("faultkit jobs, wall", run),
            timed("faultkit jobs --all, wall", lambda: run("--all")),
            timed("faultkit jobs stats, wall", lambda: run("stats"))]


def timed(what: str, work: Callable[[], object]) -> str:
    """Seconds that something takes: least, median, most."""
    seconds = []
    for _ in range(TIMES):
        begun = time.perf_counter()
        work()
        seconds.append(time.perf_counter() - begun)
    return (f"  {what}: {min(seconds):.3f} / {median(seconds):.3f} / {max(seconds):.3f} s "
            f"(least, median, most of {TIMES})")


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__,
                                     formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--kills", type=int, default=500)
    parser.add_argument("--plain", type=int, default=500)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--jobs", type=int, default=10_000)
    asked = parser.parse_args()
    with TemporaryDirectory() as name:
        folder = Path(name)
        if asked.jobs:
            print("\n".join(listed(folder, asked.jobs)), flush=True)
        if asked.seconds:
            print(crowded(folder, asked.seconds), flush=True)
        if asked.kills:
            print(killed(folder, asked.kills), flush=True)
        if asked.plain:
            print(killed_on_lines(asked.plain), flush=True)


if __name__ == "__main__":
    main()
