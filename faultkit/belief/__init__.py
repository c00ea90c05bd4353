"""How probable every cause is, after what was told and measured. Pure functions.

    space   = hypotheses(prediction, graph)          what may be wrong, before anything is known
    belief  = weigh(space, told, taken)              what may be wrong, now

Rows are variants of causes (and of pairs of causes), the last row is "something that is not
described, or nothing". The supply voltage is one unknown that all voltages share.
"""

from faultkit.belief.hypotheses import Hypotheses, Suspected, after_repairs, hypotheses
from faultkit.belief.learned import Learned, learned_from, weights
from faultkit.belief.likelihood import steady_fit
from faultkit.belief.pairs import fits_badly, with_pairs
from faultkit.belief.posterior import Belief, Taken, Told, support, weigh

__all__ = [
    "Belief",
    "Hypotheses",
    "Learned",
    "Suspected",
    "Taken",
    "Told",
    "after_repairs",
    "fits_badly",
    "hypotheses",
    "learned_from",
    "steady_fit",
    "support",
    "weigh",
    "weights",
    "with_pairs",
]
