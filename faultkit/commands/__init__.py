"""Arguments in, an exit code out; the only room that joins loading to the rest."""
