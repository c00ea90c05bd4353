"""The way into a safe condition and back."""
