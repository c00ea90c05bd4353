"""The choice of a machine."""
