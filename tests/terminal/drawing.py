"""A screen as text that can be read and compared: its signs, and its colours in short."""

from itertools import groupby
from string import ascii_letters

from rich.style import Style
from rich.text import Text
from textual.strip import Strip

from faultkit.terminal.app import FaultkitApp


def signs(app: FaultkitApp) -> list[str]:
    """Every row as it is read, without blanks at its end."""
    return ["".join(text for text, _, _ in strip).rstrip() for strip in _strips(app)]


def colours(app: FaultkitApp) -> list[str]:
    """What each letter stands for, then every row as lengths of letters: `A80`, `A3B10A67`.

    Equal rows one after the other are written once, with their number.
    """
    letters: dict[str, str] = {}
    rows = []
    for strip in _strips(app):
        runs = [(letters.setdefault(_says(style), ascii_letters[len(letters)]), Text(text).cell_len)
                for text, style, _ in strip if text]
        rows.append("".join(f"{letter}{sum(size for _, size in same)}"
                            for letter, same in groupby(runs, key=lambda run: run[0])))
    legend = [f"  {letter} {says}" for says, letter in letters.items()]
    return [*legend, *(f"  {len(list(same)):>2} x {row}" for row, same in groupby(rows))]


def _strips(app: FaultkitApp) -> list[Strip]:
    return list(app.screen._compositor.render_strips())


def _says(style: Style | None) -> str:
    if style is None:
        return "plain"
    marks = [word for word in ("bold", "reverse", "underline", "dim", "italic")
             if getattr(style, word)]
    shown = [colour.get_truecolor().hex if colour else "-"
             for colour in (style.color, style.bgcolor)]
    return " ".join((*shown, *marks))
