"""Handing back."""
