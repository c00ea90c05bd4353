"""A process that writes a job and says each event that was acknowledged.

    python -m tests.journal.writer STORE EVENTS [SECONDS]

Writes `JOB id`, then each number as soon as it is on disk. With SECONDS: job after job of EVENTS
events each, until that time is over.
"""

import sys
import time

from faultkit.job.events import ReadingTaken
from faultkit.journal import open_store
from faultkit.vocabulary.diagnosis import Reading


def event(number: int) -> ReadingTaken:
    """What stands under a number."""
    return ReadingTaken(f"walk-up/-X1:{number}/up-slow", Reading(number / 7))


def say(text: str) -> None:
    """Acknowledge, to whoever listens."""
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def write(where: str, events: int, seconds: float) -> None:
    """Write, until the time is over or the job is."""
    end = time.monotonic() + seconds
    store = open_store(where)
    while True:
        job = store.begin("bridge-hoist", "1")
        say(f"JOB {job}")
        for number in range(1, events + 1):
            store.note(job, number, event(number))
            if store.warning:
                raise SystemExit(f"warning: {store.warning}")
            say(str(number))
        if time.monotonic() >= end:
            break
    store.close()
    say("DONE")


if __name__ == "__main__":
    write(sys.argv[1], int(sys.argv[2]), float(sys.argv[3]) if len(sys.argv) > 3 else 0.0)
