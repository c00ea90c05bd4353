"""The complaint: what shows and what works."""
