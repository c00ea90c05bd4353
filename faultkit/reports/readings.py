"""Every reading of a job in one row: what was done, read, expected, and what it ruled out."""

from faultkit.reports.beliefs import left_after, ruled_out
from faultkit.reports.course import Course, Life
from faultkit.reports.expected import NOTHING_KNOWN, fits, healthy_of
from faultkit.reports.records import ReadingRow
from faultkit.reports.words import clean, reading_says
from faultkit.vocabulary.diagnosis import Test
from faultkit.vocabulary.machine import Machine

METERS = {
    "V AC low": "V AC, low-impedance input",
    "V DC low": "V DC, low-impedance input",
    "ohm": "Ω",
    "mA": "mA, in series",
    "clamp A": "clamp, A AC",
    "Mohm": "insulation tester, MΩ",
    "seconds": "stopwatch, s",
    "mm": "gauge, mm",
}
"""How a meter is written where its name alone would not do."""


def reading_rows(course: Course) -> tuple[ReadingRow, ...]:
    """All readings in the order taken, the withdrawn ones with them."""
    rows: list[ReadingRow] = []
    for number in sorted(course.lives):
        rows.append(_row(course, course.lives[number], rows[-1].search if rows else 1))
    return tuple(rows)


def _row(course: Course, life: Life, search_before: int) -> ReadingRow:
    machine, test = course.machine, course.test(life.test)
    healthy = healthy_of(course.knowledge, test) if test else NOTHING_KNOWN
    place = course.places.get(life.number)
    clock = course.clock
    return ReadingRow(
        number=life.number,
        search=place[0].number if place else search_before,
        when=clock.time(life.taken),
        does=clean(test.does) if test else clean(f"{life.test} (no longer described)"),
        where=where_says(machine, test) if test else "",
        points=points_say(test) if test else "",
        read=reading_says(test, life.reading),
        healthy=healthy.says,
        span=healthy.span,
        fits=fits(healthy, life.reading),
        rules_out=ruled_out(course, *place) if place else (),
        left=left_after(course, *place) if place else "",
        changes=tuple(f"corrected {clock.time(when)}, was {reading_says(test, was)}"
                      for when, was, _ in life.changes),
        withdrawn=clock.time(life.withdrawn) if life.withdrawn else "",
        set_aside=place is not None and place[0].done,
    )


def where_says(machine: Machine, test: Test) -> str:
    """Place and condition of a test."""
    place, condition = machine.places.get(test.place), machine.conditions.get(test.condition)
    return clean("; ".join((place.says if place else test.place,
                            condition.says if condition else test.condition)))


def points_say(test: Test) -> str:
    """Meter and probes of a test; empty for a look."""
    meter = METERS.get(test.meter, test.meter)
    if test.between is not None:
        return clean(f"{meter}, red {test.between[0]}, black {test.between[1]}")
    if test.through is not None:
        return clean(f"{meter} at {test.through}")
    return "" if test.meter == "words" else meter
