"""The supply level: supply voltage over rated, one unknown that all readings share.

It is carried as a grid beside the rows, so once the supply is measured every later voltage is
judged against what the supply really is.
"""

import numpy as np

from faultkit.prediction.table import Floats

STEP = 0.01
"""Distance of two grid points."""
GRID: Floats = np.linspace(0.80, 1.20, 41)
"""(G,) levels considered; the supply of a machine may vary by 10 % (IEC 60204-1, 4.3.2)."""
SPREAD = 0.04
"""Standard deviation of the level before it is measured (common practice, no source)."""


def log_prior() -> Floats:
    """(G,) log probability of each level before anything is measured."""
    weight = -0.5 * ((GRID - 1.0) / SPREAD) ** 2
    return np.asarray(weight - np.log(np.exp(weight).sum()))


def smoothed(sigma: Floats, level: Floats) -> Floats:
    """Spread of a reading on this grid, any shape.

    A spread far below the voltage of one grid step would let every true level fall between
    two grid points; half a step is added in quadrature, which keeps the sum over the grid
    within 1 % of the integral.
    """
    return np.asarray(np.hypot(sigma, 0.5 * STEP * level))
