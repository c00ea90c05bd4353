"""Events as data and back."""

import json

import pytest
from hypothesis import given

from faultkit.errors import JournalError
from faultkit.job.events import EVENTS, Event, ReadingTaken, Repaired
from faultkit.journal.codec import event_text, from_data, from_text, to_data
from faultkit.vocabulary.diagnosis import Reading
from tests.journal.making import ANY_EVENT, LAW, any_of


@LAW
@given(ANY_EVENT)
def test_every_event_comes_back_as_it_was(event: Event) -> None:
    text = event_text(event)
    assert text.isascii()
    assert "\n" not in text
    assert from_data(from_text(text)) == event


@pytest.mark.parametrize("kind", EVENTS, ids=lambda kind: kind.__name__)
def test_every_kind_of_event_has_its_data(kind: type[Event]) -> None:
    @LAW
    @given(any_of(kind))
    def comes_back(event: Event) -> None:
        assert from_data(json.loads(json.dumps(to_data(event)))) == event

    comes_back()


def test_infinity_is_written_as_it_is_shown_by_a_meter() -> None:
    assert to_data(ReadingTaken("t", Reading(float("inf"))))["reading"]["value"] == "OL"


def test_a_field_that_an_older_version_did_not_write_has_its_default() -> None:
    data = {"kind": "Repaired", "remedy": "r", "cured": True}
    assert from_data(data) == Repaired("r", cured=True)


@pytest.mark.parametrize(("data", "names"), [
    ({"kind": "Exploded"}, "Exploded"),
    ({"kind": 7}, "7"),
    ({"kind": ["Remarked"], "text": ""}, "Remarked"),
    ({}, "None"),
    ([], "kind"),
    ({"kind": "Remarked", "text": "x", "colour": "red"}, "colour"),
    ({"kind": "Remarked"}, "text"),
    ({"kind": "Remarked", "text": 7}, "Remarked.text"),
    ({"kind": "Closed", "how": "somehow", "who": "x"}, "Closed.how"),
    ({"kind": "ReadingWithdrawn", "number": True}, "ReadingWithdrawn.number"),
    ({"kind": "SymptomTold", "symptom": "s", "shows": 1}, "SymptomTold.shows"),
    ({"kind": "ConditionChanged", "condition": "c", "dead": True, "steps": [1]}, "steps"),
    ({"kind": "ReadingTaken", "test": "t", "reading": {"value": "high", "word": ""}}, "value"),
    ({"kind": "ReadingTaken", "test": "t", "reading": {"value": True, "word": ""}}, "value"),
    ({"kind": "ReadingTaken", "test": "t", "reading": {"value": 10**400, "word": ""}}, "value"),
    ({"kind": "ReadingTaken", "test": "t", "reading": {"value": 1, "phase": 2}}, "phase"),
    ({"kind": "ReadingTaken", "test": "t", "reading": {"value": 1, "word": 2}}, "word"),
    ({"kind": "ReadingTaken", "test": "t", "reading": None}, "reading"),
])
def test_what_is_not_understood_is_refused_by_name(data: object, names: str) -> None:
    with pytest.raises(JournalError) as caught:
        from_data(data)
    assert names in str(caught.value)
    assert len(caught.value.title) < 160


@pytest.mark.parametrize("text", ["", "{", "NaN", "[Infinity]", "[" * 100_000, '{"a": 1e'])
def test_what_is_no_json_is_refused(text: str) -> None:
    with pytest.raises(JournalError, match="no JSON"):
        from_text(text)


@pytest.mark.parametrize("value", [float("nan"), float("-inf")])
def test_a_reading_that_is_no_number_is_never_kept(value: float) -> None:
    with pytest.raises(JournalError, match="cannot be kept"):
        event_text(ReadingTaken("t", Reading(value)))


def test_a_number_too_large_for_a_float_is_refused() -> None:
    with pytest.raises(JournalError, match="does not fit"):
        from_data(from_text('{"kind": "ReadingTaken", "test": "t", "reading": {"value": 1e999}}'))
