"""Every change is an event, and every change but a repair can be taken back."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from faultkit.commands.opening import JobEngine
from faultkit.errors import UsageError
from faultkit.job.events import (
    Event,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Repaired,
    SymptomTold,
    SymptomWithdrawn,
    TestOffered,
    TestSkipped,
)
from faultkit.job.records import JobState
from faultkit.terminal.desk import Desk, tell_differences
from faultkit.vocabulary.diagnosis import Reading

SYMPTOMS = ("no-up", "chatters", "no-lamp")
TESTS = ("up-coil", "coil-ohms", "look-q2")
READINGS = st.floats(0, 400).map(Reading)

EVENTS = st.one_of(
    st.builds(SymptomTold, st.sampled_from(SYMPTOMS), st.booleans()),
    st.builds(SymptomWithdrawn, st.sampled_from(SYMPTOMS)),
    st.builds(ReadingTaken, st.sampled_from(TESTS), READINGS),
    st.builds(ReadingChanged, st.integers(1, 6), READINGS),
    st.builds(ReadingWithdrawn, st.integers(1, 6)),
    st.builds(TestSkipped, st.sampled_from(TESTS)),
    st.builds(TestOffered, st.sampled_from(TESTS)),
)


def meaning(state: JobState) -> tuple[object, ...]:
    """What a state says, whatever numbers its readings bear and in whatever order."""
    return (sorted((t.symptom, t.shows) for t in state.told),
            sorted((e.test, e.reading.value) for e in state.entries), sorted(state.skipped))


@settings(max_examples=60, deadline=None,
          suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(events=st.lists(EVENTS, max_size=12))
def test_undo_leads_back_through_every_state_there_was(
    winch: JobEngine, events: list[Event],
) -> None:
    desk = Desk(winch)
    states = []
    for event in events:
        before = desk.state
        try:
            desk.tell(event)
        except UsageError:
            assert desk.state == before
            continue
        if desk.state != before:
            states.append(meaning(before))
    for earlier in reversed(states):
        desk.undo()
        assert meaning(desk.state) == earlier
    assert desk.undo() == "There is nothing to take back."


@settings(max_examples=30, deadline=None,
          suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(events=st.lists(EVENTS, max_size=8), undos=st.integers(0, 8))
def test_the_list_of_events_alone_gives_the_same_state(
    winch: JobEngine, events: list[Event], undos: int,
) -> None:
    heard: list[Event] = []
    desk = Desk(winch, heard.append)
    for event in events:
        try:
            desk.tell(event)
        except UsageError:
            continue
    for _ in range(undos):
        desk.undo()
    state = JobState(machine=winch.machine.id)
    for event in heard:
        state = winch.step(state, event)
    assert state == desk.state
    assert heard == desk.events


def test_a_repair_entered_by_mistake_is_taken_back(winch: JobEngine) -> None:
    desk = Desk(winch)
    desk.tell(Repaired("Q2.replace", cured=False))
    assert "Repair taken back" in desk.undo()
    assert desk.state == JobState(machine=winch.machine.id)
    assert not desk.cured
    desk.tell(Repaired("Q2.replace", cured=True))
    assert desk.cured


def test_only_differences_of_a_complaint_are_told(winch: JobEngine) -> None:
    desk = Desk(winch)
    tell_differences(desk, {"no-up": True, "chatters": False})
    tell_differences(desk, {"no-up": True, "no-lamp": True})
    assert desk.events[2:] == [SymptomWithdrawn("chatters"), SymptomTold("no-lamp", shows=True)]


@pytest.mark.parametrize("number", [0, 1, 9])
def test_a_refused_event_changes_nothing(winch: JobEngine, number: int) -> None:
    desk = Desk(winch)
    with pytest.raises(UsageError):
        desk.tell(ReadingWithdrawn(number))
    assert desk.events == []
