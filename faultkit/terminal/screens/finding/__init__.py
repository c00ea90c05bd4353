"""The finding: remedy, evidence, cured or not."""
