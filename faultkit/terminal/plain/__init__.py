"""The same job line by line: numbered questions, no cursor tricks, nothing to draw."""
