"""`faultkit next`: given the complaint and readings, who is suspected and what to measure next."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING, Any

from faultkit.commands.output import FINE, SCHEMA_VERSION, number, write_json

if TYPE_CHECKING:
    from faultkit.job.events import Event
    from faultkit.job.records import Assessment, Finding, JobState, Suggestion
    from faultkit.vocabulary.machine import Machine

SAYS = "rank the suspects and the next tests for a complaint and readings"
SHOWN = 8
"""Suspects and tests shown as text."""


def add_arguments(parser: ArgumentParser) -> None:
    """Say what can be asked."""
    parser.add_argument("machine", metavar="MACHINE", help="name or path of a machine")
    parser.add_argument("--symptom", action="append", default=[], metavar="ID",
                        help="a symptom that shows; may be repeated")
    parser.add_argument("--works", action="append", default=[], metavar="ID",
                        help="a symptom that does not show: this works; may be repeated")
    parser.add_argument("--reading", action="append", default=[], metavar="TEST=VALUE",
                        help="a reading taken, e.g. up-coil=110V, in the order taken; also between "
                             "any two points: 'probe:-X1:22|-X1:N|V AC|up-slow=0.3V'")
    parser.add_argument("--skip", action="append", default=[], metavar="TEST",
                        help="a test that cannot be done; may be repeated")
    parser.add_argument("--format", choices=("text", "json"), default="text")


def run(arguments: Namespace) -> int:
    """Assess once, and write it down."""
    from faultkit.commands.opening import open_engine
    from faultkit.job.records import JobState

    engine = open_engine(arguments.machine)
    state = JobState(machine=engine.machine.id)
    for event in events_of(arguments, engine.machine):
        state = engine.step(state, event)
    assessment = engine.assess(state)
    if arguments.format == "json":
        write_json(as_data(engine.machine, state, assessment))
    else:
        print("\n".join(as_text(engine.machine, assessment)))
    return FINE


def events_of(arguments: Namespace, machine: "Machine") -> "list[Event]":
    """Turn arguments into events.

    Raises
    ------
    FaultkitError
        An unknown symptom or test, or a reading that cannot be understood.
    """
    from faultkit.commands.opening import known
    from faultkit.errors import UsageError
    from faultkit.job.events import ReadingTaken, SymptomTold, TestSkipped
    from faultkit.job.named import named_test
    from faultkit.terminal.wording.asking import understood

    both = [name for name in arguments.symptom if name in arguments.works]
    if both:
        raise UsageError(f"{both[0]!r} is given with --symptom and with --works.",
                         "Say one of the two.")
    symptoms, tests = list(machine.symptoms), list(machine.tests)
    events: list[Event] = []
    for name, shows in (*((s, True) for s in arguments.symptom),
                        *((s, False) for s in arguments.works)):
        events.append(SymptomTold(known("symptom", name, symptoms), shows))
    for text in arguments.reading:
        name, sign, value = text.rpartition("=")
        if not sign:
            raise UsageError(f"--reading wants TEST=VALUE, not {text!r}.",
                             "For example: up-coil=110V")
        test = named_test(machine, name)
        events.append(ReadingTaken(test.id, understood(test, value)))
    events += [TestSkipped(known("test", name, tests)) for name in arguments.skip]
    return events


def as_data(machine: "Machine", state: "JobState", found: "Assessment") -> dict[str, Any]:
    """Everything as JSON data, keys in a stable order."""
    return {
        "schema_version": SCHEMA_VERSION,
        "machine": machine.id,
        "symptoms": [{"id": t.symptom, "shows": t.shows} for t in state.told],
        "readings": [{"number": e.number, "test": e.test,
                      "value": None if e.reading.value is None else number(e.reading.value),
                      "word": e.reading.word} for e in state.entries],
        "causes": [{"id": s.cause, "device": s.device, "says": s.says,
                    "probability": number(s.probability), "remedy": s.remedy}
                   for s in found.suspects],
        "unknown": number(found.unknown),
        "next": [_test_data(machine, one) for one in found.next],
        "finding": _finding_data(found.finding) if found.finding else None,
        "doubts": [{"number": d.number, "test": d.test, "says": d.says, "wrong": number(d.wrong)}
                   for d in found.doubts],
        "remedies": [{"id": name, "probability": number(share)} for name, share in found.remedies],
        "supply_level": number(found.supply_level),
        "notes": list(found.notes),
    }


def _test_data(machine: "Machine", one: "Suggestion") -> dict[str, Any]:
    from faultkit.job.named import named_test

    test = named_test(machine, one.test)
    return {
        "test": one.test, "says": test.does, "condition": test.condition, "place": test.place,
        "meter": test.meter, "between": list(test.between) if test.between else None,
        "minutes": number(one.minutes), "gain_bits": number(one.gain_bits),
        "outcomes": [{"reading": o.reading, "probability": number(o.probability),
                      "low": number(o.low), "high": number(o.high), "keeps": o.keeps,
                      "points_to": list(o.points_to), "rules_out": list(o.rules_out)}
                     for o in one.outcomes],
        "plan_minutes": number(one.plan_minutes), "why": one.why,
    }


def _finding_data(finding: "Finding") -> dict[str, Any]:
    return {
        "kind": finding.kind, "remedies": list(finding.remedies),
        "probability": number(finding.probability), "causes": list(finding.causes),
        "evidence": [{"about": e.about, "says": e.says, "bits": number(e.bits)}
                     for e in finding.evidence],
        "instead": [{"id": s.cause, "device": s.device, "says": s.says,
                     "probability": number(s.probability), "remedy": s.remedy}
                    for s in finding.instead],
        "confirm": finding.confirm or None, "says": finding.says,
        "warnings": list(finding.warnings),
    }


def as_text(machine: "Machine", found: "Assessment") -> list[str]:
    """The same in short, for eyes."""
    from faultkit.job.named import named_test
    from faultkit.terminal.wording.words import (
        NOTHING_DESCRIBED,
        minutes,
        suspect_says,
        test_says,
    )
    from faultkit.vocabulary.says import percent

    rows = ["Suspects:"]
    rows += [f"  {percent(s.probability):>5}  {suspect_says(s)}" for s in found.suspects[:SHOWN]]
    rows.append(f"  {percent(found.unknown):>5}  {NOTHING_DESCRIBED}")
    if found.finding is not None:
        rows += ["Finding:", f"  {found.finding.says}",
                 *(f"  ! {warning}" for warning in found.finding.warnings)]
    rows.append("Next tests:" if found.next else "No test is left that tells them apart.")
    for one in found.next[:SHOWN]:
        test = named_test(machine, one.test)
        rows.append(f"  {minutes(one.minutes):>8}  {one.gain_bits:.2f} bit  "
                    f"{test_says(machine, test)}  {one.test}")
    rows += [f"In doubt: reading {d.number}: {d.says}" for d in found.doubts]
    return [*rows, *found.notes]
