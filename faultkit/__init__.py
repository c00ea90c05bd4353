"""faultkit: a fault-finding assistant for the control panel of a hoist."""

import os

__version__ = "0.1.0"

# The matrices are small: several BLAS threads only wait for each other, and on a busy machine
# they make a solve fifty times slower. This must stand before numpy is first imported.
for _name in ("OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(_name, "1")
