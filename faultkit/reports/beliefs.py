"""What each reading ruled out, and how the suspects moved over the whole job."""

from collections.abc import Sequence

from faultkit.job.events import (
    ReadingChanged,
    ReadingTaken,
    ReadingWithdrawn,
    Repaired,
    RepairWithdrawn,
)
from faultkit.job.records import JobState, Suspect, carrying
from faultkit.job.suggest import RULED_OUT
from faultkit.reports.course import Course, Happening, Search
from faultkit.reports.records import Moment, RuledOut, SuspectLine, Suspects
from faultkit.reports.words import (
    cause_says,
    clean,
    reading_says,
    remedy_says,
    several,
)
from faultkit.vocabulary.says import percent

WORTH_NAMING = 0.02
"""Suspects that were at least this probable are named when a reading rules them out."""
NAMED = 5
"""Ruled-out suspects named at most."""
DRAWN = 8
"""Suspects with a line of their own at most."""
ONCE = 0.06
"""A suspect gets a line when it was at least this probable at some moment."""
Weighed = tuple[tuple[Suspect, ...], float]
NOT_DESCRIBED = "Something not described here, or no fault"


def ruled_out(course: Course, search: Search, position: int) -> tuple[RuledOut, ...]:
    """Suspects that the reading at this position of a search made unlikely."""
    before, _ = course.suspects(course.after(search, position))
    suspects, _ = course.suspects(course.after(search, position + 1))
    after = {s.cause: s.probability for s in suspects}
    gone = [s for s in before if s.probability >= WORTH_NAMING
            and after.get(s.cause, 0.0) < RULED_OUT * s.probability]
    named = [RuledOut(cause_says(course.machine, s.cause), percent(s.probability))
             for s in gone[:NAMED]]
    if len(gone) > NAMED:
        named.append(RuledOut(f"and {several(len(gone) - NAMED, 'more', 'more')}",
                              percent(sum(s.probability for s in gone[NAMED:]))))
    return tuple(named)


def left_after(course: Course, search: Search, position: int) -> str:
    """How many suspects are left after a reading, and the first of them."""
    suspects, _ = course.suspects(course.after(search, position + 1))
    if not suspects:
        return "no described suspect left"
    count, first = carrying(s.probability for s in suspects), suspects[0]
    return (f"{several(count, 'suspect', 'suspects')} left, first: "
            f"{cause_says(course.machine, first.cause)} ({percent(first.probability)})")


def suspects_over_time(course: Course) -> Suspects:
    """The suspects after everything that moved them, as it happened, mistakes included."""
    moved: list[tuple[Moment, Weighed]] = []
    last: JobState | None = None
    for one in course.happenings:
        state = course.weighed(one.after)
        if state == last or not (state.told or state.entries or state.repaired):
            continue
        last = state
        told = not isinstance(one.event, ReadingTaken | ReadingChanged | ReadingWithdrawn
                              | Repaired | RepairWithdrawn)
        if told and moved and moved[-1][0].label == "told":
            moved.pop()
        moved.append((_moment(course, one), course.suspects(state)))
    views = [view for _, view in moved]
    drawn = _drawn(views)
    chance = [{s.cause: s.probability for s in suspects} for suspects, _ in views]
    lines = [_line(cause_says(course.machine, name), [one.get(name, 0.0) for one in chance])
             for name in drawn]
    others = [max(0.0, 1.0 - unknown - sum(one.get(name, 0.0) for name in drawn))
              for (_, unknown), one in zip(views, chance, strict=True)]
    return Suspects(tuple(moment for moment, _ in moved), tuple(lines),
                    _line("All other described faults", others),
                    _line(NOT_DESCRIBED, [unknown for _, unknown in views]))


def _drawn(views: Sequence[Weighed]) -> list[str]:
    """Causes with a line of their own: those that are left at the end, then those that led."""
    best: dict[str, float] = {}
    for suspects, _ in views:
        for one in suspects:
            best[one.cause] = max(best.get(one.cause, 0.0), one.probability)
    final = {s.cause: s.probability for s in views[-1][0]} if views else {}
    ranked = sorted(best, key=lambda c: (-final.get(c, 0.0) if final.get(c, 0.0) >= ONCE else 0.0,
                                         -best[c], c))
    return [name for name in ranked if best[name] >= ONCE][:DRAWN]


def _line(says: str, chances: list[float]) -> SuspectLine:
    return SuspectLine(says, tuple(chances), percent(chances[-1]) if chances else "")


def _moment(course: Course, one: Happening) -> Moment:
    when = course.clock.time(one.when)
    match one.event:
        case ReadingTaken(test=test, reading=reading):
            number = one.after.taken
            return Moment(str(number), f"Reading {number}: "
                          f"{reading_says(course.test(test), reading)}", when)
        case ReadingChanged(number=number, reading=reading):
            text = reading_says(course.test(course.lives[number].test), reading)
            return Moment(f"{number}*", f"Reading {number} corrected: {text}", when)
        case ReadingWithdrawn(number=number):
            return Moment(f"-{number}", f"Reading {number} withdrawn", when)
        case Repaired(remedy=remedy, cured=cured):
            says = remedy_says(course.machine, remedy)
            return Moment("repair", f"{says}: {'cured' if cured else 'not cured'}", when)
        case RepairWithdrawn():
            return Moment("undone", "The repair was entered by mistake", when)
        case _:
            count = len(one.after.told)
            return Moment("told", clean(several(count, "thing", "things")
                                        + " told by the operator"), when)
