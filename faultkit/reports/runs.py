"""The runs of the circuit on which the telling readings were taken, ready to be drawn."""

from collections.abc import Sequence
from dataclasses import dataclass

from faultkit.circuit.path import Hop, ends_of, path_between, ring_between
from faultkit.job.events import Repaired
from faultkit.job.records import Entry
from faultkit.reports.course import Course, Search
from faultkit.reports.expected import fits, healthy_of
from faultkit.reports.records import Mark, Part, Point, RunPicture, Symbol
from faultkit.reports.volts import VOLTS, Bench, Volts
from faultkit.reports.words import cause_says, clean, reading_says
from faultkit.vocabulary.diagnosis import Cause, Change, Test
from faultkit.vocabulary.machine import Device, Machine

DRAWN = 4
"""Pictures of one search at most; the runs with the most telling readings."""
OHMS = ("ohm", "Mohm")


@dataclass(frozen=True, slots=True)
class Stop:
    """A point or a part on the way, before anything is known about it."""

    pins: tuple[str, ...]
    """Those of a point that the run passes, or the two ends of a part."""
    joined: frozenset[str]
    """All pins that wires join to a point; empty for a part."""
    by: str
    """What a part is: `-Q2:13-14`, `-Q2/coil`, or a wire number; empty for a point."""
    way: str


@dataclass(slots=True)
class Sheet:
    """A picture in the making."""

    test: Test
    stops: tuple[Stop, ...]
    placed: dict[int, tuple[int, int | None]]
    """Number of a reading -> stops of its red and black point."""


def run_pictures(course: Course) -> tuple[RunPicture, ...]:
    """Pictures for every search, in order; none for a machine without wiring."""
    if not course.machine.wires:
        return ()
    bench = Bench(course.knowledge)
    drawn: list[RunPicture] = []
    done: set[int] = set()
    for search in course.searches:
        entries = [e for e in search.state.entries
                   if e.number not in done and course.readable(e)]
        done |= {e.number for e in entries}
        telling = {e.number for e in entries if _telling(course, search, e)}
        causes = _found(course, search)
        broken = frozenset(_places(change) for cause in causes for variant in cause.variants
                           for change in variant)
        sheets = _sheets(course.machine, entries, telling, broken)
        drawn += [_picture(course, search, sheet, bench, causes, broken) for sheet in sheets]
    return tuple(drawn)


def _found(course: Course, search: Search) -> tuple[Cause, ...]:
    """The fault that a cure proved, or a finding names: one cause, or the pair named first."""
    event = search.repair.event if search.repair else None
    view = course.view(search.state)
    if isinstance(event, Repaired):
        wanted = {event.remedy} if event.cured else set()
    else:
        wanted = set(view.finding.remedies) if view.finding else set()
    for suspect in view.suspects:
        causes = tuple(course.machine.causes[c] for c in suspect.cause.split(" + "))
        if wanted & {c.remedy for c in causes}:
            return causes
    return ()


def _telling(course: Course, search: Search, entry: Entry) -> bool:
    """A reading that differs from a healthy one, or speaks clearly for or against the finding."""
    test = course.machine.tests[entry.test]
    if fits(healthy_of(course.knowledge, test), entry.reading) == "differs":
        return True
    finding = course.view(search.state).finding
    return finding is not None and any(
        e.about == entry.test and abs(e.bits) >= 0.5 for e in finding.evidence)


def _sheets(machine: Machine, entries: Sequence[Entry], telling: set[int],
            broken: frozenset[str]) -> list[Sheet]:
    """Runs that carry the most telling readings, each reading on one of them."""
    probed = [e for e in entries if ends_of(machine, machine.tests[e.test])]
    runs = {e.number: _run(machine, machine.tests[e.test], broken) for e in probed}
    left = dict.fromkeys(e.number for e in entries)
    sheets: list[Sheet] = []
    while len(sheets) < DRAWN:
        offers = []
        for entry in probed:
            if entry.number in left and entry.number in telling and runs[entry.number]:
                test = machine.tests[entry.test]
                placed = {e.number: at for e in entries if e.number in left
                          if (at := _placed(machine, test, machine.tests[e.test],
                                            runs[entry.number]))}
                offers.append(Sheet(test, runs[entry.number], placed))
        if not offers:
            break
        best = max(offers, key=lambda s: (len(telling & set(s.placed)), len(s.placed),
                                          -len(s.stops)))
        if not telling & set(best.placed):
            break
        sheets.append(best)
        for number in best.placed:
            left.pop(number)
    return sheets


def _run(machine: Machine, test: Test, broken: frozenset[str]) -> tuple[Stop, ...]:
    """From the supply through the red point to the black one, or straight between them."""
    ends = ends_of(machine, test)
    assert ends is not None
    hops: tuple[Hop, ...] = ring_between(machine, *ends) if test.meter in VOLTS else ()
    return _stops(machine, hops or path_between(machine, *ends), broken)


def _stops(machine: Machine, hops: tuple[Hop, ...], broken: frozenset[str]) -> tuple[Stop, ...]:
    """Wires become points, except a broken piece of wire and a run that is wires only."""
    if not hops:
        return ()
    only_wires = all(hop.way == "wire" for hop in hops)
    stops: list[Stop] = []
    pins = [hops[0].a]

    def close() -> None:
        joined = frozenset(pins) if only_wires else _joined(machine, pins)
        stops.append(Stop(tuple(dict.fromkeys(pins)), joined, "", ""))

    for hop in hops:
        cut = {f"{hop.by}:{hop.a}/{hop.b}", f"{hop.by}:{hop.b}/{hop.a}"} & broken
        if hop.way == "wire" and not only_wires and not cut:
            pins.append(hop.b)
            continue
        close()
        stops.append(Stop((hop.a, hop.b), frozenset(), hop.by, hop.way))
        pins = [hop.b]
    close()
    return tuple(_apart(stops))


def _apart(stops: list[Stop]) -> list[Stop]:
    """Both sides of a broken wire keep only the pins that the run passes on their side."""
    cut = [k for k, stop in enumerate(stops) if stop.way == "wire"]
    beside = {k + side for k in cut for side in (-1, 1)}
    return [Stop(s.pins, frozenset(s.pins), s.by, s.way) if k in beside else s
            for k, s in enumerate(stops)]


def _joined(machine: Machine, pins: Sequence[str]) -> frozenset[str]:
    return frozenset(pins) | {pin for wire in machine.wires.values() if set(pins) & set(wire.pins)
                              for pin in wire.pins}


def _placed(machine: Machine, run: Test, test: Test,
            stops: Sequence[Stop]) -> tuple[int, int | None] | None:
    """Stops that a reading belongs to; None where it is not of this run.

    A device on the run that was looked at counts in the same condition only, as do volts.
    """
    alike = (run.meter in OHMS) == (test.meter in OHMS)
    same = run.condition == test.condition or (run.meter in OHMS and test.meter in OHMS)
    if not same:
        return None
    if test.sees is not None:
        at = [k for k, s in enumerate(stops)
              if s.by and s.way != "wire" and _device(s.by) == test.sees]
        return (at[-1], None) if at else None
    ends = ends_of(machine, test)
    if ends is None or not alike:
        return None
    red = [k for k, s in enumerate(stops) if ends[0] in s.joined]
    black = [k for k, s in enumerate(stops) if ends[1] in s.joined]
    if not red or not black:
        return None
    if test.meter in VOLTS and black[-1] == len(stops) - 1 and red[0] < len(stops) - 3:
        return red[0], None
    return min(((r, b) for r in red for b in black if r != b),
               key=lambda pair: abs(pair[0] - pair[1]), default=None)


def _device(by: str) -> str:
    return by.replace("/", ":").partition(":")[0]


def _places(change: Change) -> str:
    """What of a run a change is about: a contact, an element, a hop, or a whole device."""
    return change.target.partition("/")[0] if change.what == "attribute" else change.target


def _picture(course: Course, search: Search, sheet: Sheet, bench: Bench,
             causes: tuple[Cause, ...], broken: frozenset[str]) -> RunPicture:
    machine = course.machine
    points = [k for k, stop in enumerate(sheet.stops) if not stop.by]
    volts = bench.along(sheet.test, [sheet.stops[k].pins[0] for k in points], causes,
                        search.state.entries)
    of_stop = dict(zip(points, volts.points, strict=True))
    stops = tuple(_part(machine, stop, broken) if stop.by else
                  Point(_name(machine, stop), stop.pins, *of_stop[k])
                  for k, stop in enumerate(sheet.stops))
    numbers = sorted(sheet.placed)
    marks = tuple(_mark(course, e, *sheet.placed[e.number])
                  for e in search.state.entries if e.number in numbers)
    condition = machine.conditions[sheet.test.condition]
    single = any(mark.black is None and isinstance(stops[mark.red], Point) for mark in marks)
    last = stops[-1]
    return RunPicture(
        search=search.number,
        title=clean(condition.says),
        against=last.name if single and isinstance(last, Point) else "",
        stops=stops,
        marks=marks,
        note=_note(machine, volts, causes),
    )


def _note(machine: Machine, volts: Volts, causes: tuple[Cause, ...]) -> str:
    if not volts.known:
        return ""
    if volts.with_fault:
        return ("Voltages under the points are computed with the fault found: "
                f"{cause_says(machine, ' + '.join(c.id for c in causes))}.")
    return "Voltages under the points are computed for the healthy machine."


def _name(machine: Machine, stop: Stop) -> str:
    wire = next((w.id for w in machine.wires.values() if stop.pins[0] in w.pins), "")
    return clean(wire if wire and len(stop.joined) > 1 else stop.pins[0])


def _part(machine: Machine, stop: Stop, broken: frozenset[str]) -> Part:
    if stop.way == "wire":
        hops = {f"{stop.by}:{a}/{b}" for a, b in (stop.pins, stop.pins[::-1])}
        return Part("wire", clean(stop.by), "", "wire", faulty=bool(hops & broken))
    device, _, mark = stop.by.replace("/", ":").partition(":")
    known = machine.devices[device]
    return Part(clean(device), clean(mark), clean(known.says),
                _symbol(known, stop), faulty=bool({stop.by, device} & broken))


def _symbol(device: Device, stop: Stop) -> Symbol:
    if device.kind in ("fuse", "breaker"):
        return "fuse"
    if device.kind in ("plug", "terminals"):
        return "plug"
    contact = next((c for c in device.contacts if stop.by == f"{device.id}:{c.id}"), None)
    if contact is not None:
        return contact.form
    if stop.way == "source":
        return "source"
    return "coil" if stop.by.endswith("/coil") else "load"


def _mark(course: Course, entry: Entry, red: int, black: int | None) -> Mark:
    test = course.machine.tests[entry.test]
    return Mark(entry.number, reading_says(test, entry.reading), red, black,
                fits(healthy_of(course.knowledge, test), entry.reading) == "differs")
