"""Figures, times and strangers' words as text that is safe to write into any form."""

import re
import unicodedata
from datetime import datetime, timedelta, tzinfo

from faultkit.vocabulary import says
from faultkit.vocabulary.diagnosis import Reading, Test
from faultkit.vocabulary.machine import Machine
from faultkit.vocabulary.quantities import show_reading

STRANGE = "\N{REPLACEMENT CHARACTER}"
TURNING = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Signs that turn the direction of writing: what follows them would read otherwise than it is."""
UNSEEN = frozenset("\u00ad\u200b\u2060\ufeff")
LONGEST = 4000
"""Characters of one text kept; nobody signs a novel."""


def clean(text: str) -> str:
    """A stranger's text on one line: what steers a terminal, a printer or a reader is replaced."""
    signs = []
    for sign in text[:LONGEST]:
        if sign in "\n\r\t\v\f\x85\u2028\u2029":
            signs.append(" ")
        elif sign in UNSEEN:
            continue
        elif sign in TURNING or unicodedata.category(sign) in ("Cc", "Cs", "Co", "Cn"):
            signs.append(STRANGE)
        else:
            signs.append(sign)
    kept = re.sub(r"\s+", " ", "".join(signs)).strip()
    return f"{kept} ..." if len(text) > LONGEST else kept


def lasting(span: timedelta) -> str:
    """How long something took: `12 min`, `2 h 05 min`, `3 d 4 h`."""
    whole = round(span.total_seconds() / 60)
    if whole < 1:
        return "under 1 min"
    hours, minutes = divmod(whole, 60)
    days, hours = divmod(hours, 24)
    if days:
        return f"{days} d {hours} h"
    return f"{hours} h {minutes:02d} min" if hours else f"{minutes} min"


class Clock:
    """Writes times in one zone, with the date where the day is not that of the beginning.

    Parameters
    ----------
    zone : tzinfo or None
        Zone of all times; None for that of this computer.
    begun : datetime
        When the job began.
    """

    def __init__(self, zone: tzinfo | None, begun: datetime) -> None:
        self._zone = zone
        self._day = begun.astimezone(zone).date()

    def date(self, when: datetime) -> str:
        """Date and time, `2026-11-25 10:12`."""
        return when.astimezone(self._zone).strftime("%Y-%m-%d %H:%M")

    def time(self, when: datetime) -> str:
        """Time, with the date on another day."""
        local = when.astimezone(self._zone)
        return local.strftime("%H:%M" if local.date() == self._day else "%Y-%m-%d %H:%M")

    def name(self, when: datetime) -> str:
        """Zone of the times, `UTC+01:00`."""
        offset = when.astimezone(self._zone).strftime("%z")
        return "UTC" if offset == "+0000" else f"UTC{offset[:3]}:{offset[3:5]}"


def reading_says(test: Test | None, reading: Reading) -> str:
    """A reading as it stood on the meter; without a unit where its test is described no more."""
    if test is None or (reading.value is not None and test.meter == "words"):
        return clean(str(reading))
    return clean(show_reading(reading, test.meter))


def cause_says(machine: Machine, cause: str) -> str:
    """One cause in words, or a pair of them, fit for paper."""
    return clean(says.cause_says(machine, cause))


def remedy_says(machine: Machine, remedy: str) -> str:
    """A remedy in words; its id where it is not described any more."""
    known = machine.remedies.get(remedy)
    return clean(known.says if known else remedy)


def sentence(text: str) -> str:
    """With a full stop at its end."""
    return text if not text or text[-1] in ".?!" else f"{text}."


def several(number: int, one: str, many: str) -> str:
    """`1 reading`, `3 readings`."""
    return f"{number} {one if number == 1 else many}"
