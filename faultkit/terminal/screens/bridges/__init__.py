"""Bridges that were found."""
