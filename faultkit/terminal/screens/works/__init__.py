"""It works now."""
