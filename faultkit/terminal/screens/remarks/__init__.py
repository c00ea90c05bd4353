"""Remarks."""
