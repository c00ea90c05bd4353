"""The few shapes that both drawings are made of, as SVG text. Everything written is escaped."""

from html import escape


def number(value: float) -> str:
    """A coordinate with no more digits than a printer needs."""
    return f"{value:.1f}".removesuffix(".0")


def line(x1: float, y1: float, x2: float, y2: float, kind: str = "thin") -> str:
    """A straight line; `kind` is a class of the style sheet."""
    return (f'<line class="{kind}" x1="{number(x1)}" y1="{number(y1)}" '
            f'x2="{number(x2)}" y2="{number(y2)}"/>')


def box(x: float, y: float, width: float, height: float, kind: str = "thin") -> str:
    """A rectangle by its upper left corner."""
    return (f'<rect class="{kind}" x="{number(x)}" y="{number(y)}" '
            f'width="{number(width)}" height="{number(height)}"/>')


def circle(x: float, y: float, radius: float, kind: str = "thin") -> str:
    """A circle by its middle."""
    return f'<circle class="{kind}" cx="{number(x)}" cy="{number(y)}" r="{number(radius)}"/>'


def text(x: float, y: float, words: str, kind: str = "small",
         anchor: str = "middle") -> str:
    """Words with their baseline at y."""
    return (f'<text class="{kind}" x="{number(x)}" y="{number(y)}" '
            f'text-anchor="{anchor}">{escape(words)}</text>')


def drawing(width: float, height: float, title: str, shapes: list[str]) -> str:
    """All shapes as one drawing that scales to the width of the page."""
    return (f'<svg role="img" viewBox="0 0 {number(width)} {number(height)}">'
            f"<title>{escape(title)}</title>{''.join(shapes)}</svg>")


def wide(words: str, size: float) -> float:
    """About how wide words are in a sans-serif face of this size."""
    return sum(0.34 if sign in "ijlt.,:;'|!()[] " else 0.9 if sign in "mwMWΩ@%" else 0.6
               for sign in words) * size


def shortened(words: str, size: float, room: float) -> str:
    """Words cut so that they fit, with dots where something is missing."""
    if wide(words, size) <= room:
        return words
    while words and wide(words, size) + wide("...", size) > room:
        words = words[:-1]
    return f"{words.rstrip()}..."


def folded(words: str, size: float, room: float, rows: int) -> list[str]:
    """Words in at most so many rows, cut where they need more."""
    made: list[str] = []
    for word in words.split():
        if made and wide(f"{made[-1]} {word}", size) <= room:
            made[-1] += f" {word}"
        else:
            made.append(word)
    if len(made) > rows:
        made = [*made[:rows - 1], " ".join(made[rows - 1:])]
    return [shortened(row, size, room) for row in made]
