"""Readings, the runs they were taken on, and the suspects over time, on the page."""

from html import escape

from faultkit.reports.records import ReadingRow, Report, RunPicture
from faultkit.reports.run_drawing import draw_run
from faultkit.reports.suspects_drawing import draw_suspects
from faultkit.reports.tags import fine, items, own, row, section, table

HEADS = (("No", "6%"), ("Time", "9%"), ("What was done", "32%"), ("Read", "13%"),
         ("Healthy", "14%"), ("What it ruled out", "26%"))


def readings_section(report: Report) -> str:
    """All readings in one table, and what could not be measured."""
    if not report.readings:
        return section("Readings", "<p>No reading was taken.</p>")
    rows, before = [], report.readings[0]
    for one in report.readings:
        if one.search != before.search:
            why = "A repair did not cure; the readings above count no more. " * before.set_aside
            rows.append(f'<tr class="between"><td colspan="{len(HEADS)}">{why}'
                        f"Search {one.search}:</td></tr>")
        rows.append(_row(one))
        before = one
    left = items(report.skipped)
    return section("Readings", table(HEADS, rows) + (
        f"<h3>Left out, they could not be made</h3>{left}" if left else ""))


def _row(one: ReadingRow) -> str:
    gone = bool(one.withdrawn)
    read = f'<span class="figure{" gone" if gone else ""}">{own(one.read)}</span>'
    if one.fits and not gone:
        read += f'<div class="mark">{"DIFFERS" if one.fits == "differs" else "as healthy"}</div>'
    read += "".join(fine(change) for change in one.changes)
    done = own(one.does) + fine(one.points) + fine(one.where)
    healthy = own(one.healthy) + fine(one.span)
    if gone:
        ruled = f'<span class="mark">WITHDRAWN {escape(one.withdrawn)}</span>'
    else:
        named = "; ".join(f"{one.says} ({one.before})" for one in one.rules_out)
        ruled = (own(named) if named else "Nothing.") + fine(one.left)
    return row((str(one.number), escape(one.when), done, read, healthy,
                f'<div class="fine">{ruled}</div>'))


def runs_section(report: Report) -> str:
    """Every run, drawn."""
    if not report.runs:
        return ""
    legend = ('<p class="fine">Wire numbers under the line, devices over it, contacts as drawn '
              "at rest. Numbers in circles are readings, in a black circle where the reading "
              'differs from a healthy one. <span class="legend thick"></span>live '
              '<span class="legend dashed"></span>should be live and is not (healthy value in '
              'brackets) <span class="legend"></span>other</p>')
    several = len({run.search for run in report.runs}) > 1
    return section("Runs of the circuit that were measured",
                   legend + "".join(_run(run, several) for run in report.runs))


def _run(run: RunPicture, several: bool) -> str:
    search = f"Search {run.search}: " if several else ""
    against = f" Readings at one point are against {run.against}." if run.against else ""
    caption = f"{run.note}{against}".strip()
    return (f"<figure><h3>{escape(search)}{own(run.title)}</h3>{''.join(draw_run(run))}"
            + (f"<figcaption>{own(caption)}</figcaption>" if caption else "") + "</figure>")


def suspects_section(report: Report) -> str:
    """The suspects, drawn, as it happened."""
    drawn = draw_suspects(report.suspects)
    if not drawn:
        return ""
    caption = ("A full bar is certainty, figures are percent. told: what the operator said; "
               "3*: reading 3 corrected; -3: reading 3 withdrawn; repair: a repair was made. "
               "As it happened, mistakes included.")
    return section("Suspects over time", f'<figure class="whole">{drawn}<figcaption>'
                   f"{escape(caption)}</figcaption></figure>")
