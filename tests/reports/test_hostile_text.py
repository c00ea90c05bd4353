"""Nothing that an operator, an electrician or an import wrote is ever more than text."""

import re
import unicodedata

import pytest
from markdown_it import MarkdownIt

from faultkit.job.events import (
    BridgeFound,
    CalledOut,
    Closed,
    LoadSecured,
    ProofMade,
    ReadingTaken,
    Remarked,
    Repaired,
    SymptomTold,
)
from faultkit.job.knowledge import Knowledge
from faultkit.reports import Report, as_data, as_html, as_markdown, build_report
from faultkit.reports.words import LONGEST, clean
from faultkit.vocabulary.diagnosis import Reading
from tests.reports.diary import Diary
from tests.reports.taken_apart import Page

HOSTILE = (
    "<script>alert(1)</script>",
    "</style></title><img src=x onerror=alert(1)>",
    "\"'><svg/onload=alert(1)>",
    "javascript:alert(1)",
    "[click](javascript:alert(1)) ![x](data:text/html,1)",
    "<javascript:alert(1)> <a@example.org> www.example.org " + "https:" + "//example.org",
    "# head\n## head\n---\n===\n- item\n1. item\n> quote\n    code\n| a | b |",
    "3. first\n4) 1) next",
    "`code` ``` *bold* _it_ ~~gone~~ **b** $x$ &lt; &#x202e; \\",
    "\x1b[31mred\x1b[0m \x07\x00\x9b31m \x08\x7f",
    "\u202eexe.tfel\u202c \u2066x\u2069 \u200fr \u200b\ufeff",
    "\u2028\u2029\x85 next \v \f \r\n line",
    "[bold]markup[/bold] [link=x]y[/link] {0} %s {{7*7}} '; DROP TABLE job;--",
    "@page { content: url(x) } */ } body{display:none}",
    "\ud800 lone",
)
HARMLESS = "plain words"


def job_with(winch: Knowledge, text: str) -> Report:
    """Every free field of every event holds the text."""
    job = Diary(winch)
    job.add(CalledOut(text, text, text, text, text, load="hanging", slips=True),
            LoadSecured("landed", text), SymptomTold("no-up", True),
            SymptomTold(f"odd {text}", True))
    job.take("up-coil", 0.0).add(ReadingTaken(f"odd {text}", Reading(None, text)))
    job.add(ReadingTaken("look-q2", Reading(None, text)))
    job.add(Repaired("S2.replace", False, "up-coil", Reading(1.0), text))
    job.add(Repaired(f"odd {text}", False, f"odd {text}", Reading(1.0), text))
    job.add(BridgeFound(text), Remarked(text))
    job.add(ProofMade("emergency stop", False, text, text), ProofMade(f"odd {text}", True, text))
    job.add(Closed("not fit for use", text, text))
    return build_report(winch, f"id {text}", job.lines, version=text)


def shape(source: str) -> list[object]:
    """Tags and attributes in order, without the drawings' figures and the page's styles."""
    page = Page(re.sub(r"<svg.*?</svg>", "", source, flags=re.DOTALL))
    assert page.faults == []
    return list(page.tags)


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_the_page_has_the_same_tags_whatever_the_words_say(
    winch: Knowledge, text: str,
) -> None:
    assert shape(as_html(job_with(winch, text))) == shape(as_html(job_with(winch, HARMLESS)))


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_markdown_renders_to_the_same_blocks_whatever_the_words_say(
    winch: Knowledge, text: str,
) -> None:
    """With HTML, tables, links and strikethrough on, as a careless reader has them."""
    def kinds(source: str) -> list[str]:
        found = []
        for token in MarkdownIt("commonmark", {"html": True, "linkify": True}).enable(
                ["table", "strikethrough", "linkify"]).parse(source):
            found.append(token.type)
            found += [one.type for one in token.children or ()
                      if one.type not in ("text", "softbreak", "text_special")]
        return found

    expected = kinds(as_markdown(job_with(winch, HARMLESS)))
    assert kinds(as_markdown(job_with(winch, text))) == expected


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_nothing_steers_a_terminal_or_turns_the_writing(winch: Knowledge, text: str) -> None:
    report = job_with(winch, text)
    for source in (as_html(report), as_markdown(report), str(as_data(report))):
        strange = {sign for sign in source if sign != "\n" and (
            unicodedata.category(sign) in ("Cc", "Cs") or unicodedata.bidirectional(sign) in (
                "LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"))}
        assert strange == set()
        source.encode("utf-8")


def test_the_words_themselves_are_all_there(winch: Knowledge) -> None:
    text = "<b>5 < 6 & \"up\"</b> [x](y)"
    page = Page(as_html(job_with(winch, text)))
    assert page.text.count(text) >= 10
    rendered = MarkdownIt("commonmark").render(as_markdown(job_with(winch, text)))
    assert Page(rendered).text.count(text) >= 10


def test_clean_text_is_one_line_and_not_endless() -> None:
    assert clean(" a\n\tb\u2028c ") == "a b c"
    assert clean("a\u202eb") == "a\N{REPLACEMENT CHARACTER}b"
    assert len(clean("x" * 10**6)) < LONGEST + 10
    assert clean("Größe 5 µm, 3 Ω, 電気") == "Größe 5 µm, 3 Ω, 電気"
