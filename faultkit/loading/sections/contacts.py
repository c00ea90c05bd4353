"""Contacts of a device: marking, form, and what makes a limit switch act."""

import re

from faultkit.loading.draft import Draft
from faultkit.loading.fields import Fields, choice_of, quantity_of
from faultkit.loading.sections.designations import good_pin
from faultkit.loading.tree import Mapping, Node, Scalar
from faultkit.vocabulary.kinds import Kind
from faultkit.vocabulary.machine import Contact
from faultkit.vocabulary.near_miss import did_you_mean
from faultkit.vocabulary.origin import Origin

KEYS = ("form", "step", "acts", "group")
FORMS = ("no", "nc", "main")
MOST_POLES = 12
MOST_STEPS = 9
_MARK = re.compile(r"([^\s:/*-]+)-([^\s:/*-]+)")


def build_contacts(fields: Fields, kind: Kind, draft: Draft) -> tuple[Contact, ...]:
    """Contacts of one device; `main: 3` stands for 1-2, 3-4 and 5-6."""
    found: dict[str, Contact] = {}
    for key, body in fields.pairs("contacts"):
        if not kind.takes_contacts:
            draft.report.error(key.origin, "no-contacts",
                               f"A {kind.name} has no contacts.", "Delete them, or correct 'kind'.")
            return ()
        for contact in _contacts(key, body, draft):
            if contact.id in found:
                draft.report.error(key.origin, "duplicate-id",
                                   f"The contact {contact.id} of the {fields.what} stands twice.",
                                   "Delete one of the two.")
            found[contact.id] = contact
    return tuple(found.values())


def _contacts(key: Scalar, body: Node, draft: Draft) -> list[Contact]:
    if key.text == "main" and isinstance(body, Scalar):
        poles = quantity_of(body, "1", "number of main contacts", draft.report, 3.0, 1.0,
                            float(MOST_POLES))
        if poles != int(poles):
            draft.report.error(body.origin, "contact-mark", f"{body.text} is no number of poles.",
                               "Write a whole number such as 'main: 3'.")
            return []
        return [Contact(f"{2 * pole + 1}-{2 * pole + 2}", str(2 * pole + 1), str(2 * pole + 2),
                        "main", "main", 1, None) for pole in range(int(poles))]
    match = _MARK.fullmatch(key.text)
    if match is None:
        draft.report.error(key.origin, "contact-mark", f"{key.text!r} is no contact marking.",
                           "Write its two pins with a dash, such as 13-14.")
        return []
    first, second = match.groups()
    good = [good_pin(pin, key.origin, draft) for pin in (first, second)]
    if first == second:
        draft.report.error(key.origin, "contact-mark",
                           f"The contact {key.text} begins and ends at the same pin.",
                           "Write its two pins with a dash, such as 13-14.")
        return []
    contact = _contact(key, body, first, second, draft)
    return [contact] if contact is not None and all(good) else []


def _contact(key: Scalar, body: Node, first: str, second: str, draft: Draft) -> Contact | None:
    if isinstance(body, Scalar):
        if not choice_of(body.text, body.origin, FORMS, "a contact form", draft.report):
            return None
        return _made(key.text, first, second, body.text, "main" if body.text == "main" else "",
                     1, None)
    fields = Fields(body, f"contact {key.text}", KEYS, draft.report)
    form = fields.text("form", None if fields.nodes else "no")
    if not form or not choice_of(form, fields.at("form"), FORMS, "a contact form", draft.report):
        return None
    step = fields.whole("step", 1, MOST_STEPS)
    return _made(key.text, first, second, form,
                 fields.text("group", "main" if form == "main" else ""), step,
                 _acts(fields, draft))


def _made(mark: str, first: str, second: str, form: str, group: str, step: int,
          acts: tuple[str, str, str] | None) -> Contact:
    if form == "no":
        return Contact(mark, first, second, "no", group, step, acts)
    if form == "nc":
        return Contact(mark, first, second, "nc", group, step, acts)
    return Contact(mark, first, second, "main", group, step, acts)


def _acts(fields: Fields, draft: Draft) -> tuple[str, str, str] | None:
    """What actuates a contact: (setting or device, first, last). Checked by `check_acts`."""
    if not fields.has("acts"):
        return None
    pairs = fields.pairs("acts")
    if len(pairs) != 1:
        draft.report.error(fields.at("acts"), "acts", "A contact acts over one range of one thing.",
                           "Write it as {hook: upper stop .. ultimate} or {-Y1: released}.")
        return None
    (what, body), = pairs
    if not isinstance(body, Scalar):
        draft.report.error(body.origin, "acts", "The range must be a text.",
                           "Write 'first .. last', or one position.")
        return None
    first, dots, last = (part.strip() for part in body.text.partition(".."))
    return what.text, first, last if dots else first


def check_acts(draft: Draft) -> None:
    """Check what limit switches act on, once all devices and settings are known."""
    for device in draft.devices.values():
        body = draft.raw["devices"][device.id][1]
        for contact in device.contacts:
            origin = _acts_origin(body, contact.id) or device.origin
            if contact.acts is None:
                if device.kind == "limit switch":
                    draft.report.error(origin, "acts", f"The contact {contact.id} of {device.id} "
                                       "never acts.", "Add acts: {hook: upper stop .. ultimate}.")
                continue
            if device.kind == "selector" and contact.acts[0] != device.id:
                draft.report.error(origin, "acts", f"A contact of {device.id} acts over its own "
                                   "positions.", f"Write {{{device.id}: first .. last}}.")
            elif device.kind not in {"selector", "limit switch"}:
                draft.report.error(origin, "acts", f"A {device.kind} is not moved from outside.",
                                   "Delete 'acts', or make it a limit switch.")
            else:
                _check_range(contact.acts, origin, draft)


def _check_range(acts: tuple[str, str, str], origin: Origin, draft: Draft) -> None:
    what, first, last = acts
    if what in draft.settings:
        positions = draft.settings[what].positions
        missing = [word for word in (first, last) if word not in positions]
        for word in dict.fromkeys(missing):
            draft.report.error(origin, "unknown-position",
                               f"The setting {what!r} has no position {word!r}.",
                               did_you_mean(word, positions))
        if not missing and positions.index(first) > positions.index(last):
            draft.report.error(origin, "acts", f"The range {first} .. {last} runs backwards.",
                               f"Write {last} .. {first}.")
    elif what in draft.devices:
        shows = draft.words_of(what)
        if first in shows and last in shows and shows.index(first) > shows.index(last):
            draft.report.error(origin, "acts", f"The range {first} .. {last} runs backwards.",
                               f"Write {last} .. {first}.")
        for word in dict.fromkeys((first, last)):
            if word not in shows:
                draft.report.error(origin, "unknown-word", f"{what} never shows {word!r}.",
                                   did_you_mean(word, shows))
    elif not draft.written("settings", what) and not draft.written("devices", what):
        draft.report.error(origin, "unknown-setting", f"There is no setting or device {what!r}.",
                           did_you_mean(what, [*draft.settings, *draft.devices]))


def _acts_origin(body: Node, mark: str) -> Origin | None:
    """Where the range of a contact is written."""
    node: Node | None = body
    for key in ("contacts", mark, "acts"):
        node = node.get(key) if isinstance(node, Mapping) else None
    if isinstance(node, Mapping) and node.entries:
        return node.entries[0][1].origin
    return None
