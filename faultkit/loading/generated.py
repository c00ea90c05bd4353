"""Causes and remedies that a device brings along from the table of its kind."""

from collections.abc import Iterator

from faultkit.loading.draft import Draft
from faultkit.loading.sections.wires import core_hop, cores
from faultkit.vocabulary.diagnosis import Cause, Change, ChangeKind, Remedy
from faultkit.vocabulary.kinds import KINDS, Cure, Mode
from faultkit.vocabulary.machine import Device
from faultkit.vocabulary.origin import GENERATED

WINDINGS = ("slow", "fast", "winding")
PHASES = ("U", "V", "W")


def short(device: str) -> str:
    """Designation without its sign, as ids begin with: `Q2` for `-Q2`."""
    return device.removeprefix("-")


def generate(draft: Draft) -> None:
    """Add the causes of all devices, and the remedies that they need."""
    for device in draft.devices.values():
        for mode in KINDS[device.kind].modes:
            parts = list(_parts(device, mode))
            for part in parts:
                _cause(device, mode, part, len(parts), draft)


def part_names(device: Device) -> set[str]:
    """Contacts, cores and phases of a device, as its cause ids name them."""
    return {part for mode in KINDS[device.kind].modes for part in _parts(device, mode) if part}


def _parts(device: Device, mode: Mode) -> Iterator[str]:
    """What a mode is repeated for; one empty text for the device itself."""
    if mode.per == "device":
        yield ""
    elif mode.per == "contact":
        yield from (contact.id for contact in device.contacts)
    elif mode.per == "main contact":
        yield from (contact.id for contact in device.contacts if contact.form == "main")
    elif mode.per == "core":
        yield from dict.fromkeys(cores(device))
    elif mode.per == "winding phase":
        yield from (f"{winding}-{phase}" for winding in WINDINGS
                    if device.attributes.get(winding) for phase in PHASES)
    else:
        poles = int(float(device.attributes.get("phases", 3.0)))
        yield from (f"L{pole}" for pole in range(1, min(poles, 3) + 1))


def _weight(device: Device, mode: Mode, part: str, parts: int, factor: float) -> float:
    """Author's word on the mode of this part or of all parts; else rate x share x factor."""
    for key in (f"{part}.{mode.key}" if part else mode.key, mode.key):
        if key in device.faults:
            return device.faults[key]
    return KINDS[device.kind].rate * mode.share / parts * factor


def _cause(device: Device, mode: Mode, part: str, parts: int, draft: Draft) -> None:
    weight = _weight(device, mode, part, parts, draft.factors.get(device.id, 1.0))
    if weight <= 0.0:
        return
    hop = core_hop(device, part, draft) if mode.per == "core" else ""
    if hop is None:
        return
    cure = next(cure for cure in KINDS[device.kind].cures if cure.key == mode.remedy)
    remedy = _remedy(device, cure, part, draft)
    name = ".".join(text for text in (short(device.id), part, mode.key) if text)
    words = {"{d}": device.id, "{c}": part, "{hop}": hop}
    says = mode.says.replace("{c}", part.removeprefix("winding-"))
    draft.causes[name] = Cause(
        id=name, device=device.id, says=f"{device.id} {says}", weight=weight,
        source=mode.source, remedy=remedy,
        variants=tuple(tuple(_change(change, words) for change in variant)
                       for variant in mode.variants),
        expect={}, symptoms={}, intermittent=0.0, critical=mode.critical, safety=device.safety,
        origin=device.origin)


def _change(change: tuple[ChangeKind, str, str], words: dict[str, str]) -> Change:
    what, target, value = change
    for holder, text in words.items():
        target = target.replace(holder, text)
    return Change(what, target, value)


def _remedy(device: Device, cure: Cure, part: str, draft: Draft) -> str:
    each = f"{part}." if cure.each and part else ""
    name = f"{short(device.id)}.{each}{cure.key}"
    about = f"{device.id} {part}" if each else device.id
    draft.remedies.setdefault(name, Remedy(
        name, f"{about}: {cure.says}", device.place, cure.minutes, cure.proof, cure.dead,
        cure.part, cure.tools, (), GENERATED))
    return name
