"""Readings written by hand: a range, `OL`, a word, or words with their probabilities."""

import math

from faultkit.errors import QuantityError
from faultkit.loading.draft import Draft
from faultkit.loading.fields import probability_of, range_of
from faultkit.loading.tree import Mapping, Node, Scalar, called
from faultkit.vocabulary.diagnosis import Expected, Meter
from faultkit.vocabulary.near_miss import did_you_mean
from faultkit.vocabulary.quantities import parse_quantity

UNITS: dict[Meter, str] = {
    "V AC": "V", "V DC": "V", "V AC low": "V", "V DC low": "V", "ohm": "ohm", "mA": "A",
    "clamp A": "A", "Mohm": "ohm", "seconds": "s", "mm": "mm", "Hz": "Hz",
}
"""Meter -> unit of its stored readings; a bare number is in the meter's own unit."""

BARE = {"mA": 1e-3, "Mohm": 1e6}


def expected_of(node: Node, meter: Meter, words: tuple[str, ...], draft: Draft) -> Expected | None:
    """Expected reading of a test, or None and a problem."""
    if meter == "words":
        return _words(node, words, draft)
    if not isinstance(node, Scalar):
        draft.report.error(node.origin, "wrong-shape", f"The reading is {called(node)}; this test "
                           f"is read in {meter}.", "Write a range such as 0.3 .. 0.6, or OL.")
        return None
    if node.text == "OL":
        if meter not in {"ohm", "Mohm", "seconds"}:
            draft.report.error(node.origin, "overload", f"A reading in {meter} is never OL.",
                               "Write a range such as 0 .. 2.")
            return None
        return Expected(math.inf, math.inf, {}, node.origin)
    ends = range_of(node, UNITS[meter], draft.report)
    if ends is None:
        return None
    factor = BARE.get(meter, 1.0) if _bare(node.text) else 1.0
    return Expected(ends[0] * factor, ends[1] * factor, {}, node.origin)


def _bare(text: str) -> bool:
    """True if no unit was written."""
    try:
        for part in text.split(".."):
            parse_quantity(part, "mm2")
    except QuantityError:
        return False
    return "mm" not in text


def _words(node: Node, words: tuple[str, ...], draft: Draft) -> Expected | None:
    if isinstance(node, Scalar):
        return Expected(None, None, {node.text: 1.0}, node.origin) \
            if _known(node, words, draft) else None
    if not isinstance(node, Mapping) or not node.entries:
        draft.report.error(node.origin, "wrong-shape", f"The reading is {called(node)}; this test "
                           "is read in words.", "Write a word, or {word: probability, ...}.")
        return None
    known = [_known(key, words, draft) for key, _ in node.entries]
    found = {key.text: probability_of(body, f"probability of {key.text!r}", draft.report, 0.0)
             for key, body in node.entries}
    if not all(known):
        return None
    total = sum(found.values())
    if abs(total - 1.0) > 0.01:
        draft.report.error(node.origin, "probability",
                           f"The probabilities of the words sum to {total:g}, not to 1.",
                           "Correct them.")
        return None
    return Expected(None, None, {word: share / total for word, share in found.items()},
                    node.origin)


def _known(word: Scalar, words: tuple[str, ...], draft: Draft) -> bool:
    if word.text in words:
        return True
    draft.report.error(word.origin, "unknown-word", f"This test never reads {word.text!r}.",
                       did_you_mean(word.text, words))
    return False
