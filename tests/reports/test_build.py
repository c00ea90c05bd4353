"""What a report says, against what the job room says about the same job."""

from datetime import timedelta, timezone

import pytest

from faultkit.errors import UsageError
from faultkit.job.assess import assess
from faultkit.job.events import (
    BridgeFound,
    BridgeRemoved,
    CalledOut,
    ProofMade,
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Remarked,
    Reopened,
    Repaired,
    RepairWithdrawn,
    SymptomTold,
    TestSkipped,
)
from faultkit.job.knowledge import Knowledge
from faultkit.job.records import JobState
from faultkit.job.step import step
from faultkit.reports import Report, build_report
from faultkit.vocabulary.diagnosis import Reading
from tests.reports.diary import Diary, reading_under

UP = SymptomTold("no-up", True)
OPEN = "S2.13-14.open"


def told(job: Diary) -> Report:
    return build_report(job.knowledge, "0a1b2c", job.lines)


def whole(winch: Knowledge) -> Diary:
    """UP's contact is open; found, put right, proved, handed over."""
    job = Diary(winch)
    job.add(CalledOut(who="A. Example", asset="Winch 1", complaint="No UP.", load="none"), UP)
    job.follow(OPEN)
    job.switch("isolated", dead=True).switch("ready", dead=False)
    job.add(Repaired("S2.replace", True, "up-coil", reading_under(winch, "", "up-coil")))
    return job.prove().close()


def test_a_whole_job_is_told_from_complaint_to_hand_over(winch: Knowledge) -> None:
    report = told(whole(winch))
    assert (report.verdict.status, report.verdict.who) == ("fit", "M. Example")
    assert report.complaint.words == "No UP."
    assert report.complaint.shows == ("UP does nothing",)
    assert [one.says.partition(":")[0] for one in report.safe] == ["Made dead", "Made live again"]
    assert all(one.steps for one in report.safe)
    assert report.findings[-1].causes[0] == "-S2 contact 13-14 does not close"
    assert [r.result for r in report.repairs] == ["cured"]
    assert report.repairs[0].after.startswith("11")
    assert [p.result for p in report.proofs] == ["passed"]
    assert report.open_points == ()
    assert any("Fault found: -S2 contact 13-14" in line for line in report.summary)


def test_suspects_over_time_are_those_of_assess_at_each_moment(winch: Knowledge) -> None:
    job = Diary(winch).add(UP).take("up-coil", 0.0).take("look-q2", "in")
    job.add(ReadingChanged(2, Reading(None, "out"))).honestly(OPEN, "walk/-X1:6/up")
    job.add(ReadingWithdrawn(1))
    report = told(job)
    labels = [moment.label for moment in report.suspects.moments]
    assert labels == ["told", "1", "2", "2*", "3", "-1"]
    state = JobState(winch.machine.id)
    for k, line in enumerate(job.lines):
        state = step(state, line.event)
        view = assess(state, winch)
        chance = {s.cause: s.probability for s in view.suspects}
        assert report.suspects.unknown.chances[k] == pytest.approx(view.unknown)
        drawn = [one.chances[k] for one in report.suspects.lines]
        named = [max((p for c, p in chance.items() if p == pytest.approx(value)), default=0.0)
                 for value in drawn]
        assert drawn == pytest.approx(named)
        assert sum(drawn) + report.suspects.others.chances[k] + view.unknown == pytest.approx(1.0)


def test_what_a_reading_ruled_out_was_likely_before_and_is_unlikely_after(
    winch: Knowledge,
) -> None:
    """One that is merely weaker is not ruled out; among these readings are such."""
    weakened = 0
    for test, reading in (("up-coil", 110.0), ("up-coil", 60.0), ("coil-ohms", float("inf")),
                          ("coil-ohms", 600.0), ("walk/-X1:6/up", 112.0), ("look-q2", "in"),
                          ("look-q2", "chatters")):
        job = Diary(winch).add(UP)
        before = [s for s in assess(job.state, winch).suspects if s.probability >= 0.02]
        job.take(test, reading)
        after = {s.cause: s.probability for s in assess(job.state, winch).suspects}
        left = [(s, after.get(s.cause, 0.0) / s.probability) for s in before]
        gone = [s for s, share in left if share < 0.1]
        weakened += sum(0.1 < share < 0.5 for _, share in left)
        named = [one.says for one in told(job).readings[0].rules_out]
        more = int(named.pop().split()[1]) if len(named) == 6 else 0
        assert len(named) + more == len(gone)
        assert all(s.says in said for s, said in zip(gone, named, strict=False))
    assert weakened


def test_every_reading_has_its_unit_and_what_a_healthy_machine_reads(winch: Knowledge) -> None:
    job = Diary(winch).add(UP).take("up-coil", 0.0).take("coil-ohms", float("inf")).take(
        "look-q2", "out").honestly("", "up-coil")
    rows = told(job).readings
    column = [t.id for t in winch.prediction.tests].index("up-coil")
    healthy = winch.prediction.value[-1, column]
    assert rows[0].read == "0 V AC"
    assert float(rows[0].healthy.split()[0]) == pytest.approx(healthy, rel=0.01)
    assert rows[0].healthy.endswith("V AC")
    low, high = rows[0].span.removesuffix(" V AC").split(" to ")
    assert float(low) < healthy < float(high)
    assert [row.fits for row in rows] == ["differs", "differs", "differs", "as healthy"]
    assert (rows[1].read, rows[2].healthy) == ("OL", "in")


def test_an_authors_range_is_shown_as_he_wrote_it(travel: Knowledge) -> None:
    job = Diary(travel).take("mains-12", 401.0).take("mains-23", 230.0).take("brake-gap", 0.61)
    rows = told(job).readings
    assert [row.span for row in rows] == ["380 to 420 V AC", "380 to 420 V AC", "0.3 to 0.6 mm"]
    assert [row.fits for row in rows] == ["as healthy", "differs", "differs"]


def test_a_withdrawn_and_a_changed_reading_stay_in_sight_and_do_not_count(
    winch: Knowledge,
) -> None:
    job = Diary(winch).add(UP).take("up-coil", 3.0).take("look-q2", "out")
    job.add(ReadingWithdrawn(1), ReadingChanged(2, Reading(None, "in")))
    first, second = told(job).readings
    assert (first.read, first.rules_out) == ("3 V AC", ())
    assert first.withdrawn == "07:50"
    assert second.read == "in"
    assert second.changes == ("corrected 07:52, was out",)


def test_a_repair_that_did_not_cure_begins_another_search(winch: Knowledge) -> None:
    job = Diary(winch).add(UP).take("up-coil", 0.0)
    job.add(Repaired("S0.replace", False)).honestly(OPEN, "walk/-X1:6/up", "walk/-X1:7/up")
    job.add(Repaired("S2.replace", True))
    report = told(job)
    assert [(row.search, row.set_aside) for row in report.readings] == [
        (1, True), (2, False), (2, False)]
    assert [(r.search, r.result) for r in report.repairs] == [(1, "not cured"), (2, "cured")]
    assert [part.search for part in report.findings] == [1, 2]
    assert "Carried out nevertheless" in report.findings[0].says


def test_a_repair_entered_by_mistake_is_told_as_such(winch: Knowledge) -> None:
    job = Diary(winch).add(UP).take("up-coil", 0.0)
    job.add(Repaired("S0.replace", False), RepairWithdrawn()).take("look-q2", "out")
    report = told(job)
    assert [r.result for r in report.repairs] == ["entered by mistake"]
    assert [(row.search, row.set_aside) for row in report.readings] == [(1, False), (1, False)]


def test_readings_after_a_reopened_cure_are_in_the_report(winch: Knowledge) -> None:
    job = whole(winch)
    count = job.state.taken
    job.add(Reopened()).take("look-q2", "out")
    report = told(job)
    assert report.verdict.status == "open"
    assert [row.number for row in report.readings] == list(range(1, count + 2))
    assert [fact.text for fact in report.closings] == [
        "Handed over as fit for use by M. Example", "Reopened"]


def test_proofs_bridges_and_reasons_of_a_machine_that_is_not_fit(winch: Knowledge) -> None:
    job = Diary(winch).add(UP, BridgeFound("-S0"), BridgeRemoved("-S0"), BridgeFound("-X1:5"),
                           TestSkipped("coil-ohms"), Remarked("Door\nhas no lock"))
    job.add(ProofMade("emergency stop", True, "B. Example"), Repaired("S2.replace", True))
    job.add(ProofMade("emergency stop", False, "B. Example", "ran on"))
    report = told(job.close("not fit for use", "Emergency stop fails."))
    assert (report.verdict.says, report.verdict.reason) == (
        "NOT FIT FOR USE", "Emergency stop fails.")
    assert [(b.where, bool(b.removed)) for b in report.bridges] == [
        ("-S0", True), ("-X1:5", False)]
    proof = report.proofs[0]
    assert (proof.result, proof.seen, proof.who) == ("FAILED", "ran on", "B. Example")
    assert len(proof.earlier) == 1
    assert "before a repair" in proof.earlier[0]
    assert any("-X1:5" in point for point in report.open_points)
    assert any("Proof FAILED" in point for point in report.open_points)
    assert any("Measure the coil" in point for point in report.open_points)
    assert report.remarks[0].text == "Door has no lock"


def test_no_fault_found_is_an_honest_result(winch: Knowledge) -> None:
    job = Diary(winch).add(UP).honestly("", "up-coil", "look-q2").prove()
    report = told(job.close("no fault found", "Forty lifts."))
    assert report.verdict.says == "NO FAULT FOUND"
    assert report.open_points == ("The complaint was not explained; it may come back.",)


def test_a_job_without_a_reading_and_a_load_that_hangs(winch: Knowledge) -> None:
    report = told(Diary(winch).add(CalledOut(load="hanging")))
    assert report.readings == ()
    assert report.suspects.moments == ()
    assert report.open_points[0] == "A load that hangs or may sink was not secured."
    assert report.verdict.status == "open"
    assert [(p.result, p.who, p.when) for p in report.proofs] == [("not proved", "", "")]


def test_a_job_with_no_event_is_refused(winch: Knowledge) -> None:
    with pytest.raises(UsageError, match="Nothing has happened"):
        build_report(winch, "0a", [])


def test_what_the_machine_does_not_describe_any_more_is_named_and_not_weighed(
    winch: Knowledge,
) -> None:
    job = Diary(winch).add(UP, SymptomTold("was-once", True)).take("up-coil", 0.0)
    same = told(job).suspects.lines
    job.add(ReadingTaken("old-test", Reading(4.0)), TestSkipped("older"))
    job.add(Repaired("old.replace", False, "old-test", Reading(1.0)), minutes=1)
    report = told(job.take("up-coil", 0.0))
    assert report.readings[1].does == "old-test (no longer described)"
    assert any("old-test" in point for point in report.open_points)
    assert report.repairs[0].says == "old.replace"
    assert [line.says for line in report.suspects.lines] == [line.says for line in same]


def test_a_free_entry_is_predicted_like_any_other_reading(winch: Knowledge) -> None:
    job = Diary(winch).add(UP).add(ReadingTaken("probe:-X1:7|-Q2:A2|V AC|up", Reading(0.0)))
    row = told(job).readings[0]
    assert row.fits == "differs"
    assert row.healthy.endswith("V AC")
    assert row.rules_out


def test_times_are_written_in_the_zone_asked_for(winch: Knowledge) -> None:
    job = Diary(winch).add(UP)
    zone = timezone(timedelta(hours=9, minutes=30))
    facts = dict(build_report(winch, "0a", job.lines, zone=zone).facts)
    assert facts["Begun"] == "2031-03-04 17:10"
    assert facts["Times in"] == "UTC+09:30"


def test_a_long_pause_is_told_since_it_is_no_working_time(winch: Knowledge) -> None:
    job = Diary(winch).add(UP)
    job.now += timedelta(hours=15)
    times = dict(told(job.take("up-coil", 0.0)).times)
    assert times["Longest pause"].startswith("15 h 02 min")


def test_the_same_job_gives_the_same_report(winch: Knowledge) -> None:
    job = whole(winch)
    assert told(job) == told(job)


def test_a_newer_description_than_the_job_began_with_is_said(winch: Knowledge) -> None:
    job = Diary(winch).add(UP)
    basis = dict(build_report(winch, "0a", job.lines, version="0.9").basis)
    assert "version 0.9" in basis["Begun with"]
    assert "Begun with" not in dict(build_report(winch, "0a", job.lines, version="1").basis)
