"""A test by its id."""

from faultkit.errors import UsageError
from faultkit.vocabulary.diagnosis import Test
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.near_miss import did_you_mean


def test_of(machine: Machine, test_id: str) -> Test:
    """Return a test of a machine.

    Raises
    ------
    UsageError
        There is none of this id; with what was probably meant.
    """
    test = machine.tests.get(test_id)
    if test is None:
        raise UsageError(f"This machine has no test {test_id!r}.",
                         did_you_mean(test_id, machine.tests))
    return test


test_of.__test__ = False  # type: ignore[attr-defined]  # not one of pytest's
