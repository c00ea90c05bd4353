"""The screen `bench` and its style."""
