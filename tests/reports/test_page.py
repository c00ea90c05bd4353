"""The page stands alone, prints on any paper, and is well formed."""

import re
from collections.abc import Callable
from importlib.resources import files

import pytest

from faultkit.job.knowledge import Knowledge
from faultkit.reports import as_html, build_report
from tests.reports.diary import Diary, hand_written
from tests.reports.taken_apart import Page
from tests.reports.test_build import OPEN, UP, whole


def style() -> str:
    return files("faultkit.reports").joinpath("page.css").read_text(encoding="utf-8")


def page_of(job: Diary) -> Page:
    return Page(as_html(build_report(job.knowledge, "0a1b2c", job.lines)))


JOBS: dict[str, Callable[[Knowledge], Diary]] = {
    "whole": whole,
    "nothing but a word": lambda k: Diary(k).add(UP),
    "open": lambda k: Diary(k).add(UP).honestly(OPEN, "up-coil", "walk/-X1:7/up"),
}


@pytest.mark.parametrize("name", JOBS)
def test_every_tag_is_closed_and_every_drawing_is_xml(winch: Knowledge, name: str) -> None:
    page = page_of(JOBS[name](winch))
    assert (page.faults, page.open) == ([], [])
    assert page.drawings
    assert all(one.tag == "svg" for one in page.drawings)


def test_nothing_is_loaded_from_anywhere(winch: Knowledge) -> None:
    page = page_of(whole(winch))
    asked = {name for _, attributes in page.tags for name, _ in attributes}
    assert not asked & {"src", "href", "srcset", "action", "data", "style-src"}
    assert not any(name.startswith("on") for name in asked)
    assert {"script", "link", "img", "iframe", "object"}.isdisjoint(t for t, _ in page.tags)
    assert not re.search(r"url\(|@import|https?:", page.source)
    policy = [dict(a).get("content") for t, a in page.tags
              if dict(a).get("http-equiv") == "Content-Security-Policy"]
    assert policy == ["default-src 'none'; style-src 'unsafe-inline'"]


def test_it_prints_on_any_paper_with_heads_repeated_and_rows_whole() -> None:
    css = style()
    page = re.search(r"@page \{([^}]*)\}", css)
    assert page is not None
    assert "size" not in page.group(1)
    assert re.search(r"thead \{[^}]*display: table-header-group", css)
    assert re.search(r"tr, [^{]*\{ break-inside: avoid", css)
    assert re.search(r"h2 \{[^}]*break-after: avoid", css)


def test_ink_is_black_on_white() -> None:
    colours = set(re.findall(r"#[0-9a-f]{3,6}\b|rgb\([^)]*\)|hsl\([^)]*\)", style()))
    assert colours <= {"#000", "#fff"}


def test_every_table_has_a_head_and_every_row_as_many_cells(winch: Knowledge) -> None:
    page = page_of(whole(winch))
    for table in re.findall(r"<table>.*?</table>", page.source, re.DOTALL):
        heads = table.count("<th ")
        assert heads == table.count("<col ")
        assert heads
        body = table.split("<tbody>")[1]
        for row in re.findall(r"<tr>.*?</tr>", body, re.DOTALL):
            assert row.count("<td>") == heads


def test_every_class_is_known_to_the_style_sheet(winch: Knowledge) -> None:
    page = page_of(whole(winch))
    used = {name for _, attributes in page.tags for key, value in attributes if key == "class"
            for name in (value or "").split()}
    unstyled = {"small", "count", "fit", "nofault"}
    """Drawn as the plain text or the plain box is."""
    known = set(re.findall(r"\.([a-z]+)", style()))
    assert used <= known | unstyled


def test_places_for_name_signature_and_date_are_left_and_who_decides_is_said(
    winch: Knowledge,
) -> None:
    text = page_of(whole(winch)).text
    assert text.count("Signed, date") == 2
    assert "Local codes and a qualified person decide" in text


def test_a_machine_without_wiring_has_no_picture_of_a_run(travel: Knowledge) -> None:
    page = page_of(hand_written(travel))
    assert "Runs of the circuit" not in page.text
    assert len(page.drawings) == 1


def test_a_designation_and_a_figure_with_its_unit_are_never_torn(winch: Knowledge) -> None:
    source = page_of(whole(winch)).source
    assert '<span class="name">-Q2:A1</span>' in source
    assert "0\u00a0V AC" in source


def test_a_stranger_in_the_id_does_not_reach_the_style(winch: Knowledge) -> None:
    job = Diary(winch).add(UP)
    source = as_html(build_report(winch, '0a"; } body { display: none } /*', job.lines))
    foot = re.search(r'content: "(Job [^"]*)"', source)
    assert foot is not None
    assert foot.group(1) == "Job 0abodydisplaynone"
