"""A closed job."""
