"""Whole jobs on the bundled hoist, easy and awkward ones."""

from collections.abc import Callable

import pytest

from faultkit.job.events import Repaired, SymptomTold
from faultkit.job.knowledge import Knowledge
from faultkit.reports import as_html, as_markdown, build_report
from faultkit.reports.records import Part
from tests.reports.diary import (
    Diary,
    interlock,
    nothing_found,
    sixty,
    two_faults,
    wrong_turn,
)
from tests.reports.taken_apart import Page

pytestmark = pytest.mark.xdist_group("jobs")


@pytest.mark.parametrize("made", [interlock, wrong_turn, nothing_found, two_faults, sixty],
                         ids=lambda made: made.__name__)
def test_every_sort_of_job_gives_a_sound_page_and_every_reading_stands_on_it(
    hoist: Knowledge, made: Callable[[Knowledge], Diary],
) -> None:
    job = made(hoist)
    report = build_report(hoist, "0a1b2c", job.lines)
    assert [row.number for row in report.readings] == list(range(1, job.state.taken + 1))
    page = Page(as_html(report))
    assert (page.faults, page.open) == ([], [])
    assert page.drawings
    for source in (page.text, " ".join(as_markdown(report).split())):
        for row in report.readings:
            assert row.read in source.replace("\\", "")


def test_the_worn_interlock_is_told_in_the_summary(hoist: Knowledge) -> None:
    report = build_report(hoist, "0a1b2c", interlock(hoist).lines)
    assert "Fault found: -Q3 contact 21-22 does not close." in report.summary
    assert report.verdict.says == "FIT FOR USE"
    assert any(s.faulty and (s.device, s.mark) == ("-Q3", "21-22")
               for run in report.runs for s in run.stops if isinstance(s, Part))


def test_a_broken_core_is_a_part_of_the_run(hoist: Knowledge) -> None:
    job = Diary(hoist).add(SymptomTold("no-up", True))
    job.honestly("W1.21p.broken", "walk-up/-X1:20/up-slow", "button-up-drop",
                 "walk-up/-X1:21/up-slow").add(Repaired("W1.21p.core", True))
    run = build_report(hoist, "0a1b2c", job.lines).runs[0]
    assert [(s.device, s.mark) for s in run.stops if isinstance(s, Part) and s.faulty] == [
        ("wire", "21p")]


def test_readings_on_one_run_share_one_picture(hoist: Knowledge) -> None:
    job = Diary(hoist).add(SymptomTold("no-up", True))
    job.honestly("Q3.21-22.open", "walk-up/-X1:20/up-slow", "walk-up/-X1:23/up-slow",
                 "interlock-up-drop", "q2-coil", "relays-up/-Q2/up-slow")
    runs = build_report(hoist, "0a1b2c", job.lines).runs
    assert [sorted(m.number for m in run.marks) for run in runs] == [[1, 2, 3, 4, 5]]
