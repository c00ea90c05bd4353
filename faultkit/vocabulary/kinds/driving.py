"""What moves, senses and watches: motor, brake, load pin, and the relays that judge them."""

from faultkit.vocabulary.kinds.records import Attribute, Cure, Kind, Mode, change
from faultkit.vocabulary.kinds.switching import RATE_217, SPLIT_RELAY, contact_modes
from faultkit.vocabulary.origin import COMMON_PRACTICE, FROM_MEMORY

LIVE_ZERO = "IEC 60381-1: 4 to 20 mA; NAMUR NE 43: fault at or below 3.6, at or above 21 mA"


def module_modes(defeated: str) -> tuple[Mode, ...]:
    """A watching relay that never allows, one that never stops, and its contacts."""
    return (
        Mode("supply-open", "dead inside (supply side open)", "device",
             (change("element", "{d}/supply", "open"),), 0.2, "replace"),
        Mode("stuck-out", "output does not come", "device",
             (change("state", "{d}", "out"),), 0.3, "replace"),
        Mode("stuck-in", defeated, "device",
             (change("state", "{d}", "in"),), 0.15, "replace"),
        *contact_modes(0.15, SPLIT_RELAY, ("400", "4000")),
    )


PHASE_RELAY = Kind(
    name="phase relay",
    says="Phase-failure and phase-sequence relay, fed by what it watches",
    takes_contacts=True,
    shows=("in", "out"),
    attributes=(
        Attribute("phases", "pins", "L1-L2-L3", "terminals, in the order that is right", count=3),
        Attribute("voltage", "V", 400.0, "rated line voltage"),
        Attribute("low", "1", 0.8, "lets go below this share"),
        Attribute("unbalance", "1", 0.1, "lets go above this share of negative sequence"),
        Attribute("delay", "s", 0.2, "before it lets go"),
    ),
    modes=(
        Mode("stuck-out", "output does not come", "device",
             (change("state", "{d}", "out"),), 0.5, "replace"),
        Mode("stuck-in", "does not let go on a wrong supply", "device",
             (change("state", "{d}", "in"),), 0.2, "replace"),
        *contact_modes(0.3, SPLIT_RELAY, ("150", "1500")),
    ),
    cures=(Cure("replace", "Replace the phase relay", 20),),
    rate=1.5, rate_source=RATE_217,
)

THERMISTOR_RELAY = Kind(
    name="thermistor relay",
    says="Relay for PTC thermistors in a motor winding",
    takes_contacts=True,
    shows=("in", "out"),
    attributes=(
        Attribute("supply", "pins", "A1-A2", "terminals of its supply"),
        Attribute("sensor", "pins", "T1-T2", "terminals of the thermistor loop"),
        Attribute("voltage", "V", 24.0, "rated supply voltage"),
        Attribute("current", "text", "DC", "AC or DC supply", choices=("AC", "DC")),
        Attribute("resistance", "ohm", 1500.0, "load on its supply"),
        Attribute("trip", "ohm", 3600.0, "lets go above this loop resistance", COMMON_PRACTICE),
        Attribute("reset", "ohm", 1650.0, "comes back below this loop resistance",
                  "three sensors at TNAT-5 K: 3 x 550 ohm, DIN 44081"),
        Attribute("short", "ohm", 20.0, "lets go below this loop resistance"),
    ),
    modes=module_modes("does not let go on a hot motor"),
    cures=(Cure("replace", "Replace the thermistor relay", 15),),
    rate=1.5, rate_source=RATE_217,
)

LIMITER = Kind(
    name="limiter",
    says="Overload limiter: judges the load signal, in = load allowed",
    takes_contacts=True,
    shows=("in", "out", "drops again"),
    attributes=(
        Attribute("supply", "pins", "A1-A2", "terminals of its supply"),
        Attribute("signal", "pins", "S1-S2", "current input"),
        Attribute("voltage", "V", 24.0, "rated supply voltage"),
        Attribute("current", "text", "DC", "AC or DC supply", choices=("AC", "DC")),
        Attribute("resistance", "ohm", 800.0, "load on its supply"),
        Attribute("burden", "ohm", 100.0, "resistance of the current input"),
        Attribute("span", "%", 125.0, "load that it takes 20 mA for"),
        Attribute("trip", "%", 110.0, "lets go above this load"),
        Attribute("reset", "%", 90.0, "comes back below this load"),
        Attribute("delay", "s", 0.3, "before it lets go"),
        Attribute("low fault", "A", 0.0036, "loop fault at or below", LIVE_ZERO),
        Attribute("high fault", "A", 0.021, "loop fault at or above", LIVE_ZERO),
    ),
    modes=(
        *module_modes("output stays in, overload not stopped"),
        Mode("trip-low", "trip set far too low", "device",
             (change("attribute", "{d}/trip", "40"),), 0.1, "set"),
        Mode("trip-high", "trip set far too high", "device",
             (change("attribute", "{d}/trip", "200"),), 0.05, "set"),
        Mode("delay-long", "delay set far too long", "device",
             (change("attribute", "{d}/delay", "5"),), 0.05, "set"),
    ),
    cures=(
        Cure("replace", "Replace the limiter and set it with a known load", 45, proof=15),
        Cure("set", "Set the limiter with a known load, as the maker and local rules say", 30,
             proof=15, dead=False),
    ),
    rate=2.5, rate_source=RATE_217,
)

LOAD_PIN = Kind(
    name="load pin",
    says="Load pin with two-wire 4-20 mA signal",
    attributes=(
        Attribute("signal", "pins", "1-2", "plus first"),
        Attribute("measures", "setting", "load", "the setting it feels, in percent of rated load"),
        Attribute("span", "%", 125.0, "load at 20 mA"),
        Attribute("zero", "A", 0.004, "current with no load", LIVE_ZERO),
        Attribute("headroom", "V", 8.0, "voltage it needs at its largest current"),
    ),
    modes=(
        Mode("open", "signal open inside", "device",
             (change("element", "{d}/signal", "open"),), 0.25, "replace"),
        Mode("zero-high", "zero drifted up", "device",
             tuple(change("attribute", "{d}/zero", amps) for amps in ("0.0095", "0.019")),
             0.15, "replace"),
        Mode("zero-low", "zero drifted down", "device",
             (change("attribute", "{d}/zero", "0.003"),), 0.1, "replace"),
        Mode("span", "reads far too much load (wrong span)", "device",
             (change("attribute", "{d}/span", "x0.5"),), 0.1, "set"),
        Mode("wet", "moisture in its plug, leakage across the signal", "device",
             tuple(change("element", "{d}/leak", ohms) for ohms in ("1600", "1200")), 0.4, "dry"),
    ),
    cures=(
        Cure("replace", "Replace the load pin and set the limiter with a known load", 90, proof=15),
        Cure("set", "Set the span with a known load", 30, proof=15, dead=False),
        Cure("dry", "Dry and seal the plug of the load pin", 25, proof=10),
    ),
    rate=3.0, rate_source=FROM_MEMORY,
)

BRAKE_MONITOR = Kind(
    name="brake monitor",
    says="Compares brake command and released-switch; out = fault, until its supply is off",
    takes_contacts=True,
    shows=("in", "out", "drops again"),
    attributes=(
        Attribute("supply", "pins", "A1-A2", "terminals of its supply"),
        Attribute("command", "pins", "C1-C2", "command input"),
        Attribute("feedback", "pins", "F1-F2", "feedback input"),
        Attribute("voltage", "V", 24.0, "rated supply and input voltage"),
        Attribute("current", "text", "DC", "AC or DC supply", choices=("AC", "DC")),
        Attribute("resistance", "ohm", 800.0, "load on its supply"),
        Attribute("input resistance", "ohm", 5000.0, "load of an input"),
        Attribute("time", "s", 0.5, "command and feedback may differ for this long"),
    ),
    modes=(
        *module_modes("output stays in, brake not watched"),
        Mode("time-short", "time set far too short", "device",
             (change("attribute", "{d}/time", "0.05"),), 0.15, "set"),
        Mode("command-dead", "command input dead", "device",
             (change("element", "{d}/command", "open"),), 0.05, "replace"),
        Mode("feedback-dead", "feedback input dead", "device",
             (change("element", "{d}/feedback", "open"),), 0.05, "replace"),
    ),
    cures=(
        Cure("replace", "Replace the brake monitor", 20, proof=6),
        Cure("set", "Set the monitor time as on the diagram", 4, proof=6, dead=False),
    ),
    rate=2.0, rate_source=RATE_217,
)

BRAKE = Kind(
    name="brake",
    says="Spring-set brake with a DC coil",
    shows=("released", "set"),
    attributes=(
        Attribute("coil", "pins", "1-2", "coil terminals"),
        Attribute("voltage", "V", 180.0, "rated coil voltage"),
        Attribute("resistance", "ohm", 360.0, "coil at 20 C"),
        Attribute("pick-up", "1", 0.7, "releases from this share of rated voltage"),
        Attribute("drop-out", "1", 0.2, "sets below this share of rated voltage"),
        Attribute("release time", "s", 0.15, "from voltage to free"),
        Attribute("set time", "s", 0.05, "to set when the DC side is opened"),
        Attribute("slow set time", "s", 0.35, "to set when only the AC side is opened",
                  "common practice, no source: 4 to 10 times the DC-side time"),
        Attribute("fast contact", "contact", "", "contact in the DC side that makes it set fast"),
    ),
    modes=(
        Mode("coil-open", "coil open", "device", (change("element", "{d}/coil", "open"),),
             0.2, "coil", "solenoid short .52, slow .43, open .05, MIL-HDBK-338B, from memory; "
                          "reweighted for a brake coil"),
        Mode("coil-short", "coil shorted", "device", (change("element", "{d}/coil", "short"),),
             0.1, "coil", "solenoid split, MIL-HDBK-338B, from memory"),
        Mode("coil-turns", "coil with shorted turns", "device",
             (change("element", "{d}/coil", "x0.55"),), 0.1, "coil"),
        Mode("gap", "air gap too wide, does not release in time", "device",
             (change("attribute", "{d}/pick-up", "1.15"),
              change("attribute", "{d}/release time", "0.9")), 0.3, "gap", COMMON_PRACTICE),
        Mode("stuck-set", "stuck, does not release", "device",
             (change("state", "{d}", "set"),), 0.15, "free", COMMON_PRACTICE),
        Mode("stuck-released", "stuck, does not set", "device",
             (change("state", "{d}", "released"),), 0.05, "free", COMMON_PRACTICE),
        Mode("slow", "sets too late (oil, rust, weak spring)", "device",
             (change("attribute", "{d}/set time", "0.8"),), 0.1, "free", COMMON_PRACTICE),
    ),
    cures=(
        Cure("coil", "Replace the brake coil", 60, proof=10, tools="brake tools"),
        Cure("gap", "Set the air gap by the brake's plate, load landed", 35, proof=10,
             tools="feeler gauge"),
        Cure("free", "Overhaul the brake, load landed", 90, proof=10, tools="brake tools"),
    ),
    rate=6.0, rate_source=FROM_MEMORY,
)

MOTOR = Kind(
    name="motor",
    says="Three-phase squirrel-cage motor, one or two star-connected windings",
    shows=("still", "hums", "stops again", "up", "down", "up slow", "down slow", "up fast",
           "down fast"),
    attributes=(
        Attribute("slow", "pins", "", "winding for slow speed, three pins", count=3),
        Attribute("fast", "pins", "", "winding for fast speed, three pins", count=3),
        Attribute("winding", "pins", "", "the only winding of a single-speed motor", count=3),
        Attribute("resistance", "ohm", 2.5, "per phase, fast or only winding, 20 C"),
        Attribute("impedance", "ohm", 25.0, "per phase when running, fast or only winding"),
        Attribute("slow resistance", "ohm", 22.0, "per phase, slow winding, 20 C"),
        Attribute("slow impedance", "ohm", 90.0, "per phase when running, slow winding"),
        Attribute("voltage", "V", 400.0, "rated line voltage"),
        Attribute("brake", "device", "", "brake that must be released for it to turn"),
        Attribute("forward", "text", "up", "word for turning with right sequence"),
        Attribute("reverse", "text", "down", "word for turning with wrong sequence"),
    ),
    modes=(
        Mode("open", "winding {c} open", "winding phase",
             (change("element", "{d}/{c}", "open"),), 0.4, "replace",
             "AC motor winding .31, bearing .28, fails to run .23, to start .18, "
             "MIL-HDBK-338B table 7.2-1, from memory"),
        Mode("short", "winding {c} shorted", "winding phase",
             (change("element", "{d}/{c}", "0.3"),), 0.25, "replace",
             "AC motor split, MIL-HDBK-338B table 7.2-1, from memory"),
        Mode("seized", "seized (bearing or gear)", "device",
             (change("state", "{d}", "hums"),), 0.35, "replace",
             "AC motor split, MIL-HDBK-338B table 7.2-1, from memory"),
    ),
    cures=(Cure("replace", "Replace or rewind the motor", 180, proof=10, tools="lifting gear"),),
    rate=5.0, rate_source="practitioner Weibull table, eta 100 000 h, scaled",
)

PTC = Kind(
    name="ptc",
    says="PTC thermistors in series in a motor winding",
    attributes=(
        Attribute("pins", "pins", "1-2", "terminals of the chain"),
        Attribute("sensors", "1", 3.0, "thermistors in series"),
        Attribute("cold", "ohm", 60.0, "each, cold; at most 250", "DIN 44081"),
        Attribute("hot", "ohm", 4000.0, "each at TNAT+15 K; at least 4000", "DIN 44081"),
        Attribute("measures", "setting", "", "setting whose last position means hot"),
    ),
    modes=(
        Mode("open", "thermistor open", "device", (change("element", "{d}/chain", "open"),),
             0.6, "replace"),
        Mode("short", "thermistor loop shorted", "device",
             (change("element", "{d}/chain", "short"),), 0.2, "replace"),
        Mode("hot", "motor too hot, thermistor high", "device",
             (change("element", "{d}/chain", "9000"),), 0.4, "cool", COMMON_PRACTICE),
    ),
    cures=(
        Cure("replace", "Use the spare thermistor chain, or replace the motor", 120),
        Cure("cool", "Let the motor cool and find what made it hot", 45, dead=False),
    ),
    rate=1.0, rate_source=FROM_MEMORY,
)

LAMP = Kind(
    name="lamp",
    says="Indicator lamp",
    shows=("lit", "dark", "dim"),
    attributes=(
        Attribute("pins", "pins", "X1-X2", "terminals", "EN 50005"),
        Attribute("voltage", "V", 110.0, "rated"),
        Attribute("power", "W", 2.0, "rated"),
    ),
    modes=(Mode("burnt", "burnt out", "device", (change("element", "{d}/lamp", "open"),),
                1.0, "replace", COMMON_PRACTICE),),
    cures=(Cure("replace", "Replace the lamp", 4, proof=1),),
    rate=2.0, rate_source=FROM_MEMORY,
)

RESISTOR = Kind(
    name="resistor",
    says="Resistor or heater",
    attributes=(
        Attribute("pins", "pins", "1-2", "terminals"),
        Attribute("resistance", "ohm", None, "at 20 C"),
    ),
    modes=(
        Mode("open", "open", "device", (change("element", "{d}/body", "open"),), 0.65, "replace",
             "wire-wound resistor open .65, parameter .26, short .09, MIL-HDBK-338B, from memory"),
        Mode("short", "shorted", "device", (change("element", "{d}/body", "short"),), 0.09,
             "replace",
             "wire-wound resistor open .65, parameter .26, short .09, MIL-HDBK-338B, from memory"),
    ),
    cures=(Cure("replace", "Replace the resistor", 12),),
    rate=0.3, rate_source=FROM_MEMORY,
)

OTHER = Kind(
    name="other",
    says="A device without wiring: its causes are written by hand",
    attributes=(), modes=(), cures=(), rate=1.0, rate_source=FROM_MEMORY,
)

KINDS = (PHASE_RELAY, THERMISTOR_RELAY, LIMITER, LOAD_PIN, BRAKE_MONITOR, BRAKE, MOTOR, PTC, LAMP,
         RESISTOR, OTHER)
