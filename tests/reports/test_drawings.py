"""The drawings: what is on the way, where it was measured, what is live."""

import re
import xml.etree.ElementTree as ET

import pytest

from faultkit.circuit.circuit import Circuit
from faultkit.circuit.path import ring_between
from faultkit.job.events import Repaired
from faultkit.job.knowledge import Knowledge
from faultkit.reports import Report
from faultkit.reports.records import Mark, Part, Point, RunPicture, SuspectLine, Suspects
from faultkit.reports.records import Moment as Column
from faultkit.reports.run_drawing import draw_run
from faultkit.reports.suspects_drawing import HIGH, draw_suspects
from tests.reports.diary import Diary
from tests.reports.test_build import OPEN, UP, told


def found(winch: Knowledge, cause: str = OPEN, *, cured: bool = True) -> Report:
    job = Diary(winch).add(UP).honestly(
        cause, "up-coil", "walk/-X1:5/up", "walk/-X1:6/up", "walk/-X1:7/up", "look-q2")
    remedy = next(c.remedy for c in winch.prediction.causes if c.id == cause)
    return told(job.add(Repaired(remedy, cured)))


def drawn(run: RunPicture) -> list[ET.Element]:
    return [ET.fromstring(one) for one in draw_run(run)]  # noqa: S314 - ours


def words(svgs: list[ET.Element]) -> list[str]:
    return [e.text or "" for svg in svgs for e in svg.iter("text")]


def test_the_run_is_the_ring_that_the_bench_shows(winch: Knowledge) -> None:
    run = found(winch).runs[0]
    hops = ring_between(winch.machine, "-Q2:A1", "-Q2:A2")
    on_the_way = [hop.by.replace("/", ":") for hop in hops if hop.way != "wire"]
    assert [f"{s.device}:{s.mark}" for s in run.stops if isinstance(s, Part)] == on_the_way
    assert [isinstance(s, Point) for s in run.stops] == [k % 2 == 0 for k in range(len(run.stops))]


def test_voltages_on_it_are_those_of_the_circuit_with_the_fault_found(winch: Knowledge) -> None:
    run = found(winch).runs[0]
    circuit = Circuit(winch.machine)
    variant = winch.machine.causes[OPEN].variants[0]
    walk = [t for t in winch.machine.tests.values() if t.id in ("walk/-X1:6/up", "walk/-X1:7/up")]
    before, behind = (m.value for m in circuit.read(circuit.simulate(variant), walk))
    at = {s.name: s for s in run.stops if isinstance(s, Point)}
    assert float(at["6"].found.split()[0]) == pytest.approx(before, abs=0.51)
    assert float(at["7"].found.split()[0]) == pytest.approx(behind, abs=0.051)
    assert (at["6"].state, at["7"].state, at["N"].state) == ("live", "gone", "low")


def test_the_fault_is_marked_where_it_lies(winch: Knowledge) -> None:
    run = found(winch).runs[0]
    assert [(s.device, s.mark) for s in run.stops if isinstance(s, Part) and s.faulty] == [
        ("-S2", "13-14")]
    assert words(drawn(run)).count("FAULT") == 1


def test_a_fault_that_the_repair_disproved_is_not_drawn(winch: Knowledge) -> None:
    run = found(winch, cured=False).runs[0]
    assert not any(s.faulty for s in run.stops if isinstance(s, Part))
    assert {s.found for s in run.stops if isinstance(s, Point)} == {""}
    assert "healthy" in run.note


def test_every_telling_reading_is_drawn_with_its_value(winch: Knowledge) -> None:
    report = found(winch)
    marks = {m.number: m for run in report.runs for m in run.marks}
    for row in report.readings:
        if row.fits == "differs":
            assert marks[row.number].text == row.read
            assert marks[row.number].differs
    on_paper = words([svg for run in report.runs for svg in drawn(run)])
    assert all(m.text in on_paper for m in marks.values())


def long_run(parts: int) -> RunPicture:
    """A made-up run with a reading over each part and one over all."""
    stops: list[Point | Part] = [Point("w0", ("a",), "1 V", "", "live")]
    for k in range(parts):
        stops += [Part(f"-K{k}", "13-14", "x", "no", faulty=k == 3),
                  Point(f"w{k + 1}", ("a",), "1 V", "0 V", "gone")]
    marks = [Mark(k + 1, f"{k} V AC", 2 * k, 2 * k + 2, differs=False) for k in range(parts)]
    marks.append(Mark(99, "110 V AC", 0, 2 * parts, differs=True))
    marks.append(Mark(98, "a very long word that somebody saw", 2 * parts - 1, None,
                      differs=False))
    return RunPicture(1, "UP held", "N", tuple(stops), tuple(marks), "")


@pytest.mark.parametrize("parts", [1, 2, 6, 7, 8, 14, 15, 20])
def test_everything_lies_on_the_paper(parts: int) -> None:
    for svg in drawn(long_run(parts)):
        wide, high = (float(v) for v in svg.attrib["viewBox"].split()[2:])
        for shape in svg.iter():
            for name, most in (("x", wide), ("x1", wide), ("x2", wide), ("cx", wide),
                               ("y", high), ("y1", high), ("y2", high), ("cy", high)):
                if name in shape.attrib:
                    assert 0.0 <= float(shape.attrib[name]) <= most + 0.05, ET.tostring(shape)


@pytest.mark.parametrize("parts", [6, 7, 8, 14, 20])
def test_each_reading_stands_once_whole_or_at_both_of_its_ends(parts: int) -> None:
    said = words(drawn(long_run(parts)))
    for k in range(parts):
        assert said.count(str(k + 1)) == 1
    assert said.count("99") == (1 if parts <= 7 else 2)


def test_no_reading_is_written_over_another() -> None:
    for svg in drawn(long_run(14)):
        papers = [tuple(float(e.attrib[n]) for n in ("x", "y", "width", "height"))
                  for e in svg.iter("rect") if e.attrib["class"] == "paper"]
        for i, (x, y, w, h) in enumerate(papers):
            for x2, y2, w2, h2 in papers[i + 1:]:
                assert x + w <= x2 or x2 + w2 <= x or y + h <= y2 or y2 + h2 <= y


def test_a_bar_is_as_high_as_its_suspect_is_probable() -> None:
    table = Suspects(tuple(Column(str(k), "", "") for k in range(3)),
                     (SuspectLine("one", (0.25, 0.5, 1.0), ">99 %"),),
                     SuspectLine("others", (0.75, 0.5, 0.0), "0 %"),
                     SuspectLine("unknown", (0.0, 0.0, 0.0), "0 %"))
    svg = ET.fromstring(draw_suspects(table))  # noqa: S314 - ours
    heights = [float(e.attrib["height"]) for e in svg.iter("rect")]
    assert heights == pytest.approx([HIGH * p for p in (0.25, 0.5, 1.0, 0.75, 0.5)], abs=0.06)


def test_sixty_moments_fit_on_the_paper() -> None:
    line = SuspectLine("A contact with a name so long that it needs more than a single row of it",
                       tuple(k / 60 for k in range(60)), "98 %")
    table = Suspects(tuple(Column(str(k), "", "") for k in range(60)), (line,), line, line)
    svg = ET.fromstring(draw_suspects(table))  # noqa: S314 - ours
    right = max(float(e.attrib["x"]) + float(e.attrib["width"]) for e in svg.iter("rect"))
    assert right <= float(svg.attrib["viewBox"].split()[2])
    labels = [e.text for e in svg.iter("text") if re.fullmatch(r"\d+", e.text or "")]
    assert labels == [str(k) for k in range(0, 60, 5)]
