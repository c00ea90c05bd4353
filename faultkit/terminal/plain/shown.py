"""What the line-by-line mode says about a test, the suspects and a finding."""

from faultkit.job.records import Assessment, Finding, Suggestion
from faultkit.terminal.desk import Desk
from faultkit.terminal.plain.talk import Talk
from faultkit.terminal.wording.asking import choices
from faultkit.terminal.wording.card import card_of
from faultkit.terminal.wording.explain import evidence_page, remedy_page
from faultkit.terminal.wording.finding import headline
from faultkit.terminal.wording.run import Point, run_of
from faultkit.terminal.wording.words import (
    ASCII,
    left_says,
    moved,
    outcome_says,
    suspect_says,
)
from faultkit.vocabulary.diagnosis import Test
from faultkit.vocabulary.says import percent

FEW = 4


def say_test(talk: Talk, desk: Desk, test: Test, suggestion: Suggestion | None) -> None:
    """Tell what to do now, and what each reading would mean."""
    card = card_of(desk.machine, test, suggestion, desk.condition)
    talk.say("")
    talk.tell(f"DO NOW: {card.does}")
    talk.tell(f"State:  {card.state}" + (f" ({card.how})" if card.how else ""),
              "  ")
    talk.tell(f"Where:  {card.place}; {card.time}", "  ")
    probes = f"; RED {card.red}" if card.red else ""
    probes += f", BLACK {card.black}" if card.black else ""
    talk.tell(f"Meter:  {card.meter}{probes}", "  ")
    for caution in card.cautions:
        talk.tell(caution, "  ! ")
    run = _run_line(desk, test)
    if run:
        talk.tell(f"Run:    {run}", "  ")
    if suggestion is not None:
        talk.say("If it reads:")
        for one in sorted(suggestion.outcomes, key=lambda each: -each.probability)[:FEW]:
            talk.tell(f"{one.reading}: {outcome_says(desk.machine, one)}", "  ",
                      f"{percent(one.probability):>5}  ")
    if test.words:
        talk.tell(f"Words: {choices(test)}", "  ")


def say_suspects(talk: Talk, assessment: Assessment) -> None:
    """Tell the likeliest suspects in one line each."""
    talk.say("")
    talk.say(f"{left_says(assessment)}:")
    for one in assessment.suspects[:FEW]:
        talk.tell(suspect_says(one), "  ",
                  f"{percent(one.probability):>5} {moved(one, ASCII):>4}  ")
    if assessment.unknown >= 0.005:
        talk.tell(f"{percent(assessment.unknown):>5}       not described here, or no fault", "  ")
    for doubt in assessment.doubts[:2]:
        talk.tell(doubt.says, "? ")
    for note in assessment.notes[:2]:
        talk.tell(note, "i ")


def say_finding(talk: Talk, desk: Desk, finding: Finding) -> None:
    """Tell the finding with its remedies and the evidence."""
    talk.say("")
    talk.tell(headline(finding))
    talk.page(remedy_page(desk.machine, finding))
    for warning in finding.warnings:
        talk.tell(warning, "! ")
    talk.page(evidence_page(desk.machine, finding))


def _run_line(desk: Desk, test: Test) -> str:
    parts = []
    for stop in run_of(desk.machine, test, desk.state.entries):
        if isinstance(stop, Point):
            read = f"={stop.readings[0]}" if stop.readings else ""
            probe = f" ({stop.probe} {stop.at})" if stop.probe else ""
            parts.append(f"{stop.name}{probe}{read}")
        else:
            parts.append(f"[{stop.device} {stop.mark}]")
    return " ".join(parts)
