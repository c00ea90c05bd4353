"""The run of the circuit, drawn as a column or as flowing text."""

from textual.content import Content

from faultkit.terminal.widgets.drawn import cut
from faultkit.terminal.wording.run import Part, Point, Run, nearest
from faultkit.terminal.wording.words import Glyphs


def as_column(run: Run, glyphs: Glyphs, width: int, height: int) -> list[Content]:
    """One line a stop, cut at its ends so that the red probe stays in sight."""
    start, end, probe = 0, len(run), nearest(run)
    while end - start + (start > 0) + (end < len(run)) > height and end - start > 1:
        if probe - start >= end - 1 - probe:
            start += 1
        else:
            end -= 1
    more = Content.styled(f"        {glyphs.more}", "$secondary")
    return [*([more] if start else []), *(_stop_line(stop, width) for stop in run[start:end]),
            *([more] if end < len(run) else [])]


def _stop_line(stop: Point | Part, width: int) -> Content:
    """One stop of the run, on a line of its own."""
    if isinstance(stop, Part):
        says = cut(stop.says, max(width - 26, 8))
        return Content.assemble("  [ ", (f"{stop.device} {stop.mark}".ljust(18), "bold"),
                                " ]  ", (says, "$secondary"))
    probe = {"RED": ("RED   ", "bold $error"), "BLACK": ("BLACK ", "bold")}.get(stop.probe,
                                                                              ("      ", ""))
    wire = f"wire {stop.wire}" if stop.wire else stop.name
    read = " / ".join(stop.readings[:2])
    room = width - 20 - len(read)
    pins = cut(" ".join(stop.pins), max(room - 2, 0)) if stop.wire else ""
    return Content.assemble(probe, "| ", wire.ljust(11), (read, "bold $success"),
                            "  " if read else "", (pins, "$secondary"))


def _tokens(run: Run, glyphs: Glyphs) -> list[Content]:
    """Each stop as a short piece of text."""
    dash = glyphs.line
    pieces = []
    for stop in run:
        if isinstance(stop, Part):
            pieces.append(Content.assemble((f"{stop.device} {stop.mark}", "bold")))
            continue
        parts: list[Content | str | tuple[str, str]] = [dash, (stop.name, "$secondary")]
        if stop.probe:
            style = "bold $error" if stop.probe == "RED" else "bold"
            parts.append((f" ({stop.probe} {stop.at})", style))
        if stop.readings:
            parts.append((f"={stop.readings[0]}", "bold $success"))
        parts.append(dash)
        pieces.append(Content.assemble(*parts))
    return pieces


def as_text(run: Run, glyphs: Glyphs, width: int, height: int) -> list[Content]:
    """The run as wrapped text, cut at its ends so that the red probe stays in sight."""
    pieces = _tokens(run, glyphs)
    start, end, probe = 0, len(pieces), nearest(run)
    rows = _rows(pieces, width)
    while len(rows) > height and end - start > 1:
        if probe - start >= end - 1 - probe:
            start += 1
        else:
            end -= 1
        mark = Content(glyphs.more)
        rows = _rows([*([mark] if start else []), *pieces[start:end],
                      *([mark] if end < len(pieces) else [])], width)
    return rows


def _rows(pieces: list[Content], width: int) -> list[Content]:
    rows, row, used = [], Content(""), 0
    for piece in pieces:
        size = len(piece.plain) + 1
        if used and used + size > width:
            rows.append(row)
            row, used = Content(""), 0
        row, used = Content.assemble(row, piece, " "), used + size
    return [*rows, row]
