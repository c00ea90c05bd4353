"""A finding that one reading decides is held back until another reading agrees."""

from faultkit.job.assess import assess
from faultkit.job.events import Event, ReadingTaken, SymptomTold
from faultkit.job.knowledge import Knowledge, know
from faultkit.job.records import Assessment, JobState
from faultkit.job.step import step
from faultkit.vocabulary.diagnosis import Reading
from tests.belief.made_up import MadeUp


def seen(knowledge: Knowledge, *events: Event) -> Assessment:
    state = JobState("m")
    for event in events:
        state = step(state, event)
    return assess(state, knowledge)


def two_causes() -> Knowledge:
    """One test splits them, another one tells a little less for the same minutes."""
    made = MadeUp()
    for symptom in ("up", "down", "lamp"):
        made.symptom(symptom)
    made.test("sharp", 0.0)
    made.cause("left", {"sharp": 110.0}, repair=60.0, shows={"up": 1.0})
    made.cause("right", {}, repair=60.0, shows={"up": 1.0, "down": 1.0})
    made.cause("bulb", {}, repair=5.0, shows={"lamp": 1.0})
    return know(made.prediction())


UP = SymptomTold("up", shows=True)
SHARP = ReadingTaken("sharp", Reading(110.0))


def test_what_one_reading_decides_is_held_back_and_asked_for_once_more() -> None:
    view = seen(two_causes(), UP, SHARP)
    assert view.finding is None
    assert view.held_back is not None
    assert view.held_back.remedies == ("left.replace",)
    assert view.next[0].test == "sharp"
    assert "once more" in view.notes[0]
    agreed = seen(two_causes(), UP, SHARP, SHARP)
    assert agreed.held_back is None
    assert agreed.finding is not None
    assert agreed.finding.remedies == ("left.replace",)


def test_what_was_told_and_goes_together_only_by_chance_is_asked_again() -> None:
    """No fault that stays lets UP work and stops DOWN: `right` stops both."""
    apart = seen(two_causes(), SymptomTold("up", shows=False), SymptomTold("down", shows=True))
    assert any("ask again what shows and what works" in note for note in apart.notes)
    assert not any("ask again" in note for note in seen(two_causes(), UP).notes)


def test_no_part_is_changed_on_the_complaint_alone_while_a_reading_is_near() -> None:
    """Only `bulb` shows in the lamp, and changing it is the quickest: it is looked at first."""
    made = MadeUp()
    for symptom in ("up", "lamp"):
        made.symptom(symptom)
    made.test("look", "dark", words=("dark", "lit"))
    made.cause("feed", {"look": "lit"}, repair=60.0, shows={"lamp": 0.2})
    made.cause("bulb", {}, weight=2.0, repair=5.0, shows={"lamp": 1.0})
    view = seen(know(made.prediction()), SymptomTold("lamp", shows=True))
    assert view.finding is None
    assert view.next[0].test == "look"
