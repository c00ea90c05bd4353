"""Devices: kind, place, attributes completed by the kind's table, pins."""

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields, quantity_of, text_of, texts_of
from faultkit.loading.problems import did_you_mean
from faultkit.loading.sections.contacts import build_contacts
from faultkit.loading.sections.designations import good_device, good_pin
from faultkit.loading.tree import Mapping, Node, Scalar, Sequence
from faultkit.vocabulary.kinds import KINDS, Attribute, Kind
from faultkit.vocabulary.machine import Contact, Device
from faultkit.vocabulary.origin import Origin

KEYS = ("kind", "says", "place", "contacts", "pins", "faults", "weight", "safety")


def build_devices(draft: Draft) -> None:
    """Build all devices; references between them are checked by `check_attributes`."""
    for _, key, body in draft.records("devices"):
        if good_device(key, draft):
            device = _device(key, body, draft)
            if device is not None:
                draft.devices[device.id] = device


def _kind(key: Scalar, body: Node, draft: Draft) -> Kind | None:
    node = body.get("kind") if isinstance(body, Mapping) else None
    if node is None:
        Fields(body, f"device {key.text}", ("kind",), draft.report).missing("kind") \
            if not isinstance(body, Mapping) else draft.report.error(
                key.origin, "missing-key", f"The device {key.text} lacks the field 'kind'.",
                "Add 'kind: ...'.")
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
            found[attribute.name] = _attribute(node, attribute, fields.what, draft)
    return found


def _attribute(node: Node, attribute: Attribute, what: str, draft: Draft) -> float | str:
    says = f"{attribute.name} of the {what}"
    if attribute.unit in {"device", "setting", "contact"}:
        return text_of(node, says, draft.report)
    if attribute.unit == "text":
        if isinstance(node, Sequence):
            return " ".join(item.text for item in texts_of(node, says, draft.report))
        return text_of(node, says, draft.report)
    if attribute.unit == "pins":
        chain = text_of(node, says, draft.report)
        pins = chain.split("-")
        if chain and (len(pins) < 2 or len(set(pins)) < len(pins)):
            draft.report.error(node.origin, "pin-chain", f"The {says} is {chain!r}.",
                               "Write its pins with dashes, such as A1-A2.")
        return chain
    default = attribute.default if isinstance(attribute.default, float) else 0.0
    low = -1.0 if attribute.name == "sequence" else 0.0
    return quantity_of(node, attribute.unit, says, draft.report, default, low)


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
        for pin in fields.texts("pins"):
            if good_pin(pin.text, pin.origin, draft):
                pins[pin.text] = None
    return tuple(pins)


def _faults(fields: Fields, kind: Kind, draft: Draft) -> dict[str, float]:
    """Weights for fault modes; whether the mode exists is checked when causes are made."""
    found = {}
    for key, node in fields.pairs("faults"):
        found[key.text] = quantity_of(node, "1", f"weight of {key.text!r}", draft.report, 0.0, 0.0)
        mode = key.text.rpartition(".")[2]
        modes = [mode.key for mode in kind.modes]
        if mode not in modes:
            draft.report.error(key.origin, "unknown-mode",
                               f"A {kind.name} has no fault mode {mode!r}.",
                               did_you_mean(mode, modes))
    return found


def check_attributes(draft: Draft) -> None:
    """Check attributes that name a device, a setting or a contact."""
    for device in draft.devices.values():
        body = draft.raw["devices"][device.id][1]
        for attribute in KINDS[device.kind].attributes:
            name = device.attributes[attribute.name]
            node = body.get(attribute.name) if isinstance(body, Mapping) else None
            if isinstance(name, str) and name and node is not None:
                _reference(attribute, name, node.origin, draft)


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
