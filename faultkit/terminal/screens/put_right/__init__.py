"""Putting it right."""
