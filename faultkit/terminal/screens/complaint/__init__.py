"""The screen `complaint` and its style."""
