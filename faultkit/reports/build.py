"""From the events of a job to its report."""

from collections.abc import Sequence
from datetime import UTC, timedelta, tzinfo

from faultkit import __version__
from faultkit.job.events import (
    CalledOut,
    ConditionChanged,
    LoadSecured,
    ReadingTaken,
    Repaired,
)
from faultkit.job.knowledge import Knowledge
from faultkit.reports.beliefs import suspects_over_time
from faultkit.reports.course import Course, NotedLike, Search, first_of, longest_pause, need
from faultkit.reports.findings import finding_parts, repair_parts
from faultkit.reports.handover import (
    bridge_rows,
    closing_facts,
    open_points,
    proof_rows,
    remark_facts,
    verdict_of,
)
from faultkit.reports.readings import reading_rows
from faultkit.reports.records import Complaint, Fact, ProofRow, Report, SafeStep
from faultkit.reports.runs import run_pictures
from faultkit.reports.safe_steps import steps_say
from faultkit.reports.words import Clock, cause_says, clean, lasting, remedy_says, several

PAUSE = timedelta(hours=1)
"""A pause at least this long is told, since it is not working time."""
LOADS = {"none": "no load on the hook", "hanging": "a load hung on the hook",
         "unknown": "not known whether a load hung on the hook"}
SIGNED_BY = ("Work done and proofs made by", "Taken over by")


def build_report(knowledge: Knowledge, job: str, noted: Sequence[NotedLike], *,
                 zone: tzinfo | None = UTC, version: str = "") -> Report:
    """Everything about one job, as text and figures.

    Parameters
    ----------
    knowledge : Knowledge
        Of the machine, as it is described today.
    job : str
        Id of the job.
    noted : sequence
        Its events, in order, each with `.when` (aware) and `.event`.
    zone : tzinfo or None
        Zone in which times are written; None for that of this computer.
    version : str
        Of the machine's description when the job began; empty where it is not known.

    Raises
    ------
    UsageError
        The job has no events, or they do not follow one another.
    """
    need(noted)
    machine = knowledge.machine
    course = Course(knowledge, noted, Clock(zone, noted[0].when))
    proofs = proof_rows(course)
    return Report(
        title=f"Report on {clean(course.state.call.asset) or clean(machine.title)}",
        job=clean(job),
        machine=clean(machine.id),
        verdict=verdict_of(course),
        summary=_summary(course, proofs),
        facts=_facts(course, job),
        complaint=_complaint(course),
        safe=_safe(course),
        readings=reading_rows(course),
        skipped=tuple(clean(machine.tests[t].does if t in machine.tests else t)
                      for t in course.state.skipped),
        suspects=suspects_over_time(course),
        runs=run_pictures(course),
        findings=finding_parts(course),
        repairs=repair_parts(course),
        bridges=bridge_rows(course),
        proofs=proofs,
        open_points=open_points(course),
        remarks=remark_facts(course),
        closings=closing_facts(course),
        times=_times(course),
        basis=_basis(course, version),
        cautions=tuple(clean(c) for c in machine.cautions),
        signatures=SIGNED_BY,
    )


def _facts(course: Course, job: str) -> tuple[Fact, ...]:
    machine, call, clock = course.machine, course.state.call, course.clock
    facts = [
        ("Machine", clean(machine.title)), ("Asset", clean(call.asset)),
        ("Site", clean(call.site)), ("Supply", clean(machine.supply)),
        ("Called by", clean(call.who)),
        ("Begun", clock.date(course.begun)), ("Last entry", clock.date(course.last)),
        ("Times in", clock.name(course.begun)), ("Job", clean(job)),
    ]
    return tuple(Fact(label, text) for label, text in facts if text)


def _complaint(course: Course) -> Complaint:
    machine, state = course.machine, course.state
    call = state.call
    around = []
    if course.of(CalledOut):
        around = [Fact("Worked on or changed last", clean(call.changed) or "nothing told"),
                  Fact("Load", LOADS[call.load]),
                  Fact("People below", "yes" if call.people else "none told")]
        if call.slips:
            around.append(Fact("Brake", "the load sinks, or the brake slips"))
        if call.dead_only:
            around.append(Fact("Way of working", "dead work only: nothing was measured live"))
    symptoms = machine.symptoms
    told = [(t.shows, symptoms.get(t.symptom), t.symptom) for t in state.told]
    return Complaint(
        words=clean(call.complaint),
        shows=tuple(clean(s.says if s else name) for shows, s, name in told if shows),
        works=tuple(clean(s.works if s else f"not: {name}")
                    for shows, s, name in told if not shows),
        around=tuple(around),
    )


def _safe(course: Course) -> tuple[SafeStep, ...]:
    """Load secured, conditions changed: in the order made."""
    made = []
    for one in course.happenings:
        when = course.clock.time(one.when)
        if isinstance(one.event, LoadSecured):
            note = f": {clean(one.event.note)}" if one.event.note else ""
            made.append(SafeStep(when, f"Load {one.event.how}{note}"
                                 if one.event.how != "area closed"
                                 else f"Area below the load closed{note}", ()))
        elif isinstance(one.event, ConditionChanged):
            condition = course.machine.conditions.get(one.event.condition)
            says = clean(condition.says if condition else one.event.condition)
            word = "Made dead" if one.event.dead else "Made live again"
            made.append(SafeStep(when, f"{word}: {says}", steps_say(course, one, one.event)))
    return tuple(made)


def _summary(course: Course, proofs: Sequence[ProofRow]) -> tuple[str, ...]:
    """What somebody reads who reads nothing else."""
    machine, state = course.machine, course.state
    lines = []
    shows = [clean(machine.symptoms[t.symptom].says) for t in state.told
             if t.shows and t.symptom in machine.symptoms]
    words = clean(state.call.complaint)
    if shows or words:
        lines.append("Complaint: " + ("; ".join(shows) or words) + ".")
    for search in course.searches:
        event = search.repair.event if search.repair else None
        if isinstance(event, Repaired):
            cured = "the complaint is gone" if event.cured else "the complaint stayed"
            lines.append(f"{remedy_says(machine, event.remedy)}: {cured}.")
            if event.cured:
                lines.insert(-1, _found(course, search, event.remedy))
    passed = sum(p.result == "passed" for p in proofs)
    lines.append(f"{passed} of {several(len(proofs), 'safety function', 'safety functions')} "
                 f"proved, {several(len(course.lives), 'reading', 'readings')} taken, "
                 f"{lasting(course.last - course.begun)} from the first entry to the last.")
    return tuple(line for line in lines if line)


def _found(course: Course, search: Search, remedy: str) -> str:
    """Name the fault behind a repair that cured, as the readings left it."""
    likely = [s for s in course.view(search.state).suspects if s.remedy == remedy]
    return f"Fault found: {cause_says(course.machine, likely[0].cause)}." if likely else ""


def _times(course: Course) -> tuple[Fact, ...]:
    """When what happened, and how long it all took."""
    date = course.clock.date
    facts = [Fact("Begun", date(course.begun))]
    readings = course.of(ReadingTaken)
    if readings:
        first, last = readings[0][0].when, readings[-1][0].when
        facts += [
            Fact("First reading", f"{date(first)}, after {lasting(first - course.begun)}"),
            Fact("Last reading", f"{date(last)}, {len(readings)} in {lasting(last - first)}")]
    repairs = [one for one in course.happenings if isinstance(one.event, Repaired)]
    facts += [Fact("Repair done", date(one.when)) for one in repairs]
    closed = course.state.closed
    if closed is not None:
        end = first_of(course.happenings[::-1], lambda event: event == closed)
        assert end is not None
        facts.append(Fact("Handed over", date(end.when)))
    facts.append(Fact("Whole job", lasting(course.last - course.begun)))
    pause = longest_pause(course.happenings)
    if pause is not None and pause[1].when - pause[0].when >= PAUSE:
        length = lasting(pause[1].when - pause[0].when)
        facts.append(Fact("Longest pause", f"{length}, from {date(pause[0].when)}"))
    return tuple(facts)


def _basis(course: Course, version: str) -> tuple[Fact, ...]:
    """What the report was worked out with, so that it can be worked out again."""
    machine = course.machine
    facts = [Fact("Program", f"faultkit {__version__}"),
             Fact("Machine description", clean(f"{machine.id}, version {machine.version}")
              + (f", content {machine.digest[:12]}" if machine.digest else ""))]
    if version and version != machine.version:
        facts.append(Fact("Begun with", f"version {clean(version)} of the description: the figures "
                                    "here are worked out anew with today's"))
    learned = course.knowledge.learned
    facts.append(Fact("Weights of the faults", "the author's of the machine description" if (
        learned is None) else "the author's beside "
        + several(round(sum(learned.counts.values())), "confirmed repair", "confirmed repairs")
        + f" of other jobs; the author's count as {learned.strength:.0f}"))
    level = course.view(course.searches[-1].state).supply_level
    if abs(level - 1.0) > 0.02:
        facts.append(Fact("Supply", f"about {level * 100:.0f} % of rated, by the readings"))
    return tuple(facts)

