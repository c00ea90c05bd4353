"""The report as one HTML page that stands alone: no script, nothing from outside, for any paper."""

from html import escape
from importlib.resources import files

from faultkit.reports.page_readings import readings_section, runs_section, suspects_section
from faultkit.reports.page_repairs import (
    bridges_section,
    findings_section,
    proofs_section,
    repairs_section,
)
from faultkit.reports.records import Fact, Report
from faultkit.reports.tags import facts_list, items, own, section

POLICY = "default-src 'none'; style-src 'unsafe-inline'"
"""A page that may load nothing, whatever has come into it."""
FOOT = """@page {{ @bottom-left {{ content: "{left}"; font: 7.5pt sans-serif; }}
@bottom-right {{ content: counter(page) " / " counter(pages); font: 7.5pt sans-serif; }} }}"""


def as_html(report: Report) -> str:
    """The whole report; every text in it is escaped."""
    style = files("faultkit.reports").joinpath("page.css").read_text(encoding="utf-8")
    job = "".join(sign for sign in report.job if sign.isascii() and sign.isalnum())
    body = (
        _head(report), _complaint(report), _safe(report), readings_section(report),
        runs_section(report), suspects_section(report), findings_section(report),
        repairs_section(report), bridges_section(report), proofs_section(report),
        section("Open points", items(report.open_points) or "<p>None.</p>"),
        section("Remarks", facts_list(report.remarks)),
        '<div class="side">' + section("Times", facts_list((*report.times, *_repeated(report))))
        + section("Worked out with", facts_list(report.basis)) + "</div>",
        section("Cautions that held for this job", items(report.cautions)), _signatures(report),
    )
    return (
        '<!DOCTYPE html>\n<html lang="en" dir="ltr">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{escape(POLICY)}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="referrer" content="no-referrer">\n'
        f"<title>{escape(report.title)}</title>\n"
        f"<style>\n{style}{FOOT.format(left=f'Job {job}')}\n</style>\n</head>\n<body>\n"
        + "\n".join(part for part in body if part) + "\n</body>\n</html>\n"
    )


def _repeated(report: Report) -> tuple[Fact, ...]:
    """Hand-overs, where there was more than the one that stands at the top."""
    return report.closings if len(report.closings) > 1 else ()


def _head(report: Report) -> str:
    verdict = report.verdict
    kind = {"fit": "fit", "not fit": "notfit", "no fault": "nofault", "open": "open"}
    signed = f"<p>{own(verdict.who)}, {escape(verdict.when)}</p>" if verdict.when else ""
    reason = f"<p>{own(verdict.reason)}</p>" if verdict.reason else ""
    return (
        f'<header><p class="eyebrow">Job report {escape(report.job[:12])}</p>'
        f"<h1>{own(report.title)}</h1>"
        f'<div class="verdict {kind[verdict.status]}"><p><strong>{escape(verdict.says)}</strong>'
        f"</p>{reason}{signed}</div></header>"
        + items(report.summary)
        + section("Machine and job", facts_list(report.facts, "facts wide")))


def _complaint(report: Report) -> str:
    told = report.complaint
    quoted = f"<blockquote>{own(told.words)}</blockquote>" if told.words else ""
    facts = (*(Fact("Shows", one) for one in told.shows),
             *(Fact("Works", one) for one in told.works), *told.around)
    return section("Complaint", quoted + facts_list(facts) or "<p>Nothing was told.</p>")


def _safe(report: Report) -> str:
    parts = []
    for one in report.safe:
        steps = "".join(f"<li>{own(step)}</li>" for step in one.steps)
        parts.append(f"<h3>{escape(one.when)} {own(one.says)}</h3>"
                     + (f'<ol class="fine">{steps}</ol>' if steps else ""))
    return section("Safe conditions, each step acknowledged", "".join(parts))


def _signatures(report: Report) -> str:
    fields = "".join(
        f'<div><h3>{escape(name)}</h3><div class="rule"></div><p class="fine">Name</p>'
        '<div class="rule"></div><p class="fine">Signed, date</p></div>'
        for name in report.signatures)
    return (f'<div class="block"><h2>Signatures</h2><div class="signed">{fields}</div>'
            '<p class="advice">faultkit advises. Local codes and a qualified person decide '
            "whether the machine may be used.</p></div>")
