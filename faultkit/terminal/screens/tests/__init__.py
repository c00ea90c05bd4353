"""The screen `tests` and its style."""
