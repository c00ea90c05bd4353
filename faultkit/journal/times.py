"""Moments as text: UTC, to the microsecond, always as long, so that text order is time order."""

from datetime import UTC, datetime

from faultkit.errors import JournalError


def now() -> datetime:
    """Read the clock."""
    return datetime.now(UTC)


def stamp(when: datetime) -> str:
    """Moment as it is kept."""
    return when.astimezone(UTC).isoformat(timespec="microseconds")


def moment(text: object) -> datetime:
    """Read a moment back.

    Raises
    ------
    JournalError
        It is none, or says no zone.
    """
    try:
        when = datetime.fromisoformat(text) if isinstance(text, str) else None
        if when is not None and when.tzinfo is not None:
            return when.astimezone(UTC)
    except (ValueError, OverflowError):
        pass
    raise JournalError("A moment must be written like 2025-03-01T12:00:00.000000+00:00.")
