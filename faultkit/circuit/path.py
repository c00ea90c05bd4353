"""The run of the circuit between two pins: which wires, contacts and windings lie on the way.

A picture for the person at the panel, not a calculation: a finger following the diagram.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

import networkx as nx

from faultkit.vocabulary.diagnosis import Test
from faultkit.vocabulary.kinds import KINDS
from faultkit.vocabulary.machine import Device, Machine

Way = Literal["wire", "contact", "load", "source"]

SOURCES = frozenset({
    ("mains", "phases"), ("transformer", "secondary"), ("dc supply", "output"),
    ("rectifier", "output"),
})
"""(kind, attribute) of the windings and outputs that feed what hangs on them."""

ACROSS = 1000.0
"""Length of an avoided part: longer than any run of wires, so it is taken only for want of
another way."""


@dataclass(frozen=True, slots=True)
class Hop:
    """One piece of the way: from pin `a` to pin `b` by a wire or through a device."""

    a: str
    by: str
    """Wire number, or `-Q2:13-14` for a contact, or `-Q2/coil` for an inner element."""
    b: str
    way: Way


def ends_of(machine: Machine, test: Test) -> tuple[str, str] | None:
    """The two points a measurement is made at; for a current the nearest other pin of its device.

    None where no point is touched.
    """
    if test.between is not None:
        return test.between
    if test.through is None:
        return None
    name = test.through.partition(":")[0]
    pins = machine.devices[name].pins if name in machine.devices else ()
    runs = [(len(path), f"{name}:{pin}") for pin in pins if f"{name}:{pin}" != test.through
            and (path := path_between(machine, test.through, f"{name}:{pin}"))]
    return (test.through, min(runs)[1]) if runs else None


def path_between(machine: Machine, pin_a: str, pin_b: str) -> tuple[Hop, ...]:
    """The shortest run between two pins that does not lead back through a supply.

    It is what an ohmmeter looks along, and what lies between a point and its return. Windings
    of supplies are used only where there is no other way. Empty where the pins are not joined,
    unknown, or the same.

    Parameters
    ----------
    machine : Machine
    pin_a, pin_b : str
        Full pins, `-X1:14`.

    Returns
    -------
    tuple of Hop, in order from `pin_a` to `pin_b`.
    """
    return _shortest(_net(machine), pin_a, pin_b, avoid="source")


def ring_between(machine: Machine, pin_a: str, pin_b: str) -> tuple[Hop, ...]:
    """The ring that a voltage at `pin_a` against `pin_b` belongs to.

    From `pin_b` through the supply up to `pin_a`, avoiding loads: everything that must conduct
    for a voltage to stand there. Then on from `pin_a` through a load back to `pin_b`, without
    touching the way from the supply again; that part is left out where there is none. Empty
    where no supply lies on the way.
    """
    net = _net(machine)
    feed = _shortest(net, pin_b, pin_a, avoid="load")
    if not any(hop.way == "source" for hop in feed) or any(hop.way == "load" for hop in feed):
        return ()
    last = max(number for number, hop in enumerate(feed) if hop.way == "source")
    passed = {hop.b for hop in feed[last:-1]}
    ends = {pin_a, pin_b} | _joined_to(machine, {pin_a, pin_b})
    net.remove_nodes_from((passed | _joined_to(machine, passed)) - ends)
    back = _shortest(net, pin_a, pin_b, avoid="source")
    return feed if any(hop.way == "source" for hop in back) else (*feed, *back)


def _joined_to(machine: Machine, pins: set[str]) -> set[str]:
    """Pins on the wires of some pins."""
    return {pin for wire in machine.wires.values() if pins & set(wire.pins)
            for pin in wire.pins}


def _shortest(net: "nx.Graph[str]", start: str, end: str, avoid: Way) -> tuple[Hop, ...]:
    if start == end or start not in net or end not in net:
        return ()

    def length(_a: str, _b: str, edge: dict[str, str]) -> float:
        return ACROSS if edge["way"] == avoid else 1.0

    try:
        pins = nx.shortest_path(net, start, end, weight=length)
    except nx.NetworkXNoPath:
        return ()
    return tuple(
        Hop(a, net.edges[a, b]["by"], b, net.edges[a, b]["way"])
        for a, b in pairwise(pins)
    )


def _net(machine: Machine) -> "nx.Graph[str]":
    """Every pin, joined by wires, contacts and the inner elements of devices."""
    net: nx.Graph[str] = nx.Graph()
    for wire in machine.wires.values():
        for a, b in pairwise(wire.pins):
            net.add_edge(a, b, by=wire.id, way="wire")
    for device in machine.devices.values():
        for contact in device.contacts:
            a, b = f"{device.id}:{contact.a}", f"{device.id}:{contact.b}"
            if not net.has_edge(a, b):
                net.add_edge(a, b, by=f"{device.id}:{contact.id}", way="contact")
        _add_elements(net, device)
    return net


def _add_elements(net: "nx.Graph[str]", device: Device) -> None:
    """Coils, windings, lamps and the like, from the pins their kind's table names."""
    kind = KINDS.get(device.kind)
    for attribute in kind.attributes if kind else ():
        pins = device.attributes.get(attribute.name, attribute.default)
        if attribute.unit != "pins" or not isinstance(pins, str) or not pins:
            continue
        way: Way = "source" if (device.kind, attribute.name) in SOURCES else "load"
        names = pins.split("-")
        for a, b in pairwise(names):
            first, last = f"{device.id}:{a}", f"{device.id}:{b}"
            if not net.has_edge(first, last):
                net.add_edge(first, last, by=f"{device.id}/{attribute.name}", way=way)
    if device.kind == "mains":
        present = [pin for pin in kind.pins if f"{device.id}:{pin}" in net] if kind else []
        for a, b in pairwise(present):
            net.add_edge(f"{device.id}:{a}", f"{device.id}:{b}", by=f"{device.id}/phases",
                         way="source")
