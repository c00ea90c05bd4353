"""The screen `finding` and its style."""
