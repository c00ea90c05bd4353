"""The finding in one line, and the answers that can be given to it."""

from faultkit.job.named import named_test
from faultkit.job.records import Finding
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.says import percent

MOST = 3
"""Remedies offered at once."""


def headline(finding: Finding) -> str:
    """The kind of finding and how sure it is."""
    if finding.kind == "none":
        return "FINDING: no described fault fits"
    if finding.kind == "group":
        return f"FINDING: try these in order ({percent(finding.probability)} sure of the group)"
    return f"FINDING: one remedy is left ({percent(finding.probability)} sure)"


def answers(machine: Machine, finding: Finding) -> dict[str, tuple[str, str]]:
    """Digit -> (answer, words). Answers: `do:ID`, `test:ID`, `works:`, `back`."""
    found: list[tuple[str, str]] = [
        (f"do:{name}", f"Put it right: {machine.remedies[name].says}")
        for name in finding.remedies[:MOST]]
    if finding.confirm:
        does = named_test(machine, finding.confirm).does
        found.append((f"test:{finding.confirm}", f"First confirm it: {does}"))
    if finding.kind == "none":
        found.append(("works:", "It works now, or nothing is left to find"))
    given = {str(digit): answer for digit, answer in enumerate(found, 1)}
    return {**given, "0": ("back", "Measure on")}
