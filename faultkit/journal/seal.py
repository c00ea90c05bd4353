"""Check sums of rows."""

import hashlib


def seal_of(*values: object) -> str:
    """Check sum, so that a flipped bit is found: 64 bits of the SHA-256 of the values."""
    text = "|".join(map(str, values))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:16]
