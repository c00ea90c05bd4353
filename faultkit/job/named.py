"""A test by its id, whoever made it: named, generated, or entered freely."""

from faultkit.errors import UsageError
from faultkit.job.probe import is_probe, parse_probe
from faultkit.vocabulary.diagnosis import Test
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.near_miss import did_you_mean


def named_test(machine: Machine, test_id: str) -> Test:
    """Return a test of a machine, or the free entry that the id stands for.

    Raises
    ------
    UsageError
        There is none of this id; with what was probably meant.
    """
    test = machine.tests.get(test_id)
    if test is not None:
        return test
    if is_probe(test_id):
        return parse_probe(test_id, machine)
    raise UsageError(f"This machine has no test {test_id!r}.",
                     did_you_mean(test_id, machine.tests))
