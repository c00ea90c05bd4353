"""The call-out."""
