"""Longer explanations, as pages of headed lines: why, who is suspected, what follows a finding."""

from faultkit.job.named import named_test
from faultkit.job.records import Assessment, Evidence, Finding, Suggestion
from faultkit.terminal.wording.card import card_of, time_says
from faultkit.terminal.wording.cautions import cautions_for_remedy
from faultkit.terminal.wording.words import (
    NOTHING_DESCRIBED,
    minutes,
    outcome_says,
    suspect_says,
)
from faultkit.vocabulary.diagnosis import Test
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.says import cause_says, percent

Page = tuple[tuple[str, tuple[str, ...]], ...]
"""Headings, each with its lines."""

BIT = "One bit halves the suspects; nought tells nothing apart."


def why_page(
    machine: Machine, test: Test, suggestion: Suggestion | None, coming_from: str | None,
) -> Page:
    """Why this test: reason, cost, gain, what each reading would mean, all cautions."""
    card = card_of(machine, test, suggestion, coming_from)
    how = f"{card.state}: {card.how}." if card.how else f"{card.state}."
    page: list[tuple[str, tuple[str, ...]]] = [("The test", (card.does, how))]
    if suggestion is not None:
        plan = ("" if suggestion.plan_minutes != suggestion.plan_minutes else
                f"About {minutes(suggestion.plan_minutes)} to a proven repair this way.")
        gain = f"Takes {time_says(suggestion)}, gains {suggestion.gain_bits:.2f} bit. {BIT}"
        page.insert(0, ("Why this one", tuple(filter(None, (suggestion.why, gain, plan)))))
        for one in sorted(suggestion.outcomes, key=lambda each: -each.probability):
            lines = [outcome_says(machine, one)]
            if one.rules_out:
                gone = "; ".join(cause_says(machine, cause) for cause in one.rules_out)
                lines.append(f"Would clear: {gone}")
            page.append((f"If it reads {one.reading} ({percent(one.probability)})", tuple(lines)))
    page.append(("Cautions", card.cautions or ("None beyond the usual.",)))
    return tuple(page)


def suspects_page(machine: Machine, assessment: Assessment) -> Page:
    """All suspects, and the remedies they call for."""
    suspects = tuple(
        f"{percent(one.probability):>5}  {suspect_says(one)}"
        f"  (was {percent(one.before)})" for one in assessment.suspects[:60])
    remedies = tuple(f"{percent(share):>5}  {machine.remedies[name].says}"
                     for name, share in assessment.remedies[:12] if name in machine.remedies)
    page: list[tuple[str, tuple[str, ...]]] = [
        ("Suspects", (*suspects, f"{percent(assessment.unknown):>5}  {NOTHING_DESCRIBED}")),
        ("Remedies they call for", remedies or ("none",)),
    ]
    if abs(assessment.supply_level - 1) > 0.02:
        page.append(("Supply", (f"about {assessment.supply_level * 100:.0f} % of rated",)))
    if assessment.notes:
        page.append(("Worth knowing", assessment.notes))
    return tuple(page)


def remedy_page(machine: Machine, finding: Finding) -> Page:
    """What to do: the finding in a sentence, each remedy with its minutes, parts and cautions."""
    page: list[tuple[str, tuple[str, ...]]] = []
    many = len(finding.remedies) > 1
    if finding.says not in {f"{machine.remedies[name].says}." for name in finding.remedies}:
        page.append(("In short", (finding.says,)))
    for number, name in enumerate(finding.remedies, 1):
        remedy = machine.remedies[name]
        place = machine.places.get(remedy.place)
        where = place.says if place else remedy.place
        state = "machine isolated" if remedy.dead else "no isolation needed"
        times = f"{minutes(remedy.minutes)} of work, {minutes(remedy.proof)} to prove it"
        lines = [f"Where: {where}; {times}, {state}."]
        if remedy.part:
            lines.append(f"Part: {remedy.part}")
        if remedy.tools:
            lines.append(f"Tools: {remedy.tools}")
        lines += [f"! {caution}" for caution in cautions_for_remedy(remedy)]
        page.append((f"{number}. {remedy.says}" if many else remedy.says, tuple(lines)))
    return tuple(page)


def evidence_page(machine: Machine, finding: Finding) -> Page:
    """What speaks for the finding and against it, and what else it could be."""
    speaks_for = sorted((e for e in finding.evidence if e.bits > 0), key=lambda e: -e.bits)
    against = sorted((e for e in finding.evidence if e.bits < 0), key=lambda e: e.bits)
    causes = tuple(cause_says(machine, cause) for cause in finding.causes)
    page: list[tuple[str, tuple[str, ...]]] = [
        ("The fault", causes or ("No described fault fits.",)),
        ("Speaks for it", tuple(_weighed(e) for e in speaks_for) or ("nothing yet",)),
        ("Speaks against it", tuple(_weighed(e) for e in against) or ("nothing",)),
        ("It could also be", tuple(
            f"{percent(one.probability):>5}  {suspect_says(one)}" for one in finding.instead[:6])
            or ("nothing else that fits as well",)),
    ]
    if finding.confirm:
        page.append(("Would confirm it", (named_test(machine, finding.confirm).does,)))
    return tuple(page)


def _weighed(evidence: Evidence) -> str:
    """How heavily a piece of evidence weighs, in words a person has a feel for."""
    size = abs(evidence.bits)
    weight = "hardly" if size < 0.5 else "a little" if size < 1.5 else (
        "clearly" if size < 4 else "strongly")
    return f"{weight:>8}: {evidence.says}"
