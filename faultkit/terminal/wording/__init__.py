"""Plain words for what an assessment holds, the same on every front."""
