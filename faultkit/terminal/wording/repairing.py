"""What a repair takes, and how it is proved that it helped."""

from faultkit.job.named import named_test
from faultkit.job.records import Finding, JobState
from faultkit.terminal.wording.cautions import ISOLATE, LAND_FIRST, cautions_for_remedy
from faultkit.terminal.wording.words import complaint_says, minutes
from faultkit.vocabulary.diagnosis import Remedy, Test
from faultkit.vocabulary.machine import Machine

TRY = "Try the complaint again: no load, nobody near hook, rope or drum."


def that_found_it(machine: Machine, state: JobState, finding: Finding | None) -> Test | None:
    """The test whose reading spoke most for a finding, to be repeated after the repair.

    None where no reading spoke for it, or where it would be live in a job of dead work only.
    """
    taken = {entry.test for entry in state.entries}
    spoke = [e for e in (finding.evidence if finding else ()) if e.about in taken and e.bits > 0]
    best = max(spoke, key=lambda one: one.bits, default=None)
    if best is None:
        return None
    test = named_test(machine, best.about)
    if state.call.dead_only and not machine.conditions[test.condition].dead:
        return None
    return test


def work_lines(
    machine: Machine, remedy: Remedy, finding: Finding | None, *, dead: bool = False,
) -> tuple[str, ...]:
    """Where, how long, part and tools, with what must be minded.

    On a machine that is dead already nothing is said on how to make it so.
    """
    place = machine.places.get(remedy.place)
    where = place.says if place else remedy.place
    lines = [(f"Where: {where}; {minutes(remedy.minutes)} of work, "
             f"{minutes(remedy.proof)} to prove it")]
    lines += [f"Part: {remedy.part}"] if remedy.part else []
    lines += [f"Tools: {remedy.tools}"] if remedy.tools else []
    lines += [f"! {warning}" for warning in (finding.warnings if finding else ())]
    done = (LAND_FIRST, ISOLATE) if dead else ()
    return (*lines, *(f"! {caution}" for caution in cautions_for_remedy(remedy)
                      if caution not in done))


def complaint_to_try(machine: Machine, state: JobState) -> str:
    """What showed, in words; it should work now."""
    told = tuple((t.symptom, t.shows) for t in state.told if t.shows)
    said = complaint_says(machine, told) if told else ""
    return said or state.call.complaint or "whatever was complained about"
