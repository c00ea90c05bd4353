"""The machine: cautions, while it is opened."""
