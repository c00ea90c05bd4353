"""Designations and pins: which signs they may have, and which ones only look alike."""

import re
import unicodedata

from faultkit.loading.draft import Draft
from faultkit.loading.tree import Scalar
from faultkit.vocabulary.near_miss import did_you_mean
from faultkit.vocabulary.origin import Origin

_DESIGNATION = re.compile(r"[-=+]?[A-Za-z0-9][A-Za-z0-9_.=+-]*")
_PIN = re.compile(r"[-+]?[A-Za-z0-9][A-Za-z0-9_.+]*")
_WIRE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.+-]*")
_ALIKE = dict(zip(map(ord, "АВЕКМНОРСТУХІЅЈаеорсухіѕјΑΒΕΖΗΙΚΜΝΟΡΤΥΧο−–—‐‑‒"),
                  "ABEKMHOPCTYXISJaeopcyxisjABEZHIKMNOPTYXo------", strict=True))
"""Cyrillic and Greek letters and dashes -> the Latin sign that they look like."""


def good_device(key: Scalar, draft: Draft) -> bool:
    """Check a designation such as `-Q1` or `=A1+B2-Q1`."""
    return _good(key.text, key.origin, _DESIGNATION, "designation",
                 "Write it as on the diagram, such as -Q1: letters, digits, - = + . _", draft)


def good_pin(name: str, origin: Origin, draft: Draft) -> bool:
    """Check a pin name such as `A1` or `14`."""
    return _good(name, origin, _PIN, "pin name", "Use letters and digits, such as A1 or 14.", draft)


def good_wire(key: Scalar, draft: Draft) -> bool:
    """Check a wire number such as `14` or `N110`."""
    return _good(key.text, key.origin, _WIRE, "wire number",
                 "Use letters and digits, such as 14 or N110.", draft)


def _good(text: str, origin: Origin, pattern: re.Pattern[str], what: str, way_out: str,
          draft: Draft) -> bool:
    if pattern.fullmatch(text):
        return True
    odd = next((sign for sign in text if not sign.isascii()), "")
    plain = text.translate(_ALIKE)
    if odd and plain != text and pattern.fullmatch(plain):
        draft.report.error(origin, "look-alike",
                           f"{text!r} holds {unicodedata.name(odd, 'an odd sign')} "
                           f"(U+{ord(odd):04X}), which only looks like {odd.translate(_ALIKE)!r}.",
                           f"Type it again: {plain}")
    else:
        draft.report.error(origin, "designation", f"{text!r} is no {what}.", way_out)
    return False


def split_pin(text: str) -> tuple[str, str]:
    """Device and pin name of a full pin `-X1:14`; an empty pin where there is no colon."""
    device, _, pin = text.partition(":")
    return device, pin


def known_pin(full: Scalar, draft: Draft) -> bool:
    """Check a full pin such as `-X1:14` against the devices."""
    return known_pin_text(full.text, full.origin, draft)


def known_pin_text(text: str, origin: Origin, draft: Draft) -> bool:
    """Check the text of a full pin; `origin` is where it is written."""
    device, pin = split_pin(text)
    if not pin:
        draft.report.error(origin, "pin-form", f"{text!r} is no pin.",
                           "Write device and pin with a colon, such as -X1:14.")
        return False
    if not draft.known("device", device, origin):
        return False
    pins = draft.devices[device].pins
    if pin in pins:
        return True
    draft.report.error(origin, "unknown-pin", f"{device} has no pin {pin!r}.",
                       did_you_mean(pin, pins) or f"Add it under 'pins:' of {device}.")
    return False
