"""Free entry."""
