"""How a reading is asked for and what was understood, the same on every front."""

import math

from faultkit.job.records import Outcome, Suggestion
from faultkit.vocabulary.diagnosis import Reading, Test
from faultkit.vocabulary.quantities import parse_reading


def understood(test: Test, text: str) -> Reading:
    """Reading that a typed text stands for; a figure chooses among the words of a test.

    Raises
    ------
    ReadingError
        With a question or a way out.
    """
    typed = text.strip()
    if test.words and typed.isdecimal() and 1 <= int(typed) <= len(test.words):
        return Reading(None, test.words[int(typed) - 1])
    return parse_reading(typed, test.meter, test.words)


def fits(outcome: Outcome, reading: Reading) -> bool:
    """Whether a reading falls into an outcome."""
    if reading.value is None:
        return outcome.reading == reading.word
    if math.isnan(outcome.low):
        return False
    return outcome.low <= reading.value <= outcome.high


def questioned(suggestion: Suggestion | None, reading: Reading, shown: str) -> str:
    """A question about a reading that nothing described would give; empty for any other.

    A slip of the range or of a digit is caught here, before it is believed.
    """
    if suggestion is None or not suggestion.outcomes or reading.value is None or any(
            fits(one, reading) for one in suggestion.outcomes):
        return ""
    return f"{shown} is none of what may be read here. Look again; Enter once more takes it."


def choices(test: Test) -> str:
    """The words of a test as numbered choices; empty for numbers."""
    return "   ".join(f"{number} {word}" for number, word in enumerate(test.words, 1))
