"""A page to read."""
