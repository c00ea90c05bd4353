"""For whatever happens in whatever order: replay equals live, and undo leads back."""

from dataclasses import dataclass
from itertools import pairwise

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from faultkit.commands.opening import JobEngine
from faultkit.errors import UsageError
from faultkit.job.events import (
    BridgeFound,
    BridgeRemoved,
    CalledOut,
    Closed,
    ConditionChanged,
    Event,
    LoadSecured,
    ProofMade,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Remarked,
    Reopened,
    Repaired,
    RepairWithdrawn,
    SymptomTold,
    SymptomWithdrawn,
    TestOffered,
    TestSkipped,
)
from faultkit.job.records import JobState
from faultkit.terminal.desk import Desk
from faultkit.vocabulary.diagnosis import Reading

SYMPTOMS = ("no-up", "chatters", "no-lamp")
TESTS = ("up-coil", "coil-ohms", "walk/-X1:7/up")
PLACES = ("-S0", "-X1:5 to -X1:6")
READINGS = st.floats(0, 400).map(Reading)
WORDS = st.sampled_from(("", "Ann", "[bold]", "\x1b[2J"))

SEARCHING = st.one_of(
    st.builds(SymptomTold, st.sampled_from(SYMPTOMS), st.booleans()),
    st.builds(SymptomWithdrawn, st.sampled_from(SYMPTOMS)),
    st.builds(ReadingTaken, st.sampled_from(TESTS), READINGS),
    st.builds(ReadingTaken, st.sampled_from(TESTS), READINGS),
    st.builds(ReadingChanged, st.integers(1, 6), READINGS),
    st.builds(ReadingWithdrawn, st.integers(1, 6)),
    st.builds(TestSkipped, st.sampled_from(TESTS)),
    st.builds(TestOffered, st.sampled_from(TESTS)),
)
AROUND = st.one_of(
    st.builds(CalledOut, who=WORDS, load=st.sampled_from(("none", "hanging", "unknown")),
              people=st.booleans(), dead_only=st.booleans()),
    st.builds(LoadSecured, st.sampled_from(("landed", "held otherwise"))),
    st.just(ConditionChanged("isolated", dead=True, steps=("off",))),
    st.just(ConditionChanged("ready", dead=False, steps=("on",))),
    st.builds(Repaired, st.just("Q2.replace"), st.booleans()),
    st.just(RepairWithdrawn()),
    st.builds(BridgeFound, st.sampled_from(PLACES)),
    st.builds(BridgeRemoved, st.sampled_from(PLACES)),
    st.builds(ProofMade, st.just("emergency stop"), st.booleans(), WORDS),
    st.builds(Remarked, WORDS),
    st.builds(Closed, st.sampled_from(("fit for use", "not fit for use")), WORDS, WORDS),
    st.just(Reopened()),
)
EVENTS = st.one_of(SEARCHING, SEARCHING, AROUND)


@dataclass(frozen=True)
class Kept:
    """An event as a journal gives it back."""

    event: Event


def may(desk: Desk, event: Event) -> bool:
    """Tell an event, if it may be."""
    before, told = desk.state, len(desk.events)
    try:
        desk.tell(event)
    except UsageError:
        assert desk.state == before
        assert len(desk.events) == told
        return False
    return True


def undone(desk: Desk) -> bool:
    """Undo once; whether something changed hands."""
    before, told = desk.state, len(desk.events)
    try:
        desk.undo()
    except UsageError:
        assert desk.state == before
        return False
    return len(desk.events) > told


def searched(state: JobState) -> tuple[object, ...]:
    """What a state says of the search, whatever numbers its readings bear."""
    return (sorted((t.symptom, t.shows) for t in state.told),
            sorted((e.test, e.reading.value or 0.0) for e in state.entries),
            sorted(state.skipped))


@settings(max_examples=60, deadline=None,
          suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(events=st.lists(SEARCHING, max_size=12))
def test_undo_leads_back_through_every_state_there_was(
    winch: JobEngine, events: list[Event],
) -> None:
    desk = Desk(winch)
    states = []
    for event in events:
        before = desk.state
        if may(desk, event) and desk.state != before:
            states.append(searched(before))
    for earlier in reversed(states):
        desk.undo()
        assert searched(desk.state) == earlier
    assert desk.undo() == "There is nothing to take back."


@settings(max_examples=60, deadline=None,
          suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(events=st.lists(SEARCHING, max_size=10), kept=st.integers(0, 10))
def test_undo_leads_back_after_a_job_was_taken_up_again(
    winch: JobEngine, events: list[Event], kept: int,
) -> None:
    first = Desk(winch)
    told = [event for event in events if may(first, event)]
    states = [JobState(machine=winch.machine.id)]
    for event in told:
        states.append(winch.step(states[-1], event))
    desk = Desk(winch, noted=[Kept(event) for event in told[:kept]])
    for event in told[kept:]:
        desk.tell(event)
    changing = [a for a, b in pairwise(states) if a != b]
    for earlier in reversed(changing):
        desk.undo()
        assert searched(desk.state) == searched(earlier)


@settings(max_examples=80, deadline=None,
          suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=st.lists(st.one_of(EVENTS, EVENTS, EVENTS, st.none()), max_size=20))
def test_replay_equals_live_whatever_was_told_and_undone(
    winch: JobEngine, steps: list[Event | None],
) -> None:
    """None stands for an undo."""
    heard: list[Event] = []
    desk = Desk(winch, heard.append)
    for event in steps:
        if event is None:
            undone(desk)
        else:
            may(desk, event)
        state = JobState(machine=winch.machine.id)
        for one in heard:
            state = winch.step(state, one)
        assert state == desk.state
    assert heard == desk.events
    again = Desk(winch, noted=[Kept(event) for event in heard])
    assert again.state == desk.state
    assert again.events == heard


@settings(max_examples=80, deadline=None,
          suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(events=st.lists(EVENTS, max_size=12), last=EVENTS)
def test_an_undo_that_changes_the_job_undoes_the_last_change(
    winch: JobEngine, events: list[Event], last: Event,
) -> None:
    desk = Desk(winch)
    for event in events:
        may(desk, event)
    before = desk.state
    if not may(desk, last) or desk.state == before or not undone(desk):
        return
    after = desk.state
    assert searched(after) == searched(before)
    assert (after.call, after.secured, after.dead, sorted(after.bridges), after.remarks,
            after.closed, [(r.remedy, r.cured) for r in after.repaired]) == (
        before.call, before.secured, before.dead, sorted(before.bridges), before.remarks,
        before.closed, [(r.remedy, r.cured) for r in before.repaired])
