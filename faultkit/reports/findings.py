"""What each search left, what spoke for it, and what was done about it."""

from faultkit.job.events import Repaired, RepairWithdrawn
from faultkit.job.records import Assessment, Evidence, Finding
from faultkit.reports.course import Course, Happening, Search
from faultkit.reports.expected import healthy_of
from faultkit.reports.records import EvidenceRow, Fact, FindingPart, RepairPart, Share, Weight
from faultkit.reports.words import (
    cause_says,
    clean,
    reading_says,
    remedy_says,
)
from faultkit.vocabulary.says import percent, with_device

SHOWN = 5
"""Suspects named where there is no finding."""
SPEAKS = 0.5
"""Evidence of fewer bits than this hardly speaks and is left out."""
WEIGHTS: tuple[tuple[float, Weight], ...] = ((4.0, "strongly"), (1.5, "clearly"),
                                             (0.0, "a little"))
"""From so many bits on, a person would say so."""


def finding_parts(course: Course) -> tuple[FindingPart, ...]:
    """One for each search in which something was told or read."""
    return tuple(_part(course, search) for search in course.searches
                 if search.state.entries or search.state.told)


def _part(course: Course, search: Search) -> FindingPart:
    view, machine = course.view(search.state), course.machine
    finding = view.finding
    evidence = [_weighed(e) for e in finding.evidence] if finding else []
    others = (finding.instead if finding else view.suspects)[:SHOWN]
    says, headline = _in_words(course, search, view)
    return FindingPart(
        search=search.number,
        headline=headline,
        says=says,
        causes=tuple(cause_says(machine, c) for c in finding.causes) if finding else (),
        speaks_for=tuple(e for e in evidence if e.bits >= SPEAKS),
        speaks_against=tuple(e for e in evidence if e.bits <= -SPEAKS),
        instead=tuple(Share(clean(with_device(s.device, s.says)), percent(s.probability))
                      for s in others),
        doubts=tuple(clean(f"{d.says} Probably wrong: {percent(d.wrong)}.") for d in view.doubts),
        warnings=warnings_of(finding),
        notes=tuple(clean(note) for note in view.notes),
    )


def warnings_of(finding: Finding | None) -> tuple[str, ...]:
    """What must not be overlooked when this remedy is carried out."""
    return tuple(clean(one) for one in finding.warnings) if finding else ()


def _in_words(course: Course, search: Search, view: Assessment) -> tuple[str, str]:
    finding = view.finding
    done = search.repair.event.remedy if search.repair and isinstance(
        search.repair.event, Repaired) else ""
    if finding is None:
        says = "The readings leave no single remedy yet."
        headline = "No finding"
    else:
        says = clean(finding.says)
        headline = {
            "remedy": f"One remedy is left ({percent(finding.probability)} sure)",
            "group": f"Several remedies, in this order ({percent(finding.probability)} "
                     "sure of all together)",
            "none": "No described fault fits",
        }[finding.kind]
    if done and (finding is None or done not in finding.remedies):
        says += f" Carried out nevertheless: {remedy_says(course.machine, done)}."
    return says, headline


def _weighed(evidence: Evidence) -> EvidenceRow:
    weight = next(word for least, word in WEIGHTS if abs(evidence.bits) >= least)
    return EvidenceRow(clean(evidence.says.replace("?:", "?")), weight, evidence.bits)


def repair_parts(course: Course) -> tuple[RepairPart, ...]:
    """Every repair, those entered by mistake with them."""
    standing = {id(search.repair): search.number for search in course.searches if search.repair}
    parts: list[RepairPart] = []
    number = 1
    for one in course.happenings:
        if isinstance(one.event, Repaired):
            number = standing.get(id(one), number)
            parts.append(_repair(course, one, one.event, number, mistake=id(one) not in standing))
        assert not isinstance(one.event, RepairWithdrawn) or parts
    return tuple(parts)


def _repair(course: Course, one: Happening, event: Repaired, search: int, *,
            mistake: bool) -> RepairPart:
    machine = course.machine
    remedy, test = machine.remedies.get(event.remedy), course.test(event.repeated)
    place = machine.places.get(remedy.place) if remedy else None
    about = [("Place", clean(place.says if place else remedy.place)),
             ("Part", clean(remedy.part)), ("Tools", clean(remedy.tools)),
             ("State", "machine isolated" if remedy.dead else "no isolation needed"),
             ] if remedy else []
    before = [e.reading for e in one.before.entries if e.test == event.repeated]
    repeated = clean(test.does if test else event.repeated)
    return RepairPart(
        search=search,
        when=course.clock.time(one.when),
        says=remedy_says(machine, event.remedy),
        result=("entered by mistake" if mistake else "cured" if event.cured else "not cured"),
        about=tuple(Fact(label, text) for label, text in about if text),
        cautions=tuple(clean(c) for c in remedy.cautions) if remedy else (),
        repeated=repeated if event.reading is not None else "",
        before=reading_says(test, before[-1]) if before else "",
        after=reading_says(test, event.reading) if event.reading is not None else "",
        healthy=_healthy(course, event.repeated),
        note=clean(event.note),
    )


def _healthy(course: Course, name: str) -> str:
    test = course.test(name)
    if test is None:
        return ""
    healthy = healthy_of(course.knowledge, test)
    return f"{healthy.says} ({healthy.span})" if healthy.span else healthy.says
