"""Which words a look at a device can give."""

from faultkit.vocabulary.kinds import KINDS
from faultkit.vocabulary.machine import Device


def words_of(device: Device) -> tuple[str, ...]:
    """Words of the kind.

    A motor's directions are called as its attributes say; a maintained switch shows its
    positions.
    """
    if device.kind == "motor":
        names = {"up": str(device.attributes["forward"]), "down": str(device.attributes["reverse"])}
        return tuple(" ".join(names.get(part, part) for part in word.split(" "))
                     for word in KINDS["motor"].shows)
    if device.kind == "selector":
        return tuple(str(device.attributes["positions"]).split())
    return KINDS[device.kind].shows
