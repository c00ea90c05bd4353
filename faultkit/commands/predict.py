"""`faultkit predict`: what each test would read, healthy or with faults; or what moves when."""

from argparse import ArgumentParser, Namespace
from itertools import islice, product
from math import isinf
from typing import TYPE_CHECKING, Any

from faultkit.commands.output import FINE, SCHEMA_VERSION, number, write_json

if TYPE_CHECKING:
    from faultkit.circuit.circuit import Circuit
    from faultkit.prediction.rows import Row
    from faultkit.vocabulary.diagnosis import Cause, Change, Test

SAYS = "tell what each test would read, healthy or with one or more faults"
SEVERITIES = 16
"""Combinations of severities computed at most."""
SPREADS = 2.0
"""A reading's low and high are this many standard deviations away."""

Severity = tuple["Change", ...]


def add_arguments(parser: ArgumentParser) -> None:
    """Say what can be asked."""
    parser.add_argument("machine", metavar="MACHINE", help="name or path of a machine")
    parser.add_argument("--cause", action="append", default=[], metavar="ID",
                        help="a fault; several are present together; none: healthy")
    parser.add_argument("--test", action="append", default=[], metavar="ID",
                        help="only this test; may be repeated")
    parser.add_argument("--trace", metavar="CONDITION",
                        help="instead: which device moved when on the way into a condition")
    parser.add_argument("--format", choices=("text", "json"), default="text")


def run(arguments: Namespace) -> int:
    """Predict, and write it down."""
    from faultkit.circuit.circuit import Circuit
    from faultkit.commands.opening import known, open_machine

    machine = open_machine(arguments.machine)
    causes = [machine.causes[known("cause", name, list(machine.causes))]
              for name in dict.fromkeys(arguments.cause)]
    tests = [machine.tests[known("test", name, list(machine.tests))]
             for name in dict.fromkeys(arguments.test)] or list(machine.tests.values())
    condition = arguments.trace and known("condition", arguments.trace, list(machine.conditions))
    severities = severities_of(causes)
    circuit = Circuit(machine)
    if condition:
        _write_trace(circuit, causes, severities[0], condition, arguments.format)
        return FINE
    rows = rows_of(circuit, tests, causes, severities)
    data: list[dict[str, Any]] = [
        {"test": test.id, "cause": _together(causes), "reading": reading_data(test, rows, k),
         "schema_version": SCHEMA_VERSION} for k, test in enumerate(tests)]
    if arguments.format == "json":
        write_json(data)
    else:
        for test, one in zip(tests, data, strict=True):
            print(f"{in_words(test, one['reading']):<28}  {test.does}  [{test.id}]")
    return FINE


def severities_of(causes: "list[Cause]") -> "list[Severity]":
    """Every combination of severities of causes that are present together.

    Raises
    ------
    UsageError
        Two of them change the same thing.
    """
    from faultkit.errors import UsageError

    combined = []
    for parts in islice(product(*(cause.variants or ((),) for cause in causes)), SEVERITIES):
        changes = tuple(change for part in parts for change in part)
        touched = [(change.what, change.target) for change in changes]
        if len(causes) > 1 and len(set(touched)) < len(touched):
            names = " and ".join(cause.id for cause in causes)
            raise UsageError(f"{names} cannot be present together.",
                             "They change the same part of the circuit.")
        combined.append(changes)
    return combined


def rows_of(circuit: "Circuit", tests: "list[Test]", causes: "list[Cause]",
            severities: "list[Severity]") -> "list[Row]":
    """One row of readings for each combination of severities."""
    from faultkit.prediction.rows import RowMaker

    expect = {test: value for cause in causes for test, value in cause.expect.items()}
    maker = RowMaker(circuit, tests)
    return [maker.make(changes, expect, {}) for changes in severities]


def reading_data(test: "Test", rows: "list[Row]", column: int) -> dict[str, Any]:
    """A predicted reading as data: a number with its range, or words with probabilities."""
    if test.meter == "words":
        shares = {word: sum(float(row.word_p[column, k]) for row in rows) / len(rows)
                  for k, word in enumerate(test.words)}
        return {word: number(share, 4) for word, share in shares.items() if share > 0}
    from faultkit.vocabulary.quantities.readings import SCALES

    ends = []
    for row in rows:
        value, around = float(row.value[column]), SPREADS * float(row.sigma[column])
        ends.append((value, value, value) if isinf(value) else
                    (value, value - around, value + around))
    data: dict[str, Any] = {
        "value": number(ends[0][0]), "unit": SCALES[test.meter].unit,
        "low": number(min(low for _, low, _ in ends)),
        "high": number(max(high for _, _, high in ends))}
    if len(ends) > 1:
        data["severities"] = [number(value) for value, _, _ in ends]
    return data


def in_words(test: "Test", reading: dict[str, Any]) -> str:
    """A predicted reading as text."""
    from faultkit.vocabulary.diagnosis import Reading
    from faultkit.vocabulary.quantities import show_reading

    if test.meter == "words":
        return " or ".join(f"{word} {share:.0%}" if share < 0.9 else word
                           for word, share in sorted(reading.items(), key=lambda i: -i[1])
                           if share >= 0.02)

    def shown(value: float | str | None) -> str:
        if value is None:
            return "?"
        return show_reading(Reading(float("inf") if value == "OL" else float(value)), test.meter)

    values = reading.get("severities") or [reading["value"]]
    return " or ".join(dict.fromkeys(shown(value) for value in values))


def _together(causes: "list[Cause]") -> str | None:
    return " + ".join(cause.id for cause in causes) or None


def _write_trace(circuit: "Circuit", causes: "list[Cause]", severity: Severity,
                 condition: str, form: str) -> None:
    """Which device moved when."""
    simulation = circuit.simulate(severity)
    events = circuit.trace(simulation, condition)
    if form == "json":
        write_json({
            "schema_version": SCHEMA_VERSION, "machine": circuit.machine.id,
            "cause": _together(causes), "condition": condition,
            "trace": [{"seconds": number(e.time), "device": e.device, "word": e.word}
                      for e in events]})
        return
    for event in events:
        says = circuit.machine.devices[event.device].says if (
            event.device in circuit.machine.devices) else ""
        print(f"{event.time:8.3f} s  {event.device:<8} {event.word:<14} {says}".rstrip())
    if not events:
        print("Nothing moves.")
