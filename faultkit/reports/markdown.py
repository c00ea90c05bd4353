"""The report as Markdown that reads as plain text where nothing renders it."""

import re
import textwrap
from collections.abc import Iterable, Sequence

from faultkit.reports.records import (
    Fact,
    FindingPart,
    Mark,
    Point,
    ReadingRow,
    RepairPart,
    Report,
    RunPicture,
)
from faultkit.reports.words import sentence
from faultkit.vocabulary.says import percent

WIDTH = 92
"""Columns of a line of prose."""
LINES = f"Name: {'_' * 22}  Signed: {'_' * 22}  Date: {'_' * 14}"
LETTERS = "ABCDEFGHIJKLMNOP"
_SPECIAL = re.compile(r"([\\`*_\[\]<>|~$&@])")
_BLOCK = re.compile(r"^(?:[-+=]+|#{1,6}|0{0,8}1[.)])$")
"""Words that would begin a heading, a rule or a list at the head of any line."""
_FIRST = re.compile(r"^[0-9]{1,9}[.)]$")
"""Words that would begin a list at the head of a paragraph, but not within one."""


def as_markdown(report: Report) -> str:
    """The whole report; a stranger's text in it stays text."""
    parts = [
        _head(report), _complaint(report), _facts("Cautions that held for this job", (
            *(Fact("", c) for c in report.cautions),)), _safe(report), _readings(report),
        _runs(report), _suspects(report), _findings(report), _repairs(report), _bridges(report),
        _proofs(report), _list("Open points", report.open_points or ("None.",)),
        _facts("Remarks", report.remarks), _facts("Hand-over", report.closings),
        _facts("Times", report.times), _facts("Worked out with", report.basis), _end(report),
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def escape(text: str) -> str:
    """Text that Markdown shows as it is: no markup, no link, no list, no HTML."""
    words = []
    for position, word in enumerate(text.split(" ")):
        safe = _SPECIAL.sub(r"\\\1", word)
        if _BLOCK.match(word) or (position == 0 and _FIRST.match(word)):
            safe = f"{safe[:-1]}\\{safe[-1]}"
        words.append(safe.replace("://", "\\://").replace("www.", "www\\."))
    return " ".join(words)


def _fold(text: str, first: str = "", rest: str = "") -> str:
    """Prose in lines, with a mark before the first and blanks before the others."""
    return textwrap.fill(text, WIDTH, initial_indent=first, subsequent_indent=rest,
                         break_long_words=False, break_on_hyphens=False)


def _bullet(text: str) -> str:
    return _fold(text, "- ", "  ")


def _list(title: str, items: Iterable[str]) -> str:
    rows = [_bullet(escape(item)) for item in items]
    return "\n".join((f"## {title}", "", *rows)) if rows else ""


def _facts(title: str, facts: Sequence[Fact]) -> str:
    rows = [_bullet((f"{escape(label)}: " if label else "") + escape(text))
            for label, text in facts]
    return "\n".join((f"## {title}", "", *rows)) if rows else ""


def _head(report: Report) -> str:
    verdict = report.verdict
    stated = f"**{verdict.says}**"
    if verdict.when:
        stated += escape(f" ({verdict.when}, {verdict.who or 'nobody named'})")
    rows = [f"# {escape(report.title)}", "", stated, ""]
    if verdict.reason:
        rows += [_fold(escape(verdict.reason)), ""]
    rows += [_bullet(escape(line)) for line in report.summary]
    rows += ["", "## Machine and job", ""]
    rows += [_bullet(f"{escape(label)}: {escape(text)}") for label, text in report.facts]
    return "\n".join(rows)


def _complaint(report: Report) -> str:
    told = report.complaint
    rows = ["## Complaint", ""]
    if told.words:
        rows += [_fold(escape(told.words), "> ", "> "), ""]
    rows += [_bullet(f"Shows: {escape(one)}") for one in told.shows]
    rows += [_bullet(f"Works: {escape(one)}") for one in told.works]
    rows += [_bullet(f"{escape(label)}: {escape(text)}") for label, text in told.around]
    if len(rows) == 2:
        rows.append("Nothing was told.")
    return "\n".join(rows)


def _safe(report: Report) -> str:
    if not report.safe:
        return ""
    rows = ["## Safe conditions, as acknowledged", ""]
    for one in report.safe:
        rows.append(_bullet(escape(f"{one.when} {one.says}")))
        rows += [_fold(escape(step), f"  {number}. ", "     ")
                 for number, step in enumerate(one.steps, 1)]
    return "\n".join(rows)


def _readings(report: Report) -> str:
    rows = ["## Readings", ""]
    if not report.readings:
        rows.append("No reading was taken.")
    search = 1
    for row in report.readings:
        if row.search != search:
            search = row.search
            rows += [f"### After the repair: search {search}", ""]
        rows += [*_reading(row), ""]
    rows += [_bullet(f"Left out, it could not be made: {escape(one)}") for one in report.skipped]
    return "\n".join(rows).rstrip()


def _reading(row: ReadingRow) -> list[str]:
    state = f" WITHDRAWN {row.withdrawn}." if row.withdrawn else ""
    lines = [_fold(escape(f"{row.when} {sentence(row.does)}") + state,
                   f"**{row.number}.** ", "")]
    span = f" ({row.span})" if row.span else ""
    healthy = f"; healthy: {row.healthy}{span}; {row.fits}" if row.healthy else ""
    lines += ["", _bullet(f"Read **{escape(row.read)}**{escape(healthy)}.")]
    around = "; ".join(part for part in (row.points, row.where) if part)
    lines += [_bullet(escape(around) + ".")] if around else []
    lines += [_bullet(escape(change) + ".") for change in row.changes]
    if row.withdrawn:
        return lines
    if row.rules_out:
        gone = "; ".join(f"{one.says} ({one.before})" for one in row.rules_out)
        lines.append(_bullet(f"Ruled out: {escape(gone)}."))
    if row.left:
        lines.append(_bullet(escape(row.left[0].upper() + row.left[1:]) + "."))
    if row.set_aside:
        lines.append("- Taken before a repair that did not cure; it counts no more.")
    return lines


def _runs(report: Report) -> str:
    if not report.runs:
        return ""
    return "\n\n".join(("## Runs of the circuit that were measured",
                        *(_run(one) for one in report.runs)))


def _run(run: RunPicture) -> str:
    """The run as one line of wires and parts, readings in braces where they were taken."""
    at: dict[int, list[Mark]] = {}
    for mark in run.marks:
        at.setdefault(mark.red, []).append(mark)
    words = []
    for k, stop in enumerate(run.stops):
        if isinstance(stop, Point):
            volts = stop.found or stop.healthy
            words.append(escape(stop.name + (f"={volts}" if volts else "")))
        else:
            broken = " FAULT" if stop.faulty else ""
            words.append(f"({escape(f'{stop.device} {stop.mark}'.strip())}{broken})")
        words += [f"{{{m.number}: {escape(m.text)}{_to(run, m)}}}" for m in at.get(k, ())]
    against = f" Readings at one point are against {escape(run.against)}." if run.against else ""
    return "\n".join((f"### {escape(run.title)}", "", _fold(" ".join(words)), "",
                      _fold(f"{escape(run.note)}{against}".strip()))).rstrip()


def _to(run: RunPicture, mark: Mark) -> str:
    end = run.stops[mark.black] if mark.black is not None else None
    return f" to {escape(end.name)}" if isinstance(end, Point) else ""


def _suspects(report: Report) -> str:
    table = report.suspects
    if not table.moments:
        return ""
    lines = list(zip(LETTERS, table.lines, strict=False))
    heads = ["after", *(letter for letter, _ in lines), "others", "unknown"]
    rows = [[moment.label, *(percent(line.chances[k]) for _, line in lines),
             percent(table.others.chances[k]), percent(table.unknown.chances[k])]
            for k, moment in enumerate(table.moments)]
    named = [_bullet(f"{letter}: {escape(line.says)}") for letter, line in lines]
    signs = ("`3` is reading 3, `3*` its correction, `-3` its withdrawal, `told` what the "
             "operator said.")
    return "\n".join(("## Suspects over time", "", *_table(heads, rows), "", *named,
                      "- others: all other described faults",
                      "- unknown: something not described here, or no fault", "", _fold(signs)))


def _table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> list[str]:
    """A table with straight columns, figures to the right."""
    safe = [[escape(cell) for cell in row] for row in rows]
    widths = [max(3, *(len(row[k]) for row in (heads, *safe))) for k in range(len(heads))]
    ruled = "|".join((f"{'-' * (widths[0] + 2)}", *(f"{'-' * (w + 1)}:" for w in widths[1:])))

    def line(cells: Sequence[str]) -> str:
        kept = [cells[0].ljust(widths[0]), *(c.rjust(w) for c, w in zip(cells[1:], widths[1:],
                                                                     strict=True))]
        return f"| {' | '.join(kept)} |"

    return [line(heads), f"|{ruled}|", *(line(row) for row in safe)]


def _findings(report: Report) -> str:
    return "\n\n".join(_finding(part, len(report.findings) > 1) for part in report.findings)


def _finding(part: FindingPart, numbered: bool) -> str:
    title = f"## Finding of search {part.search}" if numbered else "## Finding"
    rows = [title, "", f"**{escape(part.headline)}.** {escape(part.says)}", ""]
    rows[2] = _fold(rows[2])
    rows += [_bullet(f"Fault: {escape(one)}") for one in part.causes]
    rows += [_bullet(f"Speaks for it, {one.weight}: {escape(one.says)}")
             for one in part.speaks_for]
    rows += [_bullet(f"Speaks against it, {one.weight}: {escape(one.says)}")
             for one in part.speaks_against]
    rows += [_bullet(f"{'Could also be' if part.causes else 'Suspected'}: {escape(one.says)} "
                     f"({one.chance})") for one in part.instead]
    rows += [_bullet(f"In doubt: {escape(one)}") for one in part.doubts]
    rows += [_bullet(f"**Warning:** {escape(one)}") for one in part.warnings]
    rows += [_bullet(f"Note: {escape(one)}") for one in part.notes]
    return "\n".join(rows).rstrip()


def _repairs(report: Report) -> str:
    if not report.repairs:
        return ""
    return "\n\n".join(("## Repairs", *(_repair(part) for part in report.repairs)))


def _repair(part: RepairPart) -> str:
    rows = [_fold(f"{escape(part.when)} {escape(part.says)}: **{part.result}**."), ""]
    rows += [_bullet(f"{escape(label)}: {escape(text)}") for label, text in part.about]
    if part.repeated:
        before = f"before {part.before}, " if part.before else ""
        healthy = f", healthy {part.healthy}" if part.healthy else ""
        rows.append(_bullet(escape(f"Repeated: {part.repeated}: {before}after {part.after}"
                                   f"{healthy}")))
    rows += [_bullet(f"Note: {escape(part.note)}")] if part.note else []
    rows += [_bullet(f"Caution: {escape(one)}") for one in part.cautions]
    return "\n".join(rows).rstrip()


def _bridges(report: Report) -> str:
    return _list("Bridged safety devices", (
        f"{row.where}: found {row.found}, "
        + (f"removed {row.removed}" if row.removed else "STILL BRIDGED") for row in report.bridges))


def _proofs(report: Report) -> str:
    if not report.proofs:
        return ""
    rows = ["## Proof of the safety functions", ""]
    for row in report.proofs:
        made = ", ".join(part for part in (row.seen, row.who, row.when) if part)
        rows.append(_bullet(f"**{row.result}**: {escape(row.says)}. Expected: "
                            f"{escape(row.expect)}." + (f" {escape(made)}." if made else "")))
        rows += [_fold(f"Earlier: {escape(one)}", "  - ", "    ") for one in row.earlier]
    return "\n".join(rows)


def _end(report: Report) -> str:
    rows = ["## Signatures", ""]
    for name in report.signatures:
        rows += [f"{name}:", "", LINES, ""]
    rows.append("faultkit advises. Local codes and a qualified person decide.")
    return "\n".join(rows)
