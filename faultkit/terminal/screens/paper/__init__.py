"""The screen `paper` and its style."""
