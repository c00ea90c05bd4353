"""Proofs, bridges, what is still open, and how the job ended."""

from faultkit.job.events import (
    BridgeFound,
    BridgeRemoved,
    Closed,
    ProofMade,
    Remarked,
    Reopened,
    Repaired,
)
from faultkit.job.records import JobState
from faultkit.reports.course import Course, Happening
from faultkit.reports.records import BridgeRow, Fact, ProofRow, Status, Verdict
from faultkit.reports.words import cause_says, clean, remedy_says, sentence

STATUSES: dict[str, tuple[Status, str]] = {
    "fit for use": ("fit", "FIT FOR USE"),
    "not fit for use": ("not fit", "NOT FIT FOR USE"),
    "no fault found": ("no fault", "NO FAULT FOUND"),
}


def verdict_of(course: Course) -> Verdict:
    """How the job stands."""
    closed = course.state.closed
    if closed is None:
        return Verdict("open", "OPEN: NOT HANDED OVER",
                       "The job is not closed. The machine must not be used on this report.",
                       "", "")
    when = next(h.when for h, event in reversed(course.of(Closed)) if event == closed)
    status, says = STATUSES[closed.how]
    return Verdict(status, says, clean(closed.reason), clean(closed.who), course.clock.date(when))


def proof_rows(course: Course) -> tuple[ProofRow, ...]:
    """Every safety function of the machine, then those proved that it does not name any more."""
    machine, made = course.machine, course.of(ProofMade)
    names = list(dict.fromkeys([*machine.safety, *(event.function for _, event in made)]))
    return tuple(_proof(course, name, [(h, e) for h, e in made if e.function == name])
                 for name in names)


def _proof(course: Course, name: str, made: list[tuple[Happening, ProofMade]]) -> ProofRow:
    known = course.machine.safety.get(name)
    stands = next((p for p in course.state.proofs if p.function == name), None)
    earlier = made[:-1] if stands is not None else made
    last = made[-1] if stands is not None else None
    return ProofRow(
        says=clean(known.says if known else name),
        expect=clean(known.expect) if known else "",
        result="not proved" if stands is None else "passed" if stands.passed else "FAILED",
        seen=clean(stands.seen) if stands else "",
        who=clean(stands.who) if stands else "",
        when=course.clock.time(last[0].when) if last else "",
        earlier=tuple(_earlier(course, h, e) for h, e in earlier),
    )


def _earlier(course: Course, one: Happening, event: ProofMade) -> str:
    result = "passed" if event.passed else "FAILED"
    seen = f", {clean(event.seen)}" if event.seen else ""
    later = any(h.when >= one.when and isinstance(h.event, Repaired)
                for h in course.happenings[course.happenings.index(one):])
    return (f"{course.clock.time(one.when)} {result}{seen}, {clean(event.who)}"
            + (" (before a repair)" if later else ""))


def bridge_rows(course: Course) -> tuple[BridgeRow, ...]:
    """Every bridge found, with when it was removed."""
    rows: list[BridgeRow] = []
    for one in course.happenings:
        when = course.clock.time(one.when)
        match one.event:
            case BridgeFound(where=where) if where not in one.before.bridges:
                rows.append(BridgeRow(clean(where), when, ""))
            case BridgeRemoved(where=where):
                for k, row in enumerate(rows):
                    if row.where == clean(where) and not row.removed:
                        rows[k] = BridgeRow(row.where, row.found, when)
            case _:
                pass
    return tuple(rows)


def remark_facts(course: Course) -> tuple[Fact, ...]:
    """Notes, with when they were made."""
    return tuple(Fact(course.clock.time(h.when), clean(event.text))
                 for h, event in course.of(Remarked))


def closing_facts(course: Course) -> tuple[Fact, ...]:
    """Every hand-over and every reopening."""
    facts = []
    for one in course.happenings:
        when = course.clock.date(one.when)
        if isinstance(one.event, Closed):
            reason = f": {clean(one.event.reason)}" if one.event.reason else ""
            facts.append(Fact(when, f"Handed over as {one.event.how} by "
                                f"{clean(one.event.who) or 'nobody named'}{reason}"))
        elif isinstance(one.event, Reopened):
            facts.append(Fact(when, "Reopened"))
    return tuple(facts)


def open_points(course: Course) -> tuple[str, ...]:
    """What whoever takes the machine over must know, the most dangerous first."""
    state, machine = course.state, course.machine
    points = []
    if state.danger:
        points.append("A load that hangs or may sink was not secured.")
    points += [sentence(f"A safety device is bridged: {clean(where)}. Remove the bridge before use")
               for where in state.bridges]
    points += _unproved(course, state)
    points += _not_cured(course, state)
    points += [f"Reading {d.number} is in doubt: {clean(d.says)}"
               for d in course.view(state).doubts if not _cured(state)]
    if state.dead:
        points.append("The machine is isolated and locked; it was not switched on again.")
    points += [f"Test left out, it could not be made: {clean(test.does)}."
               for name in state.skipped if (test := machine.tests.get(name))]
    missing = sorted({life.test for life in course.lives.values()
                      if course.test(life.test) is None})
    points += [f"Test {clean(name)} is not described any more: its readings could not be weighed."
               for name in missing]
    return tuple(points)


def _unproved(course: Course, state: JobState) -> list[str]:
    """Failed and missing proofs."""
    points = []
    passed = {p.function for p in state.proofs if p.passed}
    failed = {p.function: p for p in state.proofs if not p.passed}
    for name, function in course.machine.safety.items():
        if name in failed:
            seen = f" ({clean(failed[name].seen)})" if failed[name].seen else ""
            points.append(f"Proof FAILED: {clean(function.says)}{seen}.")
        elif name not in passed:
            points.append(f"Not proved: {clean(function.says)}.")
    if not course.machine.safety:
        points.append("This machine names no safety functions: prove limits, stops and brake "
                      "all the same.")
    return points


def _not_cured(course: Course, state: JobState) -> list[str]:
    """The fault that is still there, or whose cause is not known."""
    complaint = any(t.shows for t in state.told)
    if state.repaired and not state.repaired[-1].cured:
        says = remedy_says(course.machine, state.repaired[-1].remedy)
        return [f"The complaint is still there after: {says}."]
    if state.repaired or not complaint:
        return []
    view = course.view(state)
    if state.closed is not None and state.closed.how == "no fault found":
        return ["The complaint was not explained; it may come back."]
    if view.finding is not None and view.finding.remedies:
        says = "; ".join(remedy_says(course.machine, r) for r in view.finding.remedies)
        return [f"Found, but not put right: {says}."]
    first = [cause_says(course.machine, s.cause) for s in view.suspects[:2]]
    return ["The fault is not found" + (f"; most suspected: {'; '.join(first)}." if first else ".")]


def _cured(state: JobState) -> bool:
    return bool(state.repaired) and state.repaired[-1].cured
