"""Probes: one row that stands for many tests, at many pins and in many conditions."""

from collections.abc import Iterator

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields
from faultkit.loading.sections.designations import known_pin, known_pin_text, split_pin
from faultkit.loading.sections.tests import check_dead, check_one_place, meter_of
from faultkit.loading.tree import Scalar, Sequence
from faultkit.vocabulary.diagnosis import Meter, Test
from faultkit.vocabulary.meters import MEASURES, MINUTES

KEYS = ("reference", "at", "pairs", "sees", "through", "meter", "in", "place", "minutes",
        "cautions")

Target = tuple[str, dict[str, object]]
"""Middle part of a test id, and the fields of the test that say where."""


def build_probes(draft: Draft) -> None:
    """Build the tests that the probe rows stand for."""
    for name, _, body in draft.records("probes"):
        fields = Fields(body, f"row of probes {name!r}", KEYS, draft.report)
        meter: Meter | None = "words" if fields.has("sees") and not fields.has("meter") \
            else meter_of(fields, draft)
        conditions = [text for text in fields.texts("in")
                      if draft.known("condition", text.text, text.origin)]
        if not fields.has("in"):
            fields.missing("in")
        if meter is None:
            continue
        for condition in conditions:
            check_dead(meter, condition.text, condition.origin, draft)
        for what, test in _targets(fields, meter, draft):
            for condition in conditions:
                _add(name, what, condition.text, test, fields, meter, draft)


def _targets(fields: Fields, meter: Meter, draft: Draft) -> Iterator[Target]:
    """Part of the id in the middle, and where to measure."""
    ways = [way for way in ("at", "pairs", "sees", "through") if fields.has(way)]
    if len(ways) != 1:
        draft.report.error(fields.origin, "one-way", f"The {fields.what} has {len(ways)} of 'at', "
                           "'pairs', 'sees' and 'through'.", "Write exactly one of them.")
        return
    fits = {"at": meter not in {"mA", "clamp A", "seconds", "mm", "words"},
            "pairs": meter not in {"mA", "clamp A", "seconds", "mm", "words"},
            "sees": meter == "words", "through": meter in {"mA", "clamp A"}}
    if not fits[ways[0]]:
        draft.report.error(fields.at("meter"), "meter-does-not-fit",
                           f"{ways[0]!r} does not go with the meter {meter}.", "Correct the meter.")
        return
    yield from {"at": _from_reference, "pairs": _pairs, "sees": _looks,
                "through": _currents}[ways[0]](fields, draft)


def _from_reference(fields: Fields, draft: Draft) -> Iterator[Target]:
    reference = fields.text("reference", None)
    if not reference or not known_pin_text(reference, fields.at("reference"), draft):
        return
    for pin in _pins(fields, "at", draft):
        if pin.text != reference:
            between = (pin.text, reference)
            if not fields.has("place"):
                check_one_place_at(between, pin, draft)
            yield pin.text, {"between": between}


def check_one_place_at(between: tuple[str, str], pin: Scalar, draft: Draft) -> None:
    """As for a test, but shown at the pin."""
    check_one_place(between, Fields(pin, "pin", ("at",), type(draft.report)()), draft)


def _pairs(fields: Fields, draft: Draft) -> Iterator[Target]:
    node = fields.nodes["pairs"]
    for item in node.items if isinstance(node, Sequence) else (node,):
        pins = item.items if isinstance(item, Sequence) else ()
        first, second = (*pins, None, None)[:2]
        if len(pins) != 2 or not isinstance(first, Scalar) or not isinstance(second, Scalar):
            draft.report.error(item.origin, "two-pins", "A pair is a list of two pins.",
                               "Write [[-X1:14, -Q2:A1], ...].")
            continue
        if known_pin(first, draft) and known_pin(second, draft):
            between = (first.text, second.text)
            if not fields.has("place"):
                check_one_place_at(between, first, draft)
            yield f"{first.text}/{second.text}", {"between": between}


def _looks(fields: Fields, draft: Draft) -> Iterator[Target]:
    for device in fields.texts("sees"):
        if not draft.known("device", device.text, device.origin):
            continue
        words = draft.words_of(device.text)
        if len(words) < 2:
            draft.report.error(device.origin, "nothing-to-see", f"Nothing can be seen at "
                               f"{device.text}.", "Leave it out.")
            continue
        yield device.text, {"sees": device.text, "words": words}


def _currents(fields: Fields, draft: Draft) -> Iterator[Target]:
    for pin in _pins(fields, "through", draft):
        yield pin.text, {"through": pin.text}


def _pins(fields: Fields, key: str, draft: Draft) -> Iterator[Scalar]:
    """Pins of a list; `-X1:*` stands for all pins of a device. Each pin once."""
    seen: set[str] = set()
    for text in fields.texts(key):
        device, pin = split_pin(text.text)
        if pin == "*":
            if not draft.known("device", device, text.origin):
                continue
            found = [Scalar(f"{device}:{name}", True, text.origin)
                     for name in draft.devices[device].pins]
        else:
            found = [text] if known_pin(text, draft) else []
        for full in found:
            if full.text not in seen:
                seen.add(full.text)
                yield full


def _add(name: str, what: str, condition: str, test: dict[str, object], fields: Fields,
         meter: Meter, draft: Draft) -> None:
    between, through, sees = test.get("between"), test.get("through"), test.get("sees")
    first, second = between if isinstance(between, tuple) else (what, "")
    device = split_pin(first)[0]
    full = f"{name}/{what}/{condition}"
    place = fields.text("place", draft.place_of(device))
    if full in draft.tests:
        draft.report.error(fields.origin, "duplicate-id", f"The test {full} exists already.",
                           "Rename the row of probes or the test.")
        return
    words = test.get("words", ())
    draft.tests[full] = Test(
        id=full, does=MEASURES[meter].format(a=first, b=second), meter=meter, condition=condition,
        place=place, minutes=fields.quantity("minutes", "min", MINUTES[meter]),
        between=(first, second) if between else None,
        through=str(through) if through else None, until=None, sees=str(sees) if sees else None,
        words=words if isinstance(words, tuple) else (), healthy=None, needs=(), device=device,
        cautions=tuple(caution.text for caution in fields.texts("cautions")), generated=True,
        origin=fields.origin)
