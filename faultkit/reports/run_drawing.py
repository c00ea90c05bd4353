"""A run of the circuit as a drawing: from left to right, in as many rows as it needs."""

from dataclasses import dataclass

from faultkit.reports.records import Part, Point, RunPicture
from faultkit.reports.svg import box, circle, drawing, line, shortened, text, wide

WIDTH = 720.0
EDGE = 22.0
PARTS = 7
"""Parts in a row."""
STEP = (WIDTH - 2 * EDGE) / PARTS
LANE = 19.0
"""Height of one lane of readings."""
OVER, UNDER = 44.0, 44.0
"""Room over the line for the names of parts, and under it for wires and voltages."""
KINDS = {"live": "live", "gone": "gone", "low": "thin", "": "thin"}


@dataclass(frozen=True, slots=True)
class Flag:
    """A reading over one row, between two places on it."""

    left: float
    right: float
    words: str
    number: int
    differs: bool
    feet: tuple[float, ...]
    """Where it comes down to the line."""

    @property
    def ends(self) -> tuple[float, float]:
        """What it takes of a lane, its words included."""
        middle, half = (self.left + self.right) / 2, (wide(self.words, 10.5) + 26) / 2
        middle = min(max(middle, half), WIDTH - half)
        return min(self.left, middle - half), max(self.right, middle + half)


def draw_run(run: RunPicture) -> list[str]:
    """SVG of a run, one for each row, so that a page may end between two rows.

    Live parts are drawn thick, those that should be live and are not dashed.
    """
    rows = []
    end = len(run.stops) - 1
    for first in range(0, max(end, 1), 2 * PARTS):
        last = min(first + 2 * PARTS, end)
        lanes = _lanes(_flags(run, first, last))
        level = 4.0 + len(lanes) * LANE + OVER
        shapes = _row(run, first, last, level, more=last < end)
        flags = [(flag, level - OVER - k * LANE) for k, lane in enumerate(lanes) for flag in lane]
        shapes += [shape for flag, y in flags for shape in _leads(flag, y, level)]
        shapes += [shape for flag, y in flags for shape in _flag(flag, y)]
        rows.append(drawing(WIDTH, level + UNDER, run.title, shapes))
    return rows


def _x(index: int, first: int) -> float:
    """Where a stop lies in its row."""
    return EDGE + (index - first) / 2 * STEP


def _row(run: RunPicture, first: int, last: int, y: float, *, more: bool) -> list[str]:
    shapes = []
    for k in range(first, last + 1):
        stop, x = run.stops[k], _x(k, first)
        if isinstance(stop, Part):
            left, right = run.stops[k - 1], run.stops[k + 1]
            assert isinstance(left, Point)
            assert isinstance(right, Point)
            shapes += [line(x - STEP / 2, y, x - 13, y, KINDS[left.state]),
                       line(x + 13, y, x + STEP / 2, y, KINDS[right.state]),
                       *_symbol(stop, x, y)]
    for k in range(first, last + 1):
        stop, x = run.stops[k], _x(k, first)
        if isinstance(stop, Point):
            again = k == first and first > 0
            shapes += _point(stop, x, y, again=again, at_end=more and k == last)
    return shapes


def _point(stop: Point, x: float, y: float, *, again: bool, at_end: bool) -> list[str]:
    """A dot with the wire number and what stands there; hollow where the row is cut."""
    name = shortened(stop.name, 10.5, STEP - 8)
    name = f"... {name}" if again else f"{name} ..." if at_end else name
    half = wide(name, 10.5) / 2
    at = min(max(x, half), WIDTH - half)
    shapes = [circle(x, y, 3, "hollow" if again or at_end else "dot"),
              text(at, y + 17, name, "wire")]
    volts = stop.found or stop.healthy
    if volts and not again:
        if stop.state == "gone":
            volts = f"{volts} ({stop.healthy})"
        half = wide(volts, 9.5) / 2
        shapes.append(text(min(max(x, half), WIDTH - half), y + 30, volts, "volts"))
    return shapes


def _symbol(part: Part, x: float, y: float) -> list[str]:
    """Signs as on a wiring diagram (in the manner of IEC 60617), contacts as drawn at rest."""
    name = "wire" if part.symbol == "wire" else part.device
    shapes = [text(x, y - 28, shortened(name, 10.5, STEP - 6), "device"),
              text(x, y - 16, shortened(part.mark, 9.5, STEP - 6))]
    match part.symbol:
        case "no" | "main":
            shapes += [line(x - 13, y, x - 9, y), line(x - 9, y, x + 10, y - 9, "sign"),
                       line(x + 9, y, x + 13, y)]
        case "nc":
            shapes += [line(x - 13, y, x - 9, y), line(x - 9, y, x + 13, y - 7, "sign"),
                       line(x + 9, y, x + 9, y - 9, "sign"), line(x + 9, y, x + 13, y)]
        case "fuse":
            shapes += [box(x - 13, y - 5, 26, 10, "sign"), line(x - 13, y, x + 13, y)]
        case "coil":
            shapes.append(box(x - 13, y - 8, 26, 16, "sign"))
        case "source":
            shapes += [circle(x - 4.5, y, 8, "sign"), circle(x + 4.5, y, 8, "sign")]
        case "load":
            shapes.append(box(x - 13, y - 5, 26, 10, "sign"))
        case "plug":
            shapes += [line(x - 13, y, x - 8, y), circle(x - 3.5, y, 4.5, "sign"),
                       box(x + 1, y - 2.5, 12, 5, "full")]
        case "wire":
            shapes.append(line(x - 13, y, x + 13, y, "gone" if part.faulty else "thin"))
    if part.faulty:
        shapes += [box(x - 19, y - 12, 38, 24, "fault"), text(x, y + 26, "FAULT", "device")]
    return shapes


def _flags(run: RunPicture, first: int, last: int) -> list[Flag]:
    flags = []
    for mark in run.marks:
        ends = [mark.red] if mark.black is None else [mark.red, mark.black]
        inside = _inside(ends, first, last)
        if not inside:
            continue
        xs = tuple(_x(k, first) for k in inside)
        words = mark.text
        if len(inside) < len(ends):
            words = (f"{words} to {_name(run, ends[1])}" if inside == ends[:1]
                     else f"from {_name(run, ends[0])}")
        flags.append(Flag(min(xs), max(xs), words, mark.number, mark.differs,
                          _feet(run, inside, first)))
    return sorted(flags, key=lambda flag: flag.right - flag.left)


def _inside(ends: list[int], first: int, last: int) -> list[int]:
    """Ends of a reading that a row shows: a row's last point is the next one's first again."""
    inside = [k for k in ends if first <= k <= last]
    if len(inside) == len(ends) == 2:
        return inside
    if len(ends) == 2 and last in inside and last < max(ends) <= last + 2 * PARTS:
        return []  # the next row shows it whole
    return [k for k in inside if k > first or first == 0]


def _name(run: RunPicture, index: int) -> str:
    stop = run.stops[index]
    return stop.name if isinstance(stop, Point) else stop.device


def _feet(run: RunPicture, inside: list[int], first: int) -> tuple[float, ...]:
    """At a part the reading stands over its name, at points it comes down to the line."""
    return tuple(_x(k, first) for k in inside if isinstance(run.stops[k], Point))


def _lanes(flags: list[Flag]) -> list[list[Flag]]:
    """Flags in lanes, so that none lies over another."""
    lanes: list[list[Flag]] = []
    for flag in flags:
        left, right = flag.ends
        for lane in lanes:
            if all(right + 4 < other.ends[0] or left - 4 > other.ends[1] for other in lane):
                lane.append(flag)
                break
        else:
            lanes.append([flag])
    return lanes


def _leads(flag: Flag, y: float, level: float) -> list[str]:
    """Thin lines from a reading down to where it was taken."""
    shapes = [line(x, y, x, level - 3, "lead") for x in flag.feet]
    if len(flag.feet) == 2:
        shapes.append(line(flag.feet[0], y, flag.feet[1], y, "lead"))
    return shapes


def _flag(flag: Flag, y: float) -> list[str]:
    left, right = flag.ends
    start = max(left, (flag.left + flag.right) / 2 - (wide(flag.words, 10.5) + 22) / 2)
    start = min(start, right - wide(flag.words, 10.5) - 22)
    return [box(start, y - 15, wide(flag.words, 10.5) + 22, 15, "paper"),
            circle(start + 8, y - 7.5, 7, "told" if flag.differs else "ring"),
            text(start + 8, y - 4, str(flag.number), "inverse" if flag.differs else "count"),
            text(start + 18, y - 4, flag.words, "read", "start")]
