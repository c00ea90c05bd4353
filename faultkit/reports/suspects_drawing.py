"""The suspects over time as a drawing: a row of bars for each suspect, a column for each moment."""

from faultkit.reports.records import Moment, SuspectLine, Suspects
from faultkit.reports.svg import box, drawing, folded, line, text
from faultkit.vocabulary.says import percent

WIDTH = 720.0
NAMES, FIGURES = 270.0, 52.0
"""Room for the names on the left and the last probability on the right."""
ROW = 36.0
HIGH = 24.0
"""Height of a bar that stands for certainty."""
HEAD = 30.0
WIDEST = 40.0
FIGURED = 19.0
"""Columns at least this wide carry the probability in percent over each bar."""
LEGIBLE = 15.0
"""Columns narrower than this are not all labelled."""


def draw_suspects(table: Suspects) -> str:
    """SVG of the suspects; a full bar is certainty. Empty where nothing was told or read."""
    if not table.moments:
        return ""
    rows = [*table.lines, table.others, table.unknown]
    width = min(WIDEST, (WIDTH - NAMES - FIGURES) / len(table.moments))
    right = NAMES + width * len(table.moments)
    shapes = [text(NAMES - 8, HEAD - 10, "after reading", "small", "end"),
              text(right + 8, HEAD - 10, "at last", "small", "start")]
    for k, moment in enumerate(table.moments):
        shapes += _column(moment, k, width, HEAD + ROW * len(rows))
    for number, one in enumerate(rows):
        shapes += _row(one, HEAD + ROW * (number + 1) - 4, width, right)
    return drawing(WIDTH, HEAD + ROW * len(rows) + 4, "Suspects over time", shapes)


def _column(moment: Moment, k: int, width: float, bottom: float) -> list[str]:
    """The label of a column, and a line where a repair was made."""
    x = NAMES + width * (k + 0.5)
    edge = NAMES + width * k
    repair = moment.label in ("repair", "undone")
    every = width >= LEGIBLE or repair or (moment.label.isdecimal() and int(moment.label) % 5 == 0)
    shapes = [text(x, HEAD - 10, moment.label, "count")] if every and not repair else []
    if repair:
        shapes += [text(edge, HEAD - 20, moment.label, "count"),
                   line(edge, HEAD - 16, edge, bottom, "lead")]
    return shapes


def _row(one: SuspectLine, base: float, width: float, right: float) -> list[str]:
    names = folded(one.says, 9.5, NAMES - 12, 2)
    shapes = [text(NAMES - 8, base - 6 - 11 * (len(names) - 1 - k), name, "small", "end")
              for k, name in enumerate(names)]
    shapes.append(line(NAMES, base, right, base))
    for k, chance in enumerate(one.chances):
        if chance > 0.002:
            shapes.append(box(NAMES + width * k + width * 0.14, base - HIGH * chance,
                              width * 0.72, HIGH * chance, "bar"))
        if width >= FIGURED and chance >= 0.005:
            shapes.append(text(NAMES + width * (k + 0.5), base - HIGH * chance - 2,
                               percent(chance).removesuffix(" %"), "share"))
    shapes.append(text(right + 8, base - 6, one.last, "read", "start"))
    return shapes
