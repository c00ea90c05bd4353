"""Contactors, relays, timers, buttons, switches: what opens and closes contacts."""

from faultkit.vocabulary.kinds.records import Attribute, Cure, Kind, Mode, change
from faultkit.vocabulary.origin import FROM_MEMORY

SPLIT_RELAY = "failure-mode split of a relay, MIL-HDBK-338B table 7.2-1, from memory"
SPLIT_BUTTON = "failure-mode split of a push-button, MIL-HDBK-338B table 7.2-1, from memory"
RATE_217 = "base rate, MIL-HDBK-217F notice 2, from memory, raised for industrial duty"
COIL_WINDOW = "IEC 60947-4-1: closes from 0.85 Us, drops out between 0.20 and 0.75 Us (AC)"


def contact_modes(share: float, source: str, poor: tuple[str, ...]) -> tuple[Mode, ...]:
    """Does not close, does not open and poor contact, for each contact."""
    target = "{d}:{c}"
    return (
        Mode("open", "contact {c} does not close", "contact",
             (change("contact", target, "open"),), 0.5 * share, "replace", source),
        Mode("closed", "contact {c} does not open", "contact",
             (change("contact", target, "closed"),), 0.2 * share, "replace", source),
        Mode("poor", "contact {c} has high resistance", "contact",
             tuple(change("contact", target, ohms) for ohms in poor), 0.3 * share, "replace",
             source),
    )


def coil_modes(share: float, source: str) -> tuple[Mode, ...]:
    """Coil open and coil shorted."""
    return (
        Mode("coil-open", "coil open", "device", (change("element", "{d}/coil", "open"),),
             0.7 * share, "replace", source),
        Mode("coil-short", "coil shorted", "device", (change("element", "{d}/coil", "short"),),
             0.3 * share, "replace", source),
    )


def stuck_modes(share: float, source: str) -> tuple[Mode, ...]:
    """Armature that does not move, or does not come back."""
    return (
        Mode("stuck-out", "does not pull in although its coil is fed", "device",
             (change("state", "{d}", "out"),), 0.5 * share, "replace", source),
        Mode("stuck-in", "stays in (welded or stuck)", "device",
             (change("state", "{d}", "in"),), 0.5 * share, "replace", source),
    )


CONTACTOR = Kind(
    name="contactor",
    says="Power contactor with main and auxiliary contacts",
    takes_contacts=True,
    shows=("in", "out", "drops again", "chatters"),
    attributes=(
        Attribute("coil", "pins", "A1-A2", "coil terminals", "EN 50005"),
        Attribute("coil voltage", "V", 110.0, "rated control voltage Us"),
        Attribute("current", "text", "AC", "AC or DC coil", choices=("AC", "DC")),
        Attribute("sealed", "VA", 9.0, "coil power when in"),
        Attribute("inrush", "VA", 70.0, "coil power while pulling in"),
        Attribute("coil resistance", "ohm", 70.0, "DC resistance of the coil at 20 C"),
        Attribute("pick-up", "1", 0.75, "pulls in from this share of Us", COIL_WINDOW),
        Attribute("drop-out", "1", 0.45, "lets go below this share of Us", COIL_WINDOW),
        Attribute("closing time", "s", 0.02, "from voltage to contacts"),
        Attribute("opening time", "s", 0.015, "from no voltage to contacts"),
    ),
    modes=(
        *coil_modes(0.25, SPLIT_RELAY),
        *stuck_modes(0.2, SPLIT_RELAY),
        Mode("weak", "pulls in only at full voltage (dirty or worn magnet)", "device",
             (change("attribute", "{d}/pick-up", "1.02"),), 0.05, "replace"),
        *contact_modes(0.5, SPLIT_RELAY, ("150", "1500")),
    ),
    cures=(Cure("replace", "Replace the contactor", 20, tools="screwdriver"),),
    rate=2.0, rate_source=RATE_217,
)

RELAY = Kind(
    name="relay",
    says="Interface or auxiliary relay in a socket",
    takes_contacts=True,
    shows=("in", "out", "drops again", "chatters"),
    attributes=(
        Attribute("coil", "pins", "A1-A2", "coil terminals", "EN 50005"),
        Attribute("coil voltage", "V", 24.0, "rated coil voltage"),
        Attribute("current", "text", "DC", "AC or DC coil", choices=("AC", "DC")),
        Attribute("coil resistance", "ohm", 1000.0, "coil resistance at 20 C, tolerance 10 %"),
        Attribute("sealed", "VA", 1.2, "AC coil power when in"),
        Attribute("inrush", "VA", 1.8, "AC coil power while pulling in"),
        Attribute("pick-up", "1", 0.7, "pulls in from this share of rated voltage",
                  "IEC 61810-1 operative range, from memory"),
        Attribute("drop-out", "1", 0.15, "lets go below this share of rated voltage",
                  "IEC 61810-1 release voltage, from memory"),
        Attribute("closing time", "s", 0.01, "from voltage to contacts"),
        Attribute("opening time", "s", 0.01, "from no voltage to contacts"),
        Attribute("suppressor", "text", "yes", "diode across the coil: yes or no",
                  choices=("yes", "no")),
    ),
    modes=(
        *coil_modes(0.2, SPLIT_RELAY),
        Mode("diode-short", "suppressor diode shorted", "device",
             (change("element", "{d}/diode", "short"),), 0.08, "replace"),
        Mode("socket", "poor contact in its socket at the coil", "device",
             tuple(change("element", "{d}/socket", ohms) for ohms in ("open", "800", "5000")),
             0.12, "socket"),
        *stuck_modes(0.15, SPLIT_RELAY),
        Mode("weak", "pulls in only near full voltage", "device",
             (change("attribute", "{d}/pick-up", "1.02"),), 0.05, "replace"),
        *contact_modes(0.4, SPLIT_RELAY, ("400", "4000")),
    ),
    cures=(
        Cure("replace", "Replace the relay", 4, dead=True),
        Cure("socket", "Replace the socket", 15, tools="screwdriver"),
    ),
    rate=1.5, rate_source=RATE_217,
)

TIMER = Kind(
    name="timer",
    says="Timer relay: on-delay, off-delay, or minimum pause",
    takes_contacts=True,
    shows=("in", "out", "drops again", "chatters"),
    attributes=(
        Attribute("supply", "pins", "A1-A2", "terminals of its supply", "EN 50005"),
        Attribute("input", "pins", "", "control input (signal-return); empty: supply starts it"),
        Attribute("voltage", "V", 24.0, "rated supply voltage"),
        Attribute("current", "text", "DC", "AC or DC supply", choices=("AC", "DC")),
        Attribute("resistance", "ohm", 1200.0, "load on its supply"),
        Attribute("input resistance", "ohm", 5000.0, "load of its control input"),
        Attribute("function", "text", "on-delay",
                  "on-delay, off-delay, or pause (out for `time` after each end of the input)",
                  choices=("on-delay", "off-delay", "pause")),
        Attribute("time", "s", None, "set time"),
        Attribute("pick-up", "1", 0.7, "works from this share of rated voltage"),
        Attribute("drop-out", "1", 0.3, "stops below this share of rated voltage"),
    ),
    modes=(
        Mode("supply-open", "dead inside (supply side open)", "device",
             (change("element", "{d}/supply", "open"),), 0.2, "replace"),
        Mode("stuck-out", "output does not come", "device",
             (change("state", "{d}", "out"),), 0.25, "replace"),
        Mode("stuck-in", "output stays in", "device",
             (change("state", "{d}", "in"),), 0.15, "replace"),
        Mode("time-long", "set far too long", "device",
             (change("attribute", "{d}/time", "x8"),), 0.15, "set"),
        Mode("time-short", "set far too short", "device",
             (change("attribute", "{d}/time", "x0.1"),), 0.1, "set"),
        *contact_modes(0.15, SPLIT_RELAY, ("400", "4000")),
    ),
    cures=(
        Cure("replace", "Replace the timer and set it as on the diagram", 12),
        Cure("set", "Set the time as on the diagram and seal it", 3, dead=False),
    ),
    rate=2.0, rate_source=RATE_217,
)

BUTTON = Kind(
    name="button",
    says="Push-button, one or more steps; emergency stop when latching",
    takes_contacts=True,
    shows=("pressed", "free"),
    attributes=(
        Attribute("latching", "text", "no", "stays where it is put: yes or no",
                  choices=("yes", "no")),
        Attribute("steps", "1", 1.0, "number of steps"),
    ),
    modes=contact_modes(1.0, SPLIT_BUTTON, ("150", "1500")),
    cures=(Cure("replace", "Replace the contact block", 15, tools="screwdriver"),),
    rate=1.0, rate_source=RATE_217,
)

SELECTOR = Kind(
    name="selector",
    says="Maintained switch: selector, key switch, isolator",
    takes_contacts=True,
    attributes=(
        Attribute("positions", "text", "off on", "positions in order, separated by blanks"),
        Attribute("rests", "text", "on", "position when no condition says otherwise"),
    ),
    modes=contact_modes(1.0, "failure-mode split of a toggle switch, MIL-HDBK-338B table 7.2-1, "
                             "from memory", ("30", "300")),
    cures=(Cure("replace", "Replace the switch", 30, tools="screwdriver"),),
    rate=0.6, rate_source="enclosed disconnect, IEEE 493-1997 table 3-2, from memory, scaled",
)

LIMIT_SWITCH = Kind(
    name="limit switch",
    says="Limit, cam or released-switch: acts over positions of a setting or a device",
    takes_contacts=True,
    attributes=(),
    modes=(
        *contact_modes(0.7, "limit switch: as push-button, MIL-HDBK-338B table 7.2-1, from memory",
                       ("150", "1500")),
        Mode("early", "contact {c} acts too early", "contact",
             (change("attribute", "{d}/early:{c}", "1"),), 0.15, "adjust"),
        Mode("late", "contact {c} acts too late", "contact",
             (change("attribute", "{d}/late:{c}", "1"),), 0.15, "adjust"),
    ),
    cures=(
        Cure("replace", "Replace the switch element and set it again", 30, tools="screwdriver"),
        Cure("adjust", "Set the cam again and prove it in slow speed with no load", 15),
    ),
    rate=4.3, rate_source="limit switch 4.3 per 1e6 h, MIL-HDBK-217F notice 2, from memory",
)

FUSE = Kind(
    name="fuse",
    says="Fuse, one contact a pole; each pole blows by itself",
    takes_contacts=True,
    shows=("whole", "blown"),
    attributes=(
        Attribute("rating", "A", None, "rated current"),
        Attribute("factor", "1", 1.6, "blows above this multiple, within the job's patience",
                  "gG conventional fusing current, IEC 60269-1, from memory"),
        Attribute("time", "s", 0.4, "to blow at ten times that; falls with the square of the "
                  "current"),
    ),
    modes=(
        Mode("open", "pole {c} blown, for no other reason", "contact",
             (change("contact", "{d}:{c}", "open"),), 0.7, "replace",
             "fuse opens early .08 of its failures, MIL-HDBK-338B table 7.2-1, from memory; "
             "raised, since ageing and vibration are what a finder meets"),
        Mode("poor", "poor contact in the holder, pole {c}", "contact",
             tuple(change("contact", "{d}:{c}", ohms) for ohms in ("60", "600")), 0.3, "holder"),
    ),
    cures=(
        Cure("replace", "Replace the fuse by one of the same rating, after looking for the short",
             4),
        Cure("holder", "Clean or replace the fuse holder", 15),
    ),
    rate=0.5, rate_source=FROM_MEMORY,
)

BREAKER = Kind(
    name="breaker",
    says="Miniature or motor circuit-breaker; all poles trip together",
    takes_contacts=True,
    shows=("on", "tripped"),
    attributes=(
        Attribute("rating", "A", None, "rated current"),
        Attribute("factor", "1", 1.45, "trips above this multiple", "IEC 60898-1"),
        Attribute("time", "s", 0.1, "to trip at a short circuit"),
    ),
    modes=(
        Mode("trips", "trips without cause or does not hold", "device",
             (change("state", "{d}", "tripped"),), 0.6, "replace",
             "circuit breaker opens without cause .51, MIL-HDBK-338B table 7.2-1, from memory"),
        Mode("open", "pole {c} does not close", "contact",
             (change("contact", "{d}:{c}", "open"),), 0.25, "replace"),
        Mode("poor", "poor contact, pole {c}", "contact",
             tuple(change("contact", "{d}:{c}", ohms) for ohms in ("30", "300")), 0.15, "replace"),
    ),
    cures=(Cure("replace", "Replace the circuit-breaker", 20, tools="screwdriver"),),
    rate=1.0, rate_source="fixed LV breaker, IEEE 493-1997 table 3-2, from memory, scaled",
)

KINDS = (CONTACTOR, RELAY, TIMER, BUTTON, SELECTOR, LIMIT_SWITCH, FUSE, BREAKER)
