"""Faults written by hand: changes to contacts, wires, elements, attributes and states."""

import re

from faultkit.errors import QuantityError
from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields
from faultkit.loading.generated import PHASES, WINDINGS
from faultkit.loading.sections.designations import known_pin
from faultkit.loading.sections.devices import known_contact
from faultkit.loading.sections.wires import hops
from faultkit.loading.tree import Node, Sequence
from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.kinds import KINDS
from faultkit.vocabulary.machine import Device
from faultkit.vocabulary.near_miss import did_you_mean
from faultkit.vocabulary.origin import Origin
from faultkit.vocabulary.quantities import parse_quantity

WHATS = ("contact", "wire", "element", "bridge", "attribute", "state")
KEYS = (*WHATS, "between", "to")
_SCALED = re.compile(r"[x+-].+")


def variants_of(fields: Fields, draft: Draft) -> tuple[tuple[Change, ...], ...]:
    """Severities of a cause: one under `fault`, several under `variants`."""
    if fields.has("fault") and fields.has("variants"):
        draft.report.error(fields.at("variants"), "two-ways", f"The {fields.what} has both 'fault' "
                           "and 'variants'.", "Move the fault into the list of variants.")
    if fields.has("fault"):
        return (_together(fields.nodes["fault"], draft),)
    node = fields.nodes.get("variants")
    if node is None:
        return ()
    items = node.items if isinstance(node, Sequence) else (node,)
    return tuple(_together(item, draft) for item in items)


def _together(node: Node, draft: Draft) -> tuple[Change, ...]:
    """One change, or a list of changes made together."""
    items = node.items if isinstance(node, Sequence) else (node,)
    found = [_change(item, draft) for item in items]
    if not items:
        draft.report.error(node.origin, "no-change", "This fault changes nothing.",
                           "Write {contact: -Q2:13-14, to: open}, for example.")
    return tuple(change for change in found if change is not None)


def _change(node: Node, draft: Draft) -> Change | None:
    fields = Fields(node, "fault", KEYS, draft.report)
    whats = [what for what in WHATS if fields.has(what)]
    if len(whats) != 1:
        if fields.nodes or not draft.report.found:
            draft.report.error(node.origin, "one-change", "A change is made to one thing.",
                               f"Write one of {', '.join(WHATS)} in each change.")
        return None
    what = whats[0]
    if what != "wire" and fields.has("between"):
        draft.report.error(fields.at("between"), "unknown-key", "'between' goes with 'wire' only.",
                           "Delete it.")
    if what == "bridge":
        return _bridge(fields, draft)
    if what == "wire":
        return _wire(fields, draft)
    target, to = fields.text(what), fields.text("to", None)
    if not target or not to:
        return None
    origin, value_at = fields.at(what), fields.at("to")
    if what == "contact":
        value = _ohms(to, ("open", "closed"), value_at, draft)
        good = known_contact(target, origin, draft)
        return Change("contact", target, value) if good and value else None
    if what == "state":
        return _state(target, to, origin, value_at, draft)
    return _inner(what, target, to, origin, value_at, draft)


def _ohms(text: str, words: tuple[str, ...], origin: Origin, draft: Draft) -> str:
    """A word, or ohms as a plain number; empty and a problem where it is neither."""
    if text in words:
        return text
    scaled = text[1:] if "x0.5" in words and text.startswith("x") else None
    try:
        value = parse_quantity(text, "ohm") if scaled is None else parse_quantity(scaled, "1")
    except QuantityError as error:
        draft.report.error(origin, "change-value", f"{text!r} is neither {' nor '.join(words)} nor "
                           f"a resistance. {error.title}", "Write it such as 150 ohm.")
        return ""
    if value < 0:
        draft.report.error(origin, "too-small", f"{text!r} is negative.", "Correct the number.")
        return ""
    return f"{'' if scaled is None else 'x'}{value:.12g}"


def _bridge(fields: Fields, draft: Draft) -> Change | None:
    pins = fields.texts("bridge")
    value = _ohms(fields.text("to", "0.1 ohm"), (), fields.at("to"), draft)
    if len(pins) != 2 or pins[0].text == pins[1].text:
        draft.report.error(fields.at("bridge"), "two-pins", "A bridge joins two different pins, or "
                           "a pin and PE.", "Write [-B1:21, -B1:22].")
        return None
    good = [pin.text == "PE" or known_pin(pin, draft) for pin in pins]
    first, second = sorted((pin.text for pin in pins), key=lambda text: text == "PE")
    return Change("bridge", f"{first}/{second}", value) if all(good) and value else None


def _wire(fields: Fields, draft: Draft) -> Change | None:
    name = fields.text("wire")
    value = _ohms(fields.text("to", "open"), ("open",), fields.at("to"), draft)
    pins = fields.texts("between")
    if not draft.known("wire", name, fields.at("wire")):
        return None
    if len(pins) != 2:
        draft.report.error(fields.at("between"), "two-pins", "A wire breaks between two "
                           "neighbouring pins.", "Add between: [-X1:14, -B1:21].")
        return None
    pair = (pins[0].text, pins[1].text)
    for first, second in hops(draft.wires[name]):
        if {first, second} == set(pair):
            return Change("hop", f"{name}:{first}/{second}", value) if value else None
    good = [known_pin(pin, draft) for pin in pins]
    if all(good):
        draft.report.error(fields.at("between"), "no-such-hop",
                           f"{pair[0]} and {pair[1]} are not neighbours on wire {name}.",
                           f"It runs {' - '.join(draft.wires[name].pins[:12])}.")
    return None


def _state(device: str, word: str, origin: Origin, value_at: Origin, draft: Draft) -> Change | None:
    if not draft.known("device", device, origin):
        return None
    shows = draft.words_of(device)
    if word in shows:
        return Change("state", device, word)
    draft.report.error(value_at, "unknown-word", f"{device} never shows {word!r}.",
                       did_you_mean(word, shows))
    return None


def elements_of(device: Device) -> list[str]:
    """Inner elements of a device that a fault can change."""
    kind = KINDS[device.kind]
    found = {target.partition("/")[2] for mode in kind.modes for variant in mode.variants
             for what, target, _ in variant if what == "element"}
    found.discard("{c}")
    if device.kind == "motor":
        found |= {f"{winding}-{phase}" for winding in WINDINGS if device.attributes.get(winding)
                  for phase in PHASES}
    if device.kind == "mains":
        found |= {pin for pin in device.pins if pin.startswith("L")}
    return sorted(found)


def _inner(what: str, target: str, to: str, origin: Origin, value_at: Origin,
           draft: Draft) -> Change | None:
    """A change to an inner element or to an attribute: `-Q2/coil`, `-K4/time`."""
    name, _, inner = target.partition("/")
    if not draft.known("device", name, origin):
        return None
    device = draft.devices[name]
    if what == "element":
        known = elements_of(device)
        value = _ohms(to, ("open", "short", "x0.5"), value_at, draft)
    else:
        known = [attribute.name for attribute in KINDS[device.kind].attributes]
        known += [f"{way}:{contact.id}" for contact in device.contacts
                  for way in ("early", "late") if device.kind == "limit switch"]
        value = _attribute_value(device, inner, to, value_at, draft)
    if inner not in known:
        draft.report.error(origin, f"unknown-{what}", f"{name} has no {what} {inner!r}.",
                           did_you_mean(inner, known))
        return None
    if not value:
        return None
    return Change("element" if what == "element" else "attribute", target, value)


def _attribute_value(device: Device, inner: str, to: str, origin: Origin, draft: Draft) -> str:
    """`5`, `x0.2`, `+5`, or a quantity in the unit of the attribute, as a plain number."""
    unit = next((attribute.unit for attribute in KINDS[device.kind].attributes
                 if attribute.name == inner), "1")
    if unit in {"text", "pins", "device", "setting", "contact"} or to == "open diode":
        return to
    sign, rest = (to[0], to[1:]) if _SCALED.fullmatch(to) else ("", to)
    try:
        value = parse_quantity(rest, "1" if sign == "x" else unit)
    except QuantityError as error:
        draft.report.error(origin, "change-value", error.title, "Write a number, x0.2 or +5.")
        return ""
    return f"{sign}{value:.12g}"
