"""Every change is an event that is written down first, and what can be taken back is."""

from collections.abc import Callable
from dataclasses import dataclass

import pytest

from faultkit.commands.opening import JobEngine
from faultkit.errors import FileError, UsageError
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
    TestSkipped,
)
from faultkit.job.records import JobState
from faultkit.terminal.desk import Desk, tell_differences
from faultkit.vocabulary.diagnosis import Reading

READ = ReadingTaken("up-coil", Reading(110.0))
DEAD = ConditionChanged("isolated", dead=True, steps=("load", "off:-Q0", "lock"))
PROVED = ProofMade("emergency stop", passed=True, who="Ann")


@dataclass(frozen=True)
class Kept:
    """An event as a journal gives it back."""

    event: Event


def told(winch: JobEngine, *events: Event) -> Desk:
    desk = Desk(winch)
    for event in events:
        desk.tell(event)
    return desk


def test_a_repair_entered_by_mistake_is_taken_back(winch: JobEngine) -> None:
    desk = told(winch, Repaired("Q2.replace", cured=False))
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
    heard: list[Event] = []
    desk = Desk(winch, heard.append)
    with pytest.raises(UsageError):
        desk.tell(ReadingWithdrawn(number))
    assert desk.events == heard == []


def test_what_may_not_be_is_refused_before_the_journal_hears_of_it(winch: JobEngine) -> None:
    heard: list[Event] = []
    desk = Desk(winch, heard.append)
    desk.tell(CalledOut(load="hanging"))
    for event in (READ, SymptomTold("no-upp", shows=True)):
        with pytest.raises(UsageError):
            desk.tell(event)
    assert desk.events == heard == [CalledOut(load="hanging")]


def failing_after(count: int) -> Callable[[Event], None]:
    """A journal that cannot write any more after some events."""
    left = [count]

    def heard(_event: Event) -> None:
        if not left[0]:
            raise FileError("The disk is full.")
        left[0] -= 1

    return heard


def test_what_the_journal_cannot_keep_has_not_happened(winch: JobEngine) -> None:
    desk = Desk(winch, failing_after(1))
    desk.tell(READ)
    before = desk.state
    with pytest.raises(FileError, match="The disk is full"):
        desk.tell(TestSkipped("look-q2"))
    with pytest.raises(FileError, match="The disk is full"):
        desk.undo()
    assert desk.state == before
    assert desk.events == [READ]


def test_an_undo_that_could_not_be_kept_can_be_tried_again(winch: JobEngine) -> None:
    full = [True]

    def heard(event: Event) -> None:
        if full[0] and isinstance(event, ReadingWithdrawn):
            raise FileError("The disk is full.")

    desk = Desk(winch, heard)
    desk.tell(READ)
    with pytest.raises(FileError):
        desk.undo()
    full[0] = False
    assert desk.undo().startswith("Reading taken back")
    assert desk.state.entries == ()


def test_the_state_seen_while_an_event_is_written_is_the_one_before(winch: JobEngine) -> None:
    seen: list[JobState] = []
    desk = Desk(winch, lambda _event: seen.append(desk.state))
    desk.tell(READ)
    assert seen == [JobState(machine=winch.machine.id)]


def test_a_job_goes_on_from_what_was_kept_and_that_is_not_heard_again(winch: JobEngine) -> None:
    heard: list[Event] = []
    kept = (SymptomTold("no-up", shows=True), READ)
    desk = Desk(winch, heard.append, [Kept(event) for event in kept])
    assert desk.state == told(winch, *kept).state
    assert desk.events == list(kept)
    assert heard == []
    assert desk.undo().startswith("Reading taken back")
    assert heard == [ReadingWithdrawn(1)]


def test_what_was_kept_is_never_refused(winch: JobEngine) -> None:
    """Rules may grow stricter; what happened, happened."""
    kept = (CalledOut(load="hanging"), READ)
    desk = Desk(winch, noted=[Kept(event) for event in kept])
    assert len(desk.state.entries) == 1


BACK: tuple[tuple[tuple[Event, ...], Event, Event], ...] = (
    ((), CalledOut(who="Ann"), CalledOut()),
    ((CalledOut(who="Ann"),), CalledOut(who="Bob"), CalledOut(who="Ann")),
    ((LoadSecured("landed"),), LoadSecured("area closed"), LoadSecured("landed")),
    ((), BridgeFound("-S0:11 to -S0:12"), BridgeRemoved("-S0:11 to -S0:12")),
    ((BridgeFound("-S0"),), BridgeRemoved("-S0"), BridgeFound("-S0")),
    ((READ,), ReadingChanged(1, Reading(3.0)), ReadingChanged(1, Reading(110.0))),
    ((READ,), ReadingWithdrawn(1), READ),
    ((READ,), Repaired("Q2.replace", cured=False), RepairWithdrawn()),
    ((PROVED,), Closed("fit for use", "Ann"), Reopened()),
    ((PROVED, Closed("fit for use", "Ann")), Reopened(), Closed("fit for use", "Ann")),
    ((Repaired("Q2.replace", cured=True),), RepairWithdrawn(), Repaired("Q2.replace", cured=True)),
)


@pytest.mark.parametrize(("before", "event", "counter"), BACK, ids=lambda one: str(one)[:40])
def test_an_event_is_taken_back_by_the_one_that_leads_back(
    winch: JobEngine, before: tuple[Event, ...], event: Event, counter: Event,
) -> None:
    desk = told(winch, *before)
    earlier = desk.state
    desk.tell(event)
    assert desk.undo()
    assert desk.events[-1] == counter
    if not isinstance(event, ReadingWithdrawn):  # comes back under a new number
        assert (desk.state.call, desk.state.secured, desk.state.bridges, desk.state.entries,
                desk.state.closed, desk.state.repaired) == (
            earlier.call, earlier.secured, earlier.bridges, earlier.entries, earlier.closed,
            earlier.repaired)


@pytest.mark.parametrize(("event", "words"), [
    (LoadSecured("landed"), "secured stays"), (DEAD, "What hands have switched"),
    (PROVED, "A proof stays"), (Remarked("wet"), "A remark stays")])
def test_what_cannot_be_taken_back_says_so_once_and_is_passed_over(
    winch: JobEngine, event: Event, words: str,
) -> None:
    desk = told(winch, TestSkipped("look-q2"), event)
    assert words in desk.undo()
    assert len(desk.events) == 2
    assert "Can be proposed again" in desk.undo()


def test_a_closing_does_not_come_back_after_something_spoke_against_it(winch: JobEngine) -> None:
    desk = told(winch, PROVED, Closed("fit for use", "Ann"), Reopened(),
                ProofMade("emergency stop", passed=False, who="Ann"))
    assert "A proof stays" in desk.undo()
    with pytest.raises(UsageError):
        desk.undo()
    assert desk.state.closed is None


def test_a_preview_shows_before_and_after_and_changes_nothing(winch: JobEngine) -> None:
    desk = told(winch, SymptomTold("no-up", shows=True), ReadingTaken("up-coil", Reading(0.4)))
    state, events = desk.state, list(desk.events)
    change = ReadingChanged(1, Reading(110.0))
    before, after = desk.preview(change)
    assert (desk.state, desk.events) == (state, events)
    assert before.suspects != after.suspects
    desk.tell(change)
    assert desk.assess().suspects == after.suspects
    assert after.suspects == winch.assess(desk.state).suspects


def test_a_preview_of_what_may_not_be_is_refused(winch: JobEngine) -> None:
    with pytest.raises(UsageError):
        Desk(winch).preview(ReadingWithdrawn(1))


def test_a_dead_test_needs_the_way_to_dead_and_a_live_one_the_way_back(winch: JobEngine) -> None:
    desk = Desk(winch)
    assert desk.needed("up-coil") is None
    change = desk.needed("coil-ohms")
    assert change is not None
    assert change.dead
    assert change.condition == "isolated"
    with pytest.raises(UsageError):
        desk.tell(ReadingTaken("coil-ohms", Reading(200.0)))
    desk.tell(change.event)
    assert change.event.steps == tuple(step.id for step in change.steps)
    assert desk.state.dead
    assert desk.condition == "isolated"
    assert desk.needed("coil-ohms") is None
    back = desk.needed("up-coil")
    assert back is not None
    assert not back.dead
    desk.tell(back.event)
    desk.tell(READ)


def test_the_machine_is_made_dead_only_if_it_is_not(winch: JobEngine) -> None:
    desk = Desk(winch)
    assert desk.change_to(dead=False) is None
    change = desk.change_to(dead=True)
    assert change is not None
    desk.tell(change.event)
    assert desk.change_to(dead=True) is None
