"""Where the power comes from: mains, transformer, rectifier, 24 V supply; and what connects."""

from faultkit.vocabulary.kinds.records import Attribute, Cure, Kind, Mode, change
from faultkit.vocabulary.origin import COMMON_PRACTICE, FROM_MEMORY

RECTIFIED = "mean of a rectified sine: sqrt2/pi = 0.450, 2 sqrt2/pi = 0.900 (mathematics)"

MAINS = Kind(
    name="mains",
    says="Incoming supply; its star point is earth (PE)",
    attributes=(
        Attribute("voltage", "V", 400.0, "line to line (three-phase) or line to neutral (single)"),
        Attribute("phases", "1", 3.0, "3 or 1", choices=("3", "1")),
        Attribute("frequency", "Hz", 50.0, "supply frequency"),
        Attribute("impedance", "ohm", 0.2, "source impedance per phase"),
        Attribute("level", "1", 1.0, "actual over rated voltage",
                  "IEC 60204-1 4.3.2: 0.9 to 1.1, from memory"),
        Attribute("sequence", "1", 1.0, "1: L1-L2-L3 clockwise; -1: two phases swapped",
                  choices=("1", "-1")),
    ),
    modes=(
        Mode("missing", "phase {c} missing", "phase", (change("element", "{d}/{c}", "open"),),
             0.6, "restore", COMMON_PRACTICE),
        Mode("swapped", "two phases swapped by work on the supply", "device",
             (change("attribute", "{d}/sequence", "-1"),), 0.3, "swap", COMMON_PRACTICE),
        Mode("low", "voltage far too low", "device",
             (change("attribute", "{d}/level", "0.7"),), 0.1, "restore", COMMON_PRACTICE),
    ),
    cures=(
        Cure("restore", "Have the supply restored by those responsible for it", 30, dead=False),
        Cure("swap", "Have two phases changed over at the incoming terminals", 15),
    ),
    rate=1.5, rate_source=FROM_MEMORY,
    pins=("L1", "L2", "L3", "N", "PE"),
)

TRANSFORMER = Kind(
    name="transformer",
    says="Control transformer",
    attributes=(
        Attribute("primary", "pins", "1-2", "primary terminals"),
        Attribute("secondary", "pins", "3-4", "secondary terminals"),
        Attribute("primary voltage", "V", 400.0, "rated"),
        Attribute("secondary voltage", "V", 110.0, "rated, at rated load"),
        Attribute("power", "VA", 160.0, "rated"),
        Attribute("primary resistance", "ohm", 25.0, "winding, 20 C"),
        Attribute("secondary resistance", "ohm", 1.0, "winding, 20 C"),
        Attribute("ratio", "1", 1.0, "actual secondary voltage over rated"),
    ),
    modes=(
        Mode("primary-open", "primary winding open", "device",
             (change("element", "{d}/primary", "open"),), 0.25, "replace",
             "transformer open .42, short .42, parameter .16, MIL-HDBK-338B, from memory"),
        Mode("secondary-open", "secondary winding open", "device",
             (change("element", "{d}/secondary", "open"),), 0.17, "replace",
             "transformer open .42, short .42, parameter .16, MIL-HDBK-338B, from memory"),
        Mode("turns-short", "shorted turns", "device",
             (change("element", "{d}/core", "40"),), 0.42, "replace",
             "transformer open .42, short .42, parameter .16, MIL-HDBK-338B, from memory"),
        Mode("tap", "wired to the wrong tap", "device",
             (change("attribute", "{d}/ratio", "0.8"),), 0.16, "tap", COMMON_PRACTICE),
    ),
    cures=(
        Cure("replace", "Replace the control transformer", 40),
        Cure("tap", "Move the wire to the tap that fits the supply", 10),
    ),
    rate=0.6, rate_source="practitioner Weibull table, eta 200 000 h, scaled",
)

DC_SUPPLY = Kind(
    name="dc supply",
    says="Regulated DC supply with current limit",
    shows=("on", "off", "limits"),
    attributes=(
        Attribute("input", "pins", "L-N", "input terminals"),
        Attribute("output", "pins", "24-0", "output, plus first"),
        Attribute("voltage", "V", 24.0, "output voltage"),
        Attribute("limit", "A", 3.0, "current limit"),
        Attribute("minimum", "V", 85.0, "input voltage from which it works"),
        Attribute("power", "VA", 40.0, "input power at usual load"),
        Attribute("rated input", "V", 110.0, "input voltage to which power refers"),
    ),
    modes=(
        Mode("dead", "gives no output", "device",
             (change("element", "{d}/output", "open"),), 0.6, "replace"),
        Mode("low", "gives too low a voltage", "device",
             (change("attribute", "{d}/voltage", "x0.6"),), 0.2, "replace"),
        Mode("input-short", "input shorted", "device",
             (change("element", "{d}/input", "short"),), 0.2, "replace"),
    ),
    cures=(Cure("replace", "Replace the DC supply", 20),),
    rate=3.0, rate_source=FROM_MEMORY,
)

RECTIFIER = Kind(
    name="rectifier",
    says="Brake rectifier, half-wave with freewheel diode or full-wave bridge",
    attributes=(
        Attribute("input", "pins", "1-2", "AC terminals"),
        Attribute("output", "pins", "3-4", "DC terminals, plus first"),
        Attribute("form", "text", "half", "half or full", RECTIFIED, choices=("half", "full")),
        Attribute("factor", "1", 1.0, "actual over ideal mean voltage"),
    ),
    modes=(
        Mode("diode-open", "a diode open", "device",
             (change("attribute", "{d}/factor", "open diode"),), 0.3, "replace",
             "rectifier diode short .51, open .29, parameter .20, MIL-HDBK-338B, from memory"),
        Mode("diode-short", "a diode shorted", "device",
             (change("element", "{d}/input", "short"),), 0.5, "replace",
             "rectifier diode short .51, open .29, parameter .20, MIL-HDBK-338B, from memory"),
    ),
    cures=(Cure("replace", "Replace the rectifier", 15),),
    rate=2.0, rate_source=FROM_MEMORY,
)

TERMINALS = Kind(
    name="terminals", says="Terminal strip; a place for probes, wires end here",
    attributes=(), modes=(), cures=(), rate=0.06,
    rate_source="terminal block 0.062 per 1e6 h, MIL-HDBK-217F notice 2, from memory",
)

PLUG = Kind(
    name="plug",
    says="Plug and socket: each contact joins a pin of side a to one of side b",
    takes_contacts=True,
    attributes=(),
    modes=(
        Mode("open", "pin {c} does not make contact", "contact",
             (change("contact", "{d}:{c}", "open"),), 0.7, "mend",
             "connector open .61, poor/intermittent .23, short .16, MIL-HDBK-338B, from memory"),
        Mode("poor", "pin {c} corroded, high resistance", "contact",
             tuple(change("contact", "{d}:{c}", ohms) for ohms in ("150", "1500")), 0.3, "mend",
             "connector open .61, poor/intermittent .23, short .16, MIL-HDBK-338B, from memory"),
    ),
    cures=(Cure("mend", "Clean or replace the plug insert", 30, tools="crimp tool"),),
    rate=1.5, rate_source=FROM_MEMORY,
)

CABLE = Kind(
    name="cable",
    says="Pendant, festoon or chain cable; its cores are hops of numbered wires",
    attributes=(
        Attribute("from", "device", None, "device at one end"),
        Attribute("to", "device", None, "device at the other end"),
        Attribute("cores", "text", None, "wire numbers, a list"),
        Attribute("length", "m", None, "length"),
        Attribute("section", "mm2", 1.0, "conductor cross-section"),
    ),
    modes=(
        Mode("broken", "core {c} broken", "core", (change("hop", "{hop}", "open"),), 0.9, "core",
             "cable open .19, wear .36, short .45, MIL-HDBK-338B, from memory; on a moving "
             "hoist cable breaks prevail (common practice)"),
    ),
    cures=(Cure("core", "Move the wire to a spare core, or replace the cable", 25, each=True),),
    rate=4.0, rate_source=FROM_MEMORY,
)

KINDS = (MAINS, TRANSFORMER, DC_SUPPLY, RECTIFIER, TERMINALS, PLUG, CABLE)
