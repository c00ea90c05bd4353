"""The small hoist of the loader's tests, with what a job asks of a machine added."""

from dataclasses import replace
from functools import cache

from faultkit.vocabulary.machine import Machine
from tests.loading import helper

MORE = """\
conditions:
  isolated-unlinked: {says: Isolated and the link out, after: isolated, set: {-X5: out}}
  isolated-up: {says: Isolated and UP held, after: isolated, hold: [-S2]}
devices:
  -X5: {kind: selector, says: Earthing link, positions: out in, rests: in,
        contacts: {1-2: main}}
tests:
  coil-ohm: {does: Measure the coil, meter: ohm, between: [-Q2:A1, -Q2:A2], in: isolated}
safety:
  stop: {says: Press the emergency stop, expect: the hoist stops}
  brake: {says: Lift the test load, expect: it stays}
"""


@cache
def small_hoist() -> Machine:
    """One machine for all tests of a run."""
    return helper.machine(MORE)


def with_points(machine: Machine) -> Machine:
    """The same with points to prove dead and a charge to wait for."""
    isolated = replace(machine.conditions["isolated"], prove_dead=("-Q2:1", "-Q2:3"),
                       discharge=5.0, discharge_at=("-Q2:A1", "-Q2:A2"))
    return replace(machine, conditions={**machine.conditions, "isolated": isolated})
