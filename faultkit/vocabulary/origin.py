"""Where a record was written: file, line and column, and where its figures come from."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Origin:
    """A position in a knowledge file; lines and columns count from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


GENERATED = Origin("(generated)", 0, 0)
"""Origin of records that faultkit makes itself from its device tables."""

COMMON_PRACTICE = "common practice, no source"
FROM_MEMORY = "from memory"
