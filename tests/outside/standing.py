"""From a machine brought into a condition to the states its devices stand in.

The sequence (who pulls in, when) is faultkit's answer; what follows from the states for each
contact is worked out here once more, from the marks and forms of the diagram alone.
"""

from collections.abc import Iterator

from faultkit.circuit.simulation import Moment, Simulation
from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.machine import Contact, Device, Machine
from tests.outside.wiring import Standing

MOVED = {"in", "running"}
"""States of a relay, timer or watching relay whose output contacts are in."""
WORDS = {"contactor", "relay", "timer", "phase relay", "thermistor relay", "limiter",
         "brake monitor"}


def standing(simulation: Simulation, moment: Moment, changes: tuple[Change, ...]) -> Standing:
    """The machine as it stands at a moment, with its faults."""
    machine = simulation.machine
    states = dict(zip(simulation.names, moment.states, strict=True))
    closed = {f"{device.id}:{contact.id}": is_closed(machine, device, contact, states,
                                                     moment.settings, changes)
              for device in machine.devices.values() for contact in device.contacts}
    for kept_open in mirrors(machine, changes):
        closed[kept_open] = False
    return Standing(machine, states, closed, moment.settings, changes)


def is_closed(machine: Machine, device: Device, contact: Contact, states: dict[str, str],
              settings: dict[str, str], changes: tuple[Change, ...]) -> bool:
    """Whether a sound contact conducts."""
    state = states.get(device.id, "")
    match device.kind:
        case "plug":
            return True
        case "fuse":
            return states[f"{device.id}:{contact.id}"] == "whole"
        case "breaker":
            return state == "on"
        case "button":
            acted = int(state) >= contact.step
        case "selector":
            order = str(device.attributes["positions"]).split()
            first, last = contact.acts[1:] if contact.acts else (order[-1], order[-1])
            acted = order.index(first) <= order.index(state) <= order.index(last)
        case "limit switch":
            acted = is_acted(machine, device, contact, states, settings, changes)
        case kind if kind in WORDS:
            acted = state in MOVED
        case other:
            raise AssertionError(f"no rule for the contacts of a {other}")
    return acted == (contact.form != "nc")


def is_acted(machine: Machine, device: Device, contact: Contact, states: dict[str, str],
             settings: dict[str, str], changes: tuple[Change, ...]) -> bool:
    """Whether a limit or released-switch is operated, wrongly set cams included."""
    assert contact.acts is not None
    what, first, last = contact.acts
    if what not in settings:
        return states[what] == first
    order = machine.settings[what].positions
    low, high = order.index(first), order.index(last)
    shift = {"early": 1, "late": -1}
    outwards = sum(shift[word] for word in shift for change in changes
                   if change.target == f"{device.id}/{word}:{contact.id}")
    # a range that reaches an end of the way has only one edge that can move
    if high < len(order) - 1:
        high += outwards
    if low > 0:
        low -= outwards
    return low <= order.index(settings[what]) <= high


def mirrors(machine: Machine, changes: tuple[Change, ...]) -> Iterator[str]:
    """Contacts held open by a welded main contact of the same contactor (mirror contacts)."""
    for change in changes:
        device = machine.devices.get(change.target.partition(":")[0])
        if change.what != "contact" or change.value != "closed" or device is None:
            continue
        forms = {f"{device.id}:{c.id}": c.form for c in device.contacts}
        if device.kind == "contactor" and forms[change.target] == "main":
            yield from (name for name, form in forms.items() if form == "nc")
