"""The finding in one line, and the answers that can be given to it."""

from faultkit.job.records import Finding
from faultkit.terminal.wording.words import percent
from faultkit.vocabulary.machine import Machine

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
    """Digit -> (answer, words). Answers: `cured:ID`, `not:ID`, `test:ID`, `back`."""
    found: list[tuple[str, str]] = []
    several = len(finding.remedies) > 1
    for number, remedy in enumerate(finding.remedies[:MOST], 1):
        what = f"{number}. done" if several else "Done"
        found.append((f"cured:{remedy}", f"{what} and CURED: the complaint is gone"))
        found.append((f"not:{remedy}", f"{what}, NOT cured: the complaint is still there"))
    if finding.confirm:
        does = machine.tests[finding.confirm].does
        found.append((f"test:{finding.confirm}", f"First confirm it: {does}"))
    given = {str(digit): answer for digit, answer in enumerate(found, 1)}
    return {**given, "0": ("back", "Measure on")}
