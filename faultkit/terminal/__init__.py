"""What the electrician sees: full screens, and the same job line by line.

Nothing is decided here. Keys become events, an assessment becomes text.
"""
