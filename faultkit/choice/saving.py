"""One test and then the repair: what a test is worth if it is the last one."""

import numpy as np

from faultkit.choice.costs import context_after_test
from faultkit.choice.repair import stop_value
from faultkit.choice.situation import Situation, repair_minutes
from faultkit.prediction.table import Floats


def one_test_then_repair(now: Situation, p: Floats) -> Floats:
    """(T,) expected minutes when one test is made and then repaired by what it showed.

    Parameters
    ----------
    now : Situation
    p : (A, T, K)
        Probability of each outcome of each test under each row.
    """
    count = len(now.repairs)
    joint = np.zeros((count + 1, *p.shape[1:]))
    np.add.at(joint, now.repair, now.weight[:, np.newaxis, np.newaxis] * p)
    total = joint.sum(axis=0)
    contexts = [context_after_test(now.effort, int(t)) for t in now.forecast.tests]
    known = {context: repair_minutes(now, context) for context in set(contexts)}
    first = np.array([known[c][0] for c in contexts])[:, np.newaxis, :]
    later = np.array([known[c][1] for c in contexts])[:, np.newaxis, :]
    after = stop_value(np.moveaxis(joint[:count], 0, -1), later, first, total)
    return np.asarray(now.minutes + after.sum(axis=1))
