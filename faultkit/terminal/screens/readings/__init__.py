"""The screen `readings` and its style."""
