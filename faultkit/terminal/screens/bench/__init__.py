"""The bench: measure, type, see who is left."""
