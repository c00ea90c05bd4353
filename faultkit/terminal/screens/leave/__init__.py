"""The screen `leave` and its style."""
