"""Faults as changes to the network or to a device's attributes.

A double fault is two lists of changes, made together and computed; nothing is guessed.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from math import nan

from faultkit.circuit.devices import build_part
from faultkit.circuit.elements import CLOSED, OPEN, SHORT_OHM, Row, ohms
from faultkit.circuit.movers import LARGEST, Part
from faultkit.circuit.network import Network, bridge_name
from faultkit.errors import CircuitError
from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.machine import Machine


@dataclass(slots=True)
class Faults:
    """What a list of changes does, in the terms of the network."""

    fixed: dict[int, tuple[Row, Row]] = field(default_factory=dict)
    """Branch number -> live and dead row that no state alters."""
    poor: dict[int, Row] = field(default_factory=dict)
    """Branch number -> row that stands for `closed`."""
    factor: dict[int, float] = field(default_factory=dict)
    """Branch number -> what its ohms are multiplied by in every state."""
    parts: dict[str, Part] = field(default_factory=dict)
    """Device -> its part, built anew with changed attributes or stuck."""
    stuck: dict[str, str] = field(default_factory=dict)
    """Device -> state it is stuck in."""


def _scaled(text: str, old: float) -> float:
    """Return a number, a factor `x1.5` or a difference `+5` applied to `old`."""
    if text.startswith("x"):
        return old * float(text[1:])
    if text.startswith("+"):
        return old + float(text[1:])
    return float(text)


def change_attribute(attributes: dict[str, float | str], name: str, value: str) -> None:
    """Change one attribute in place; words stay words."""
    old = attributes.get(name, 0.0)
    try:
        attributes[name] = _scaled(value, float(old))
    except ValueError:
        attributes[name] = value


def apply_changes(machine: Machine, network: Network, changes: Iterable[Change]) -> Faults:
    """Work out what the changes do.

    Raises
    ------
    CircuitError
        If a change names something that the network does not have.
    """
    faults = Faults()
    attributes: dict[str, dict[str, float | str]] = {}
    for change in changes:
        device, _, name = change.target.partition("/")
        if change.what in ("attribute", "state") and device not in machine.devices:
            raise CircuitError(f"The machine has no device {device}.", "Check the spelling.")
        if change.what == "attribute":
            own = attributes.setdefault(device, dict(machine.devices[device].attributes))
            change_attribute(own, name, change.value)
        elif change.what == "state":
            faults.stuck[change.target] = change.value
        else:
            _change_branch(machine, network, change, faults)
    for device, own in attributes.items():
        part = build_part(replace(machine.devices[device], attributes=own), machine)
        if not _fits(network, part):
            raise CircuitError(f"A fault cannot give {device} other terminals.",
                               "Describe it as a change to wires or contacts.")
        faults.parts[device] = part
    return faults


def _fits(network: Network, part: Part) -> bool:
    """Tell whether a part built anew hangs on the same places of the network."""
    movers = [mover for mover in (part.mover, *part.poles) if mover]
    pins = {pin for mover in movers for pin in mover.pins}
    switches = {mover.switch for mover in movers if mover.switch}
    same = all(network.index.get(branch.id, -1) >= 0
               and network.branches[network.index[branch.id]].a == branch.a
               and network.branches[network.index[branch.id]].b == branch.b
               for branch in part.branches)
    return same and pins <= network.node.keys() and switches <= network.index.keys()


def _change_branch(machine: Machine, network: Network, change: Change, faults: Faults) -> None:
    name = bridge_name(change.target) if change.what == "bridge" else change.target
    if change.what == "hop" and name not in network.index:
        wire, pair = name.split(":", 1)
        a, b = pair.split("/", 1)
        name = f"{wire}:{b}/{a}"
    if name not in network.index:
        raise CircuitError(f"The circuit has no {change.what} {change.target}.",
                           "Check the spelling, or compile the circuit with this change.")
    number = network.index[name]
    branch = network.branches[number]
    if change.what == "contact":
        _change_contact(machine, network, change, number, faults)
        return
    if change.value == "open":
        under_voltage = network.index[branch.opens] if branch.opens else number
        if under_voltage != number:
            faults.fixed[under_voltage] = (OPEN, branch_dead(network, under_voltage))
            faults.fixed[number] = (live_row(network, number), OPEN)
        else:
            faults.fixed[number] = (OPEN, OPEN)
        return
    if change.value == "short":
        row = ohms(SHORT_OHM)
    elif change.value.startswith("x"):
        faults.factor[number] = _amount(change, change.value[1:])
        return
    else:
        row = ohms(_amount(change, change.value))
    if change.what == "element" and row_is_closed(network, number):
        faults.poor[number] = row
    else:
        faults.fixed[number] = (row, row)


def _change_contact(machine: Machine, network: Network, change: Change, number: int,
                    faults: Faults) -> None:
    if change.value == "open":
        faults.fixed[number] = (OPEN, OPEN)
    elif change.value == "closed":
        faults.fixed[number] = (CLOSED, CLOSED)
        device = machine.devices[change.target.split(":", 1)[0]]
        form = next(one.form for one in device.contacts
                    if f"{device.id}:{one.id}" == change.target)
        if device.kind == "contactor" and form == "main":
            # mirror contacts, IEC 60947-4-1 annex F: a welded main contact keeps them open
            # (unless another change says of that contact itself what it does)
            for one in device.contacts:
                if one.form == "nc":
                    mirror = network.index[f"{device.id}:{one.id}"]
                    faults.fixed.setdefault(mirror, (OPEN, OPEN))
    else:
        faults.poor[number] = ohms(_amount(change, change.value))


def _amount(change: Change, text: str) -> float:
    """Return the ohms or the factor of a change."""
    try:
        value = float(text)
    except ValueError:
        value = nan
    if not 0.0 <= value <= LARGEST:
        raise CircuitError(f"A fault cannot make {change.target} {change.value!r}.",
                           "Write open, short, closed, ohms, or a factor such as x0.5.")
    return value


def live_row(network: Network, number: int) -> Row:
    """Return the live row of a branch at rest."""
    a, b, c, d = network.live[number]
    return (complex(a), complex(b), complex(c), complex(d))


def branch_dead(network: Network, number: int) -> Row:
    """Return the ohmmeter's row of a branch at rest."""
    return network.branches[number].dead


def row_is_closed(network: Network, number: int) -> bool:
    """Tell whether a branch is a closed contact at rest (a relay's socket)."""
    return network.branches[number].ac == CLOSED
