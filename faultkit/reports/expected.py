"""What a healthy machine would read, and whether a reading is like that."""

from dataclasses import dataclass
from math import hypot, inf, isinf, isnan
from typing import Literal

from faultkit.belief.supply import SPREAD
from faultkit.job.knowledge import Knowledge
from faultkit.prediction.table import APART
from faultkit.reports.words import clean
from faultkit.vocabulary.diagnosis import Reading, Test
from faultkit.vocabulary.quantities import show_reading

LIKE_HEALTHY = 0.2
"""A word that a healthy machine shows at least this often is nothing unusual."""


@dataclass(frozen=True, slots=True)
class Healthy:
    """What one test reads on the healthy machine."""

    says: str
    span: str
    low: float
    """Least healthy number; nan for words."""
    high: float
    words: frozenset[str]


NOTHING_KNOWN = Healthy("", "", -inf, inf, frozenset())


def healthy_of(knowledge: Knowledge, test: Test) -> Healthy:
    """The healthy reading with its range: meter, components and a supply 4 % around rated.

    The author's range where one is written, otherwise `APART` standard deviations around what
    the circuit gives: beyond them a reading counts as another one.
    """
    if test.healthy is not None and test.healthy.low is not None:
        return _written(test, test.healthy.low, test.healthy.high)
    prediction = knowledge.prediction
    column = next((k for k, one in enumerate(prediction.tests) if one.id == test.id), None)
    if column is None:
        return NOTHING_KNOWN
    words = prediction.words[column]
    if words:
        usual = [w for w, p in zip(words, prediction.word_p[-1, column], strict=False)
                 if p >= LIKE_HEALTHY]
        return Healthy(clean(" or ".join(usual)), "", -inf, inf, frozenset(usual))
    value = float(prediction.value[-1, column])
    if isnan(value):
        return NOTHING_KNOWN
    if isinf(value):
        return Healthy("OL", "", inf, inf, frozenset())
    around = APART * hypot(float(prediction.sigma[-1, column]),
                           SPREAD * float(prediction.level[-1, column]))
    low, high = value - around, value + around
    if not test.meter.startswith("V DC"):
        low = max(low, 0.0)
    if low <= 0.0 <= value and value < 0.1 * high:
        return Healthy(_text(test, 0.0, 3), f"below {_text(test, high, 2)}", low, high,
                       frozenset())
    return Healthy(_text(test, value, 3), _between(test, low, high), low, high, frozenset())


def fits(healthy: Healthy, reading: Reading) -> Literal["as healthy", "differs", ""]:
    """Whether a reading lies in the healthy range; empty where that is not known."""
    if healthy == NOTHING_KNOWN or (reading.value is None) != bool(healthy.words):
        return ""
    if reading.value is None:
        return "as healthy" if reading.word in healthy.words else "differs"
    inside = healthy.low <= reading.value <= healthy.high
    return "as healthy" if inside else "differs"


def _written(test: Test, low: float, high: float | None) -> Healthy:
    top = inf if high is None else high
    if isinf(low):
        return Healthy("OL", "", inf, inf, frozenset())
    middle = _text(test, (low + top) / 2, 3)
    return Healthy(middle, _between(test, low, top), low, top, frozenset())


def _between(test: Test, low: float, high: float) -> str:
    """Both ends with one unit where they share it."""
    first, last = _text(test, low, 2 if low < 10 else 3), _text(test, high, 2 if high < 10 else 3)
    number, _, unit = first.partition(" ")
    return f"{number} to {last}" if last.endswith(f" {unit}") else f"{first} to {last}"


def _text(test: Test, value: float, digits: int) -> str:
    return show_reading(Reading(float(f"{value:.{digits}g}") if not isinf(value) else value),
                        test.meter)
