"""The tables of device kinds, by name."""

from faultkit.vocabulary.kinds import driving, supplying, switching
from faultkit.vocabulary.kinds.records import Attribute, Cure, Kind, Mode

KINDS: dict[str, Kind] = {
    kind.name: kind for kind in (*switching.KINDS, *supplying.KINDS, *driving.KINDS)
}

__all__ = ["KINDS", "Attribute", "Cure", "Kind", "Mode"]
