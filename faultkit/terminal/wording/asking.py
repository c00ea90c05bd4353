"""How a reading is asked for and what was understood, the same on every front."""

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


def choices(test: Test) -> str:
    """The words of a test as numbered choices; empty for numbers."""
    return "   ".join(f"{number} {word}" for number, word in enumerate(test.words, 1))
