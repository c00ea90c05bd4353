"""stdout is data, stderr is narration."""

import json
import math
import sys
from typing import Any

SCHEMA_VERSION = 1
"""Of every JSON that a command writes; raised when a field changes its meaning or goes."""

FINE, FINDINGS, USAGE, INTERRUPTED = 0, 1, 2, 130


def say(text: str) -> None:
    """Narrate, after whatever data was written before."""
    if sys.stdout is not None:
        sys.stdout.flush()
    print(text, file=sys.stderr, flush=True)


def write_json(data: dict[str, Any] | list[Any]) -> None:
    """Write data as JSON, keys in the order given."""
    print(json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False))


def number(value: float, digits: int = 6) -> float | str | None:
    """A float for JSON: `OL` for infinity, null for nan, rounded to some digits."""
    if math.isnan(value):
        return None
    if math.isinf(value):
        return "OL" if value > 0 else None
    return float(f"{value:.{digits}g}")
