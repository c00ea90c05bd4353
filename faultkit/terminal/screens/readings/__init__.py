"""Readings so far, to change or take back."""
