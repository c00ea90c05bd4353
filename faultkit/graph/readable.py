"""What a meter in the hand can tell apart, of what the circuit can compute."""

import numpy as np

from faultkit.prediction.table import Floats, Prediction

INSULATING = 2e6
"""Ohms from which on a multimeter measures the insulation, the damp and the fingers of this day
and not the wiring: the figure is not to be relied on (common practice, no source)."""


def readable(prediction: Prediction) -> Floats:
    """(V, T) expected readings with every resistance that is mere insulation as OL.

    An insulation tester (`Mohm`) is made for such values and keeps them.
    """
    ohms = np.array([test.meter == "ohm" for test in prediction.tests], dtype=np.bool_)
    with np.errstate(invalid="ignore"):
        large = ohms & (prediction.value >= INSULATING)
    return np.where(large, np.inf, prediction.value)
