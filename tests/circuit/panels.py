"""Small named panels, written as records, for tests of the circuit."""

from collections.abc import Mapping

from faultkit.vocabulary.diagnosis import Cause, Change, Symptom, Test
from faultkit.vocabulary.kinds import KINDS
from faultkit.vocabulary.machine import (
    Condition,
    Contact,
    Device,
    Machine,
    Place,
    Setting,
    Step,
    Wire,
)
from faultkit.vocabulary.origin import GENERATED


def contact(mark: str, form: str, *, step: int = 1,
            acts: tuple[str, str, str] | None = None) -> Contact:
    """Return a contact by its marking `13-14`."""
    a, b = mark.split("-")
    # short forms for tests: the plain texts stand for the literals of the records
    return Contact(mark, a, b, form, "", step, acts)  # type: ignore[arg-type]


def device(id_: str, kind: str, *contacts: Contact, **attributes: float | str) -> Device:
    """Return a device with the defaults of its kind; blanks in names are written `_`."""
    table = KINDS[kind]
    values: dict[str, float | str] = {a.name: a.default for a in table.attributes
                                      if a.default is not None}
    values |= {name.replace("_", " "): value for name, value in attributes.items()}
    pins = list(table.pins)
    for attribute in table.attributes:
        if attribute.unit == "pins":
            pins += str(values.get(attribute.name, "")).split("-")
    pins += [name for one in contacts for name in (one.a, one.b)]
    return Device(id_, kind, id_, "panel", values, tuple(dict.fromkeys(p for p in pins if p)),
                  contacts, {}, False, GENERATED)


def machine(devices: list[Device], wires: Mapping[str, list[str]],
            conditions: Mapping[str, tuple[str | None, list[Step]]],
            settings: Mapping[str, Mapping[str, float]] | None = None,
            causes: Mapping[str, list[Change]] | None = None,
            symptoms: tuple[Symptom, ...] = (), dead: frozenset[str] = frozenset()) -> Machine:
    """Return a machine made of these."""
    return Machine(
        id="panel", title="panel", says="", version="", supply="",
        places={"panel": Place("panel", "panel", 0, None, GENERATED)},
        settings={name: Setting(name, name, tuple(order), tuple(order.values()),
                                next(iter(order)), GENERATED)
                  for name, order in (settings or {}).items()},
        conditions={name: Condition(name, name, after, tuple(steps), name in dead, 0, 0, 0, (),
                                    GENERATED)
                    for name, (after, steps) in conditions.items()},
        devices={one.id: one for one in devices},
        wires={name: Wire(name, tuple(pins), GENERATED) for name, pins in wires.items()},
        symptoms={one.id: one for one in symptoms}, tests={},
        causes={name: Cause(name, "", name, 1, "", "", (tuple(changes),), {}, {}, 0, False, False,
                            GENERATED)
                for name, changes in (causes or {}).items()},
        remedies={}, safety={}, cautions=(), unknown=0.03, origin=GENERATED)


def measure(meter: str, a: str, b: str, condition: str) -> Test:
    """Return a test between two points."""
    return Test("m", "m", meter, condition, "panel", 1, (a, b), None, None, None, (), None,  # type: ignore[arg-type]
                (), "", (), False, GENERATED)


def look(seen: str, condition: str) -> Test:
    """Return a test that looks at a device."""
    return Test("l", "l", "words", condition, "panel", 1, None, None, None, seen, (), None, (), "",
                (), False, GENERATED)


def timing(device_id: str, word: str, condition: str) -> Test:
    """Return a test that times an event."""
    return Test("s", "s", "seconds", condition, "panel", 1, None, None, (device_id, word), None,
                (), None, (), "", (), False, GENERATED)


def current(pin: str, condition: str, meter: str = "clamp A") -> Test:
    """Return a test of a current into a device."""
    return Test("c", "c", meter, condition, "panel", 1, None, pin, None, None, (), None, (), "",  # type: ignore[arg-type]
                (), False, GENERATED)


def hold(target: str, value: str = "1", seconds: float = 4.0) -> Step:
    """Return the step of holding a button."""
    return Step("hold", target, value, seconds)


def rung(*, coil_ohms: float = 70.0) -> Machine:
    """A control transformer, a fuse, a button with holding contact, and a contactor.

    -X0 L1,L2 -- -T1 400/110 -- -F3 2 A -- -S1 13-14 -- -Q1 A1-A2 -- N110 (earthed)
                                         |- -Q1 13-14 -|
    """
    return machine(
        [device("-X0", "mains"), device("-T1", "transformer"),
         device("-F3", "fuse", contact("1-2", "main"), rating=2.0),
         device("-S1", "button", contact("13-14", "no")),
         device("-Q1", "contactor", contact("13-14", "no"), contact("21-22", "nc"),
                contact("1-2", "main"), coil_resistance=coil_ohms)],
        {"L1": ["-X0:L1", "-T1:1"], "L2": ["-X0:L2", "-T1:2"], "1": ["-T1:3", "-F3:1"],
         "2": ["-F3:2", "-S1:13", "-Q1:13"], "3": ["-S1:14", "-Q1:14", "-Q1:A1"],
         "N110": ["-T1:4", "-Q1:A2", "-X0:PE"]},
        {"rest": (None, []), "held": (None, [hold("-S1")]),
         "on": (None, [Step("press", "-S1", "1", 1.0)])},
        causes={
            "hop": [Change("hop", "3:-Q1:14/-Q1:A1", "open")],
            "bridge": [Change("bridge", "-S1:13/-S1:14", "0.1")],
        })
