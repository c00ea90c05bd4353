"""Which test next, or none: fewest expected minutes to a proven repair."""

from dataclasses import dataclass

import numpy as np

from faultkit.choice.gain import gain_table, gains
from faultkit.choice.saving import one_test_then_repair, stop_now
from faultkit.choice.situation import Situation
from faultkit.prediction.table import Floats, Ints


@dataclass(frozen=True, slots=True, eq=False)
class Decision:
    """All open tests weighed, best first, against repairing now."""

    order: Ints
    """(T,) columns of the forecast, best first."""
    gain: Floats
    """(T,) bits about the remedy, by column."""
    plan: Floats
    """(T,) expected minutes when this test comes next, by column; nan if not worked out."""
    stop: float
    """Expected minutes when nothing more is measured."""
    measure: bool
    """Whether the best test saves minutes."""


def decide(now: Situation) -> Decision:
    """Weigh all open tests: by gain per minute, stopping when no test saves minutes."""
    noisy = now.forecast.noisy()
    stop = stop_now(now)
    if not now.forecast.tests.size:
        nothing = np.zeros(0)
        return Decision(np.zeros(0, dtype=np.int64), nothing, nothing, stop, measure=False)
    gain = gains(gain_table(noisy, now.repair), now.weight)
    after = one_test_then_repair(now, noisy)
    rate = gain / now.minutes
    order = np.argsort(-rate, kind="stable")
    return Decision(order, gain, after, stop, measure=bool(after.min() < stop))
