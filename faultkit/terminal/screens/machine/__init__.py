"""The screen `machine` and its style."""
