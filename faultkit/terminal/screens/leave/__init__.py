"""The question before leaving."""
