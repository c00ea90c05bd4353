"""Closing a job."""
