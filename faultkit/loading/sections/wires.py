"""Wires: numbered conductors, looped from pin to pin; and the cores of cables."""

from dataclasses import replace

from faultkit.loading.draft import Draft
from faultkit.loading.fields import texts_of
from faultkit.loading.sections.designations import good_pin, good_wire, known_pin, split_pin
from faultkit.loading.tree import Mapping, Scalar, Sequence, called
from faultkit.vocabulary.machine import Device, Wire
from faultkit.vocabulary.origin import Origin


def build_wires(draft: Draft) -> None:
    """Build all wires. A terminal strip without `pins` has those that wires end at."""
    rows: dict[str, tuple[Scalar, tuple[Scalar, ...]]] = {}
    for name, key, body in draft.records("wires"):
        if isinstance(body, Scalar) and not body.text:
            draft.report.error(body.origin, "wire-ends", f"The wire {name} is {called(body)}.",
                               "List the pins that it joins: [-X1:14, -B1:21].")
        elif good_wire(key, draft):
            rows[name] = key, texts_of(body, f"wire {name}", draft.report)
    _open_strips(draft, rows)
    taken: dict[str, str] = {}
    for name, (key, pins) in rows.items():
        good = [pin for pin in pins if known_pin(pin, draft)]
        _each_once(name, good, taken, draft)
        if len(pins) < 2:
            draft.report.error(key.origin, "wire-ends", f"The wire {name} has only one pin.",
                               "A wire joins at least two pins.")
        elif len(good) == len(pins):
            draft.wires[name] = Wire(name, tuple(pin.text for pin in pins), key.origin)


def _open_strips(draft: Draft, rows: dict[str, tuple[Scalar, tuple[Scalar, ...]]]) -> None:
    """Give terminal strips without declared pins those named in wires."""
    strips = {name: dict[str, None]() for name, device in draft.devices.items()
              if device.kind == "terminals" and not device.pins}
    for _, pins in rows.values():
        for full in pins:
            device, pin = split_pin(full.text)
            if device in strips and pin and good_pin(pin, full.origin, draft):
                strips[device][pin] = None
    for name, found in strips.items():
        draft.devices[name] = replace(draft.devices[name], pins=tuple(found))


def _each_once(name: str, pins: list[Scalar], taken: dict[str, str], draft: Draft) -> None:
    """A pin belongs to one wire number, and a wire passes it once."""
    for pin in pins:
        other = taken.setdefault(pin.text, name)
        if other != name:
            draft.report.error(pin.origin, "pin-on-two-wires",
                               f"{pin.text} is on wire {other} and on wire {name}.",
                               "Joined wires bear one number: correct the pin or merge the wires.")
    texts = [pin.text for pin in pins]
    for index, pin in enumerate(pins):
        if pin.text in texts[:index]:
            draft.report.error(pin.origin, "pin-twice", f"{pin.text} stands twice on wire {name}.",
                               "Name each pin once, in the order of the loop.")


def hops(wire: Wire) -> list[tuple[str, str]]:
    """Neighbouring pins of a wire."""
    return list(zip(wire.pins, wire.pins[1:], strict=False))


def cores(device: Device) -> tuple[str, ...]:
    """Wire numbers of a cable."""
    return tuple(str(device.attributes.get("cores", "")).split())


def core_hop(device: Device, core: str, draft: Draft) -> str | None:
    """Hop `14:-X1:14/-X3:14` that a core of a cable is, or None."""
    ends = {str(device.attributes["from"]), str(device.attributes["to"])}
    if core not in draft.wires:
        return None
    for first, second in hops(draft.wires[core]):
        if {split_pin(first)[0], split_pin(second)[0]} == ends:
            return f"{core}:{first}/{second}"
    return None


def check_cables(draft: Draft) -> None:
    """Every core is a hop of its wire between the two ends of the cable."""
    for device in draft.devices.values():
        if device.kind != "cable":
            continue
        places = _core_origins(device, draft)
        seen: set[str] = set()
        for core in cores(device):
            origin = places.get(core, device.origin)
            if core in seen:
                draft.report.error(origin, "duplicate-id", f"The cable {device.id} has the core "
                                   f"{core} twice.", "Name each wire once.")
            elif draft.known("wire", core, origin) and core_hop(device, core, draft) is None:
                draft.report.error(
                    origin, "core-without-hop",
                    f"The wire {core} has no hop from {device.attributes['from']} to "
                    f"{device.attributes['to']}, so it is no core of {device.id}.",
                    "Correct the loop of the wire, the ends of the cable, or the core.")
            seen.add(core)


def _core_origins(device: Device, draft: Draft) -> dict[str, Origin]:
    body = draft.raw["devices"][device.id][1]
    node = body.get("cores") if isinstance(body, Mapping) else None
    items = node.items if isinstance(node, Sequence) else (node,)
    return {item.text: item.origin for item in items if isinstance(item, Scalar)}
