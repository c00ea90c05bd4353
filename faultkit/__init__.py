"""faultkit: a fault-finding assistant for the control panel of a hoist."""

__version__ = "0.1.0"
