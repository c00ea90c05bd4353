"""Devices: kind, place, attributes completed by the kind's table, pins."""

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields, choice_of, quantity_of, text_of, texts_of
from faultkit.loading.generated import part_names
from faultkit.loading.sections.contacts import MOST_STEPS, build_contacts
from faultkit.loading.sections.designations import good_device, good_pin
from faultkit.loading.tree import Mapping, Node, Scalar, Sequence, called
from faultkit.vocabulary.kinds import KINDS, Attribute, Kind
from faultkit.vocabulary.machine import Contact, Device
from faultkit.vocabulary.near_miss import did_you_mean, listed
from faultkit.vocabulary.origin import Origin

NEVER_ZERO = frozenset({"V", "A", "ohm", "W", "VA", "Hz", "m", "mm2"})
"""Units in which an attribute of nothing makes no device."""

KEYS = ("kind", "says", "place", "contacts", "pins", "faults", "weight", "safety")


def build_devices(draft: Draft) -> None:
    """Build all devices; references between them are checked by `check_attributes`."""
    for _, key, body in draft.records("devices"):
        if good_device(key, draft):
            device = _device(key, body, draft)
            if device is not None:
                draft.devices[device.id] = device


def _kind(key: Scalar, body: Node, draft: Draft) -> Kind | None:
    if not isinstance(body, Mapping):
        draft.report.error(body.origin, "wrong-shape",
                           f"The device {key.text} is {called(body)}; it must be a mapping.",
                           "Write {kind: contactor, ...}.")
        return None
    node = body.get("kind")
    if node is None:
        draft.report.error(key.origin, "missing-key", f"The device {key.text} lacks the field "
                           "'kind'.", "Add 'kind: ...'.")
        return None
    name = text_of(node, f"kind of {key.text}", draft.report)
    if name and name not in KINDS:
        draft.report.error(node.origin, "unknown-kind", f"There is no kind of device {name!r}.",
                           did_you_mean(name, KINDS))
    return KINDS.get(name)


def _device(key: Scalar, body: Node, draft: Draft) -> Device | None:
    kind = _kind(key, body, draft)
    if kind is None:
        return None
    named = tuple(attribute.name for attribute in kind.attributes)
    fields = Fields(body, f"{kind.name} {key.text}", dict.fromkeys((*KEYS, *named)), draft.report)
    place = fields.text("place", draft.root)
    if fields.has("place") and not draft.known("place", place, fields.at("place")):
        place = draft.root
    attributes = _attributes(fields, kind, draft)
    contacts = build_contacts(fields, kind, draft)
    draft.factors[key.text] = fields.quantity("weight", "1", 1.0)
    return Device(
        id=key.text, kind=kind.name, says=fields.text("says"), place=place,
        attributes=attributes, pins=_pins(fields, kind, attributes, contacts, draft),
        contacts=contacts, faults=_faults(fields, kind, draft),
        safety=fields.yes("safety", default=False), origin=key.origin)


def _attributes(fields: Fields, kind: Kind, draft: Draft) -> dict[str, float | str]:
    found: dict[str, float | str] = {}
    for attribute in kind.attributes:
        node = fields.nodes.get(attribute.name)
        if node is None or (attribute.name == "pins" and isinstance(node, Sequence)):
            if attribute.default is None:
                fields.missing(attribute.name)
            found[attribute.name] = "" if attribute.default is None else attribute.default
        else:
            found[attribute.name] = _attribute(node, attribute, fields, draft)
    return found


def _attribute(node: Node, attribute: Attribute, fields: Fields, draft: Draft) -> float | str:
    says = f"{attribute.name} of the {fields.what}"
    if attribute.unit in {"device", "setting", "contact"}:
        return text_of(node, says, draft.report)
    if attribute.unit == "text":
        text = " ".join(item.text for item in texts_of(node, says, draft.report))
        if attribute.choices and text:
            choice_of(text, node.origin, attribute.choices, f"the {says}", draft.report)
        return text
    if attribute.unit == "pins":
        return _chain(node, attribute, says, draft)
    if attribute.name == "steps":
        return float(fields.whole("steps", 1, MOST_STEPS))
    default = attribute.default if isinstance(attribute.default, float) else 1.0
    value = quantity_of(node, attribute.unit, says, draft.report, default, -1e12)
    if attribute.choices:
        choice_of(f"{value:g}", node.origin, attribute.choices, f"the {says}", draft.report)
    elif value < 0.0 or (value == 0.0 and attribute.unit in NEVER_ZERO):
        draft.report.error(node.origin, "too-small", f"The {says} is {called(node)}; it must be "
                           f"{'more than' if attribute.unit in NEVER_ZERO else 'at least'} 0.",
                           "Correct the number.")
    return value


def _chain(node: Node, attribute: Attribute, says: str, draft: Draft) -> str:
    """Pins of an attribute such as `A1-A2`, as many as the device has there."""
    chain = text_of(node, says, draft.report)
    pins = chain.split("-")
    if chain and (len(set(pins)) != attribute.count or len(pins) != attribute.count):
        draft.report.error(node.origin, "pin-chain", f"The {says} is {chain!r}; it has "
                           f"{attribute.count} different pins.",
                           "Write the pins with dashes, such as "
                           f"{'U1-V1-W1' if attribute.count == 3 else 'A1-A2'}.")
        return str(attribute.default or "")
    return chain


def _pins(fields: Fields, kind: Kind, attributes: dict[str, float | str],
          contacts: tuple[Contact, ...], draft: Draft) -> tuple[str, ...]:
    """All pin names: of the kind, of `pins` attributes, of contacts, and extra ones."""
    pins = dict.fromkeys(kind.pins)
    if attributes.get("phases") == 1.0:
        pins = dict.fromkeys(pin for pin in pins if pin not in {"L2", "L3"})
    for attribute in kind.attributes:
        chain = attributes[attribute.name] if attribute.unit == "pins" else ""
        for pin in str(chain).split("-") if chain else ():
            if good_pin(pin, fields.at(attribute.name), draft):
                pins[pin] = None
    for contact in contacts:
        pins |= {contact.a: None, contact.b: None}
    if isinstance(fields.nodes.get("pins"), Sequence) or not any(
            attribute.name == "pins" for attribute in kind.attributes):
        for extra in fields.texts("pins"):
            if good_pin(extra.text, extra.origin, draft):
                pins[extra.text] = None
    return tuple(pins)


def _faults(fields: Fields, kind: Kind, draft: Draft) -> dict[str, float]:
    """Weights for fault modes, of all parts or of one: `open`, `13-14.open`."""
    found = {}
    for key, node in fields.pairs("faults"):
        found[key.text] = quantity_of(node, "1", f"weight of {key.text!r}", draft.report, 0.0, 0.0)
    modes = [mode.key for mode in kind.modes]
    for key, _ in fields.pairs("faults"):
        mode = key.text.rpartition(".")[2]
        if mode not in modes:
            draft.report.error(key.origin, "unknown-mode",
                               f"A {kind.name} has no fault mode {mode!r}.",
                               did_you_mean(mode, modes))
    return found


def check_faults(draft: Draft) -> None:
    """Check the parts that weights are given for: contacts, cores, windings, poles."""
    for device in draft.devices.values():
        parts = part_names(device)
        body = draft.raw["devices"][device.id][1]
        node = body.get("faults") if isinstance(body, Mapping) else None
        for key, _ in node.entries if isinstance(node, Mapping) else ():
            part = key.text.rpartition(".")[0]
            if part and part not in parts:
                draft.report.error(key.origin, "unknown-part", f"{device.id} has no part {part!r}.",
                                   did_you_mean(part, parts))


def check_attributes(draft: Draft) -> None:
    """Check attributes that name a device, a setting or a contact."""
    for device in draft.devices.values():
        body = draft.raw["devices"][device.id][1]
        for attribute in KINDS[device.kind].attributes:
            name = device.attributes[attribute.name]
            node = body.get(attribute.name) if isinstance(body, Mapping) else None
            if isinstance(name, str) and name and node is not None:
                _reference(attribute, name, node.origin, draft)
        if device.kind == "selector":
            _check_rests(device, body, draft)


def _check_rests(device: Device, body: Node, draft: Draft) -> None:
    """A maintained switch rests in one of its positions."""
    positions = draft.words_of(device.id)
    rests = str(device.attributes["rests"])
    node = body.get("rests") if isinstance(body, Mapping) else None
    if rests not in positions:
        draft.report.error(node.origin if node else device.origin, "unknown-position",
                           f"{device.id} rests in {rests!r}, which is none of its positions.",
                           f"Add 'rests:' with one of {listed(positions)}.")


def _reference(attribute: Attribute, name: str, origin: Origin, draft: Draft) -> None:
    if attribute.unit in {"device", "setting"}:
        draft.known(attribute.unit, name, origin)
    elif attribute.unit == "contact":
        known_contact(name, origin, draft)


def known_contact(text: str, origin: Origin, draft: Draft) -> bool:
    """Check a full contact such as `-Q2:13-14`."""
    device, _, mark = text.partition(":")
    if not mark:
        draft.report.error(origin, "contact-mark", f"{text!r} is no contact.",
                           "Write device and contact with a colon, such as -Q2:13-14.")
        return False
    if not draft.known("device", device, origin):
        return False
    marks = [contact.id for contact in draft.devices[device].contacts]
    if mark in marks:
        return True
    draft.report.error(origin, "unknown-contact", f"{device} has no contact {mark!r}.",
                       did_you_mean(mark, marks))
    return False
