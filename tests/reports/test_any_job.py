"""Whatever happens in a job, in whatever order, there is a sound report on it."""

import json

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

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
from faultkit.job.knowledge import Knowledge, know
from faultkit.reports import as_data, as_html, as_markdown, build_report
from faultkit.vocabulary.diagnosis import Reading
from tests.belief.made_up import chain
from tests.reports.diary import Diary
from tests.reports.taken_apart import Page

tests = st.sampled_from(["p1", "p3", "p5", "coil-ohm", "k1", "gone"])
values = st.one_of(st.floats(0, 400).map(Reading), st.just(Reading(float("inf"))),
                   st.sampled_from(["in", "out", "odd"]).map(lambda w: Reading(None, w)))
remedies = st.sampled_from(["S2.replace", "S3.replace", "K1.coil.replace", "gone"])
words = st.text(max_size=12)
numbers = st.integers(1, 6)
events: st.SearchStrategy[Event] = st.one_of(
    st.builds(CalledOut, words, words, words, words, words,
              st.sampled_from(["none", "hanging", "unknown"]), st.booleans(), st.booleans()),
    st.builds(LoadSecured, st.sampled_from(["landed", "held otherwise", "area closed"]), words),
    st.builds(SymptomTold, st.sampled_from(["up", "gone"]), st.booleans()),
    st.builds(SymptomWithdrawn, st.just("up")),
    st.builds(ConditionChanged, st.sampled_from(["isolated", "ready", "gone"]), st.booleans(),
              st.lists(words, max_size=2).map(tuple)),
    st.builds(ReadingTaken, tests, values), st.builds(ReadingTaken, tests, values),
    st.builds(ReadingChanged, numbers, values), st.builds(ReadingWithdrawn, numbers),
    st.builds(TestSkipped, tests), st.builds(TestOffered, tests),
    st.builds(Repaired, remedies, st.booleans(), tests, st.none() | values, words),
    st.builds(RepairWithdrawn), st.builds(BridgeFound, words), st.builds(BridgeRemoved, words),
    st.builds(ProofMade, words, st.booleans(), words, words), st.builds(Remarked, words),
    st.builds(Closed, st.sampled_from(["fit for use", "not fit for use", "no fault found"]),
              words, words),
    st.builds(Reopened))


RUNG = know(chain().prediction())
"""A table with no circuit behind it."""


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(made=st.lists(events, min_size=1, max_size=14))
def test_any_order_of_events_gives_a_report_that_holds_every_reading(made: list[Event]) -> None:
    job = Diary(RUNG)
    for event in made:
        try:
            job.add(event)
        except UsageError:  # cannot happen in this state: a front would have refused it too
            job.lines.pop()
    if not job.lines:
        return
    report = build_report(RUNG, "0a", job.lines)
    assert [row.number for row in report.readings] == list(range(1, job.state.taken + 1))
    counted = {row.number for row in report.readings if not row.withdrawn}
    assert counted == {e.number for e in (*job.state.entries, *job.state.earlier)}
    page = Page(as_html(report))
    assert (page.faults, page.open) == ([], [])
    assert as_markdown(report).startswith("# Report on")
    json.dumps(as_data(report), allow_nan=False)


def test_data_names_facts_and_the_stops_of_a_run(winch: Knowledge) -> None:
    job = Diary(winch).add(SymptomTold("no-up", True)).take("up-coil", 0.0)
    data = as_data(build_report(winch, "0a", job.lines))
    assert data["schema_version"] == 1
    assert data["facts"][0] == {"label": "Machine", "text": "Small test winch"}
    assert [stop["is"] for stop in data["runs"][0]["stops"]][:3] == ["point", "part", "point"]
    assert data["readings"][0]["read"] == "0 V AC"
    assert 0.99 < sum(line["chances"][-1] for line in data["suspects"]["lines"]) + sum(
        data["suspects"][name]["chances"][-1] for name in ("others", "unknown")) < 1.01
