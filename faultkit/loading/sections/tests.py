"""Tests: one thing to do that gives a reading, computed or written by hand."""

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields, choice_of
from faultkit.loading.sections.designations import known_pin, split_pin
from faultkit.loading.sections.expected import expected_of
from faultkit.loading.tree import Scalar
from faultkit.vocabulary.diagnosis import Meter, Test
from faultkit.vocabulary.meters import MINUTES
from faultkit.vocabulary.near_miss import did_you_mean
from faultkit.vocabulary.origin import Origin

VOLTS = ("V AC", "V DC", "V AC low", "V DC low")
WAYS = {"between": (*VOLTS, "ohm", "Mohm", "Hz"), "through": ("mA", "clamp A"),
        "until": ("seconds",), "sees": ("words",)}
"""Field that makes a test computed -> meters that it goes with."""

KEYS = ("does", "meter", "in", *WAYS, "words", "healthy", "place", "minutes", "needs", "device",
        "cautions")


def build_tests(draft: Draft) -> None:
    """Build all tests, then check what must come first."""
    rows = {}
    for name, key, body in draft.records("tests"):
        rows[name] = Fields(body, f"test {name!r}", KEYS, draft.report)
        test = _test(key, rows[name], draft)
        if test is not None:
            draft.tests[name] = test
    _check_needs(rows, draft)


def meter_of(fields: Fields, draft: Draft) -> Meter | None:
    """Meter of a test or a row of probes."""
    text = fields.text("meter", None)
    for meter in MINUTES:
        if text == meter:
            return meter
    if text:
        choice_of(text, fields.at("meter"), MINUTES, "a meter", draft.report)
    return None


def _test(key: Scalar, fields: Fields, draft: Draft) -> Test | None:
    meter = meter_of(fields, draft)
    does = fields.text("does", None)
    condition = fields.text("in", None)
    if condition:
        draft.known("condition", condition, fields.at("in"))
    if meter is None:
        return None
    way = _way(fields, meter, draft)
    between = _between(fields, draft)
    through = _through(fields, draft)
    until = _until(fields, draft)
    sees = fields.text("sees") or None
    if sees is not None and not draft.known("device", sees, fields.at("sees")):
        return None
    words = draft.words_of(sees) if sees else tuple(word.text for word in fields.texts("words"))
    _check_words(fields, meter, words, way, draft)
    healthy = expected_of(fields.nodes["healthy"], meter, words, draft) \
        if fields.has("healthy") else None
    device = _device(fields, between, through, until, sees, draft)
    place = fields.text("place", draft.place_of(device))
    if fields.has("place"):
        draft.known("place", place, fields.at("place"))
    elif between is not None:
        check_one_place(between, fields, draft)
    check_dead(meter, condition, fields.at("in"), draft)
    return Test(
        id=key.text, does=does, meter=meter, condition=condition, place=place,
        minutes=fields.quantity("minutes", "min", MINUTES[meter]), between=between,
        through=through, until=until, sees=sees, words=words if meter == "words" else (),
        healthy=healthy, needs=tuple(need.text for need in fields.texts("needs")), device=device,
        cautions=tuple(caution.text for caution in fields.texts("cautions")), generated=False,
        origin=key.origin)


def _way(fields: Fields, meter: Meter, draft: Draft) -> str:
    """The one field that makes the test computed, or nothing for a hand-written one."""
    ways = [way for way in WAYS if fields.has(way)]
    if len(ways) > 1:
        draft.report.error(fields.at(ways[1]), "two-ways", f"The {fields.what} has both "
                           f"{ways[0]!r} and {ways[1]!r}.", "Keep the one that fits the meter.")
    for way in ways:
        if meter not in WAYS[way]:
            draft.report.error(fields.at(way), "meter-does-not-fit",
                               f"{way!r} does not go with the meter {meter}.",
                               f"It goes with {', '.join(WAYS[way])}.")
    if not ways and not fields.has("healthy"):
        fitting = [way for way, meters in WAYS.items() if meter in meters]
        draft.report.error(fields.origin, "missing-key",
                           f"The {fields.what} says neither where to measure nor what a healthy "
                           "machine reads.",
                           f"Add {' or '.join([*fitting, 'healthy'])}.")
    return ways[0] if ways else ""


def _between(fields: Fields, draft: Draft) -> tuple[str, str] | None:
    if not fields.has("between"):
        return None
    pins = fields.texts("between")
    if len(pins) != 2 or pins[0].text == pins[1].text:
        draft.report.error(fields.at("between"), "two-pins", "A measurement is made between two "
                           "different pins.", "Write [-Q2:A1, -Q2:A2], the red lead first.")
        return None
    good = [known_pin(pin, draft) for pin in pins]
    return (pins[0].text, pins[1].text) if all(good) else None


def _through(fields: Fields, draft: Draft) -> str | None:
    pins = fields.texts("through")
    if not pins:
        return None
    if len(pins) > 1:
        draft.report.error(fields.at("through"), "two-pins", "A current is measured at one pin.",
                           "Write one pin such as -B4:1.")
    return pins[0].text if known_pin(pins[0], draft) else None


def _until(fields: Fields, draft: Draft) -> tuple[str, str] | None:
    pairs = fields.pairs("until")
    if not pairs:
        return None
    device, word = pairs[0][0], getattr(pairs[0][1], "text", "")
    if len(pairs) > 1 or not word:
        draft.report.error(fields.at("until"), "until", "The time runs until one device shows one "
                           "word.", "Write {-Y1: released}.")
        return None
    if not draft.known("device", device.text, device.origin):
        return None
    shows = draft.words_of(device.text)
    if word not in shows:
        draft.report.error(pairs[0][1].origin, "unknown-word",
                           f"{device.text} never shows {word!r}.", did_you_mean(word, shows))
        return None
    return device.text, word


def _check_words(fields: Fields, meter: Meter, words: tuple[str, ...], way: str,
                 draft: Draft) -> None:
    if meter != "words":
        if fields.has("words"):
            draft.report.error(fields.at("words"), "meter-does-not-fit",
                               f"A test read in {meter} has no words.", "Delete 'words'.")
    elif way == "sees" and not words:
        draft.report.error(fields.at("sees"), "nothing-to-see", "Nothing can be seen at this kind "
                           "of device.", "Measure at it, or give 'words' and 'healthy' instead.")
    elif len(words) < 2:
        draft.report.error(fields.origin, "missing-key", f"The {fields.what} needs two words or "
                           "more.", "Add 'words: [none, burnt]'.")


def _device(fields: Fields, between: tuple[str, str] | None, through: str | None,
            until: tuple[str, str] | None, sees: str | None, draft: Draft) -> str:
    """Device that the test speaks about: the one given, or that of the first pin."""
    if fields.has("device"):
        device = fields.text("device")
        return device if draft.known("device", device, fields.at("device")) else ""
    if between is not None:
        return split_pin(between[0])[0]
    if through is not None:
        return split_pin(through)[0]
    return until[0] if until is not None else sees or ""


def check_one_place(between: tuple[str, str], fields: Fields, draft: Draft) -> None:
    """Both leads of a meter reach only pins in one place."""
    first, second = (draft.place_of(split_pin(pin)[0]) for pin in between)
    if first != second:
        draft.report.error(fields.at("between"), "two-places",
                           f"{between[0]} is at {first!r}, {between[1]} at {second!r}: no lead is "
                           "so long.", "Choose pins in one place, or say where with 'place:'.")


def check_dead(meter: Meter, condition: str, origin: Origin, draft: Draft) -> None:
    """Resistance is measured on an isolated machine."""
    found = draft.conditions.get(condition)
    if found is not None and meter in {"ohm", "Mohm"} and not found.dead:
        draft.report.error(origin, "ohms-live", f"{meter} is measured in {condition!r}, which is "
                           "not dead.", "Choose a condition with 'dead: yes'.")


def _check_needs(rows: dict[str, Fields], draft: Draft) -> None:
    for name, test in draft.tests.items():
        for text in rows[name].texts("needs"):
            draft.known("test", text.text, text.origin)
        seen: list[str] = []
        todo = list(test.needs)
        while todo:
            need = todo.pop()
            if need == name:
                draft.report.error(rows[name].at("needs"), "test-cycle",
                                   f"The test {name!r} must come before itself.",
                                   "Delete one of the 'needs'.")
                break
            if need in draft.tests and need not in seen:
                seen.append(need)
                todo += draft.tests[need].needs
