"""All tests, to search and take."""
