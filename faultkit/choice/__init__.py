"""Which test next, and when to stop: fewest expected minutes to a proven repair.

`effort_of` gathers all minutes of a machine, `situation` what is live and open now, and
`decide` ranks the open tests and says whether measuring on saves minutes.
"""

from faultkit.choice.costs import Context, Effort, context_of, effort_of, test_minutes_from
from faultkit.choice.decide import Decision, bits_between, decide
from faultkit.choice.outcomes import BINS, Forecast
from faultkit.choice.repair import repair_order
from faultkit.choice.situation import (
    Situation,
    repair_minutes,
    repair_probability,
    situation,
)

__all__ = [
    "BINS",
    "Context",
    "Decision",
    "Effort",
    "Forecast",
    "Situation",
    "bits_between",
    "context_of",
    "decide",
    "effort_of",
    "repair_minutes",
    "repair_order",
    "repair_probability",
    "situation",
    "test_minutes_from",
]
