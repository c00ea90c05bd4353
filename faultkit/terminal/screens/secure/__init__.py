"""The load comes first."""
