"""A job that is broken off at any moment goes on where it stood: nothing lost, nothing doubled.

`FAULTKIT_KILLS` says how often it is killed (10 by default).
"""

import os
import random
import signal
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest

from faultkit.commands.opening import JobEngine, open_engine
from faultkit.job.events import Event
from faultkit.job.records import JobState
from faultkit.journal import open_store
from faultkit.terminal.desk import Desk
from faultkit.terminal.plain.echo import echo_of
from faultkit.terminal.plain.talk import WIDTH
from faultkit.vocabulary.says import harmless
from tests.jobs.electrician import Electrician
from tests.jobs.process import KILL, Typed

WINCH = str(Path(__file__).parents[1] / "terminal" / "winch.yaml")
KILLS = int(os.environ.get("FAULTKIT_KILLS", "10"))
CAUSES = ("Q2.coil-open", "S2.13-14.open", "H1.burnt")
ANSWERS = 25
"""A run is killed after so many answers at the most, some of them before the first one."""
JUST_AFTER, BEFORE = 0.03, 1.0
"""Seconds from an answer to the kill at the most, while it is worked on; and from the start."""


@pytest.fixture(scope="module")
def winch(tmp_path_factory: pytest.TempPathFactory) -> Iterator[JobEngine]:
    """The small winch, computed into a cache that the program finds again."""
    before = os.environ.get("XDG_CACHE_HOME")
    os.environ["XDG_CACHE_HOME"] = str(tmp_path_factory.mktemp("cache"))
    yield open_engine(WINCH, lambda _: None)
    if before is None:
        del os.environ["XDG_CACHE_HOME"]
    else:
        os.environ["XDG_CACHE_HOME"] = before


def kept(store: Path) -> tuple[str, list[Event]]:
    """Id and events of the one job in a store; nothing where none was begun."""
    opened = open_store(store)
    heads = opened.heads(2)
    assert len(heads) <= 1
    events = [noted.event for noted in opened.read(heads[0].id)] if heads else []
    opened.close()
    return (heads[0].id if heads else "", events)


def electrician(winch: JobEngine, cause: str) -> Electrician:
    return Electrician(winch, cause, load="hanging", how="2")


def start(store: Path, job: str) -> Typed:
    resume = ("--resume", job) if job else ()
    return Typed(("find", WINCH, "--plain", "--store", str(store), *resume))


def whole(winch: JobEngine, cause: str, store: Path) -> list[Event]:
    """The events of a job that nobody broke off."""
    run = start(store, "")
    run.work(electrician(winch, cause))
    assert run.rest() == 0
    return kept(store)[1]


def echoes(winch: JobEngine, events: list[Event]) -> list[str]:
    """What is said of each event: the first line of it."""
    desk, said = Desk(winch), []
    for event in events:
        desk.tell(event)
        words = f"= {harmless(echo_of(event, desk))}"
        said.append(words[:WIDTH // 2])
    return said


def agree(winch: JobEngine, run: Typed, before: list[Event], events: list[Event]) -> None:
    """What was kept before is unchanged; what this run acknowledged follows, each event once.

    At most one more is kept: the one that was written when the run was killed.
    """
    assert events[:len(before)] == before
    said = [f"= {row}"[:WIDTH // 2] for row in run.acknowledged]
    new = echoes(winch, events)[len(before):]
    assert said == new[:len(said)]
    assert len(new) - len(said) <= 1


def test_no_acknowledged_event_is_lost_or_doubled_by_kills_at_random_moments(
    winch: JobEngine, tmp_path: Path,
) -> None:
    chance = random.Random(20)
    reference = {cause: whole(winch, cause, tmp_path / f"{cause}.sqlite") for cause in CAUSES}
    kills = number = 0
    while kills < KILLS:
        cause = CAUSES[number % len(CAUSES)]
        store = tmp_path / f"killed-{number}.sqlite"
        kills += killed_again_and_again(winch, cause, store, chance, KILLS - kills)
        _, events = kept(store)
        assert ends(winch, events) == ends(winch, reference[cause])
        number += 1


def ends(winch: JobEngine, events: list[Event]) -> tuple[object, ...]:
    """How a job ended, whichever tests were proposed on the way.

    They may differ: where it was broken off, the machine may be dead when it goes on.
    """
    state = JobState(machine=winch.machine.id)
    for event in events:
        state = winch.step(state, event)
    return (state.call, state.secured, state.told, state.dead, state.proofs, state.closed,
            [(one.remedy, one.cured, one.note) for one in state.repaired])


def killed_again_and_again(winch: JobEngine, cause: str, store: Path, chance: random.Random,
                           most: int) -> int:
    """Work on one job, killed at random moments, until it is closed; the number of kills."""
    hand, kills = electrician(winch, cause), 0
    job, events = "", list[Event]()
    unsaid: Event | None = None
    while True:
        run = start(store, job)
        timer = None
        if kills < most:
            answers = chance.randrange(ANSWERS)
            run.work(hand, answers)
            moment = chance.uniform(0, JUST_AFTER if answers else BEFORE)
            timer = threading.Timer(moment, run.running.send_signal, (KILL,))
            timer.start()
        run.work(hand)
        code = run.rest()
        if timer is not None:
            timer.cancel()
        before, (job, events) = events, kept(store)
        agree(winch, run, before, events)
        new = events[len(before):]
        assert not (new and unsaid and new[0] == unsaid)
        if new:
            unsaid = new[-1] if len(new) > len(run.acknowledged) else None
        if code == 0:
            return kills
        assert code == -KILL, run.said[-500:]
        kills += 1
        hand.repaired = any(type(event).__name__ == "Repaired" for event in events)


@pytest.mark.parametrize(("number", "answers"), [
    (signal.SIGTERM, 3), (signal.SIGHUP, 20), (signal.SIGTERM, 34)])
def test_a_signal_leaves_one_line_that_says_where_the_job_is(
    winch: JobEngine, tmp_path: Path, number: int, answers: int,
) -> None:
    store = tmp_path / "ended.sqlite"
    hand = electrician(winch, "Q2.coil-open")
    run = start(store, "")
    run.work(hand, answers)
    run.until_asked()
    assert run.end(number) == 128 + number
    job, events = kept(store)
    agree(winch, run, [], events)
    assert len(events) == len(run.acknowledged)
    last = run.said.rstrip().splitlines()[-1]
    if not events:
        assert last == "Ended from outside. Make the machine safe before you go."
        return
    assert last == (f"The job is kept: faultkit find {WINCH} --store {store} "
                    f"--resume {job[:8]}")
    again = start(store, job[:8])
    again.work(hand)
    assert again.rest() == 0
    assert kept(store)[1][:len(events)] == events
