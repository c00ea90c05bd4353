"""The screen `start` and its style."""
