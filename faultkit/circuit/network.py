"""The machine's network: pins merged into nodes, branches with their rows, forms of current.

Wires are ideal and merge their pins, except the hops that a cause can break: those, and the
cores of cables, are branches of their own.
"""

from collections.abc import Iterable
from dataclasses import dataclass

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from faultkit.circuit.devices import build_part
from faultkit.circuit.elements import EARTH, TERMINAL_OHM, Branch, Row, contact, ohms
from faultkit.circuit.movers import Part
from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.machine import Machine

Complex = NDArray[np.complex128]

LEAK = 1e-8
"""Siemens from every node to earth: 100 Mohm of insulation (common practice, no source)."""

CLASS_5 = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30,
           10.0: 1.91, 16.0: 1.21}
"""Section in mm2 -> ohm per km at 20 C, plain flexible copper: IEC 60228 class 5."""
COPPER = 17.241
"""ohm mm2 per km of annealed copper at 20 C (IEC 60028), for sections not in the table."""


@dataclass(frozen=True, slots=True, eq=False)
class Network:
    """The compiled network of n nodes and B branches; N = n + B unknowns."""

    node: dict[str, int]
    """Pin -> column of its voltage; earth has column N, which is always zero."""
    branches: tuple[Branch, ...]
    index: dict[str, int]
    """Branch id -> number; its current has column n + number."""
    count: int
    """n."""
    ends: NDArray[np.int64]
    """(B, 2) columns of a and b."""
    plain: Complex
    """(B, N) what alpha scales: va - vb."""
    extra: Complex
    """(B, N) what eps scales."""
    balance: Complex
    """(n, N) currents leaving each node, leak included (Kirchhoff)."""
    live: Complex
    """(B, 4) rows at rest with the supply on."""
    dead: Complex
    """(B, 4) rows for the ohmmeter."""
    direct: NDArray[np.bool_]
    """(N + 1) True for nodes that carry direct current."""
    island: NDArray[np.int64]
    """(N + 1) number of the conductively joined part a node belongs to; earth has -1."""
    phase_from: dict[int, tuple[int, int]]
    """Rectified island -> columns of the rectifier's input."""
    parts: dict[str, Part]

    def column(self, branch: str) -> int:
        """Return the column of a branch's current."""
        return self.count + self.index[branch]


def cable_ohms(machine: Machine) -> dict[str, float]:
    """Return the resistance in ohms of every hop that is a cable core, by hop name."""
    result: dict[str, float] = {}
    for device in machine.devices.values():
        if device.kind != "cable":
            continue
        one, two = str(device.attributes["from"]), str(device.attributes["to"])
        section = float(device.attributes["section"])
        size = CLASS_5.get(section, COPPER / section) * float(device.attributes["length"]) / 1000
        cores = str(device.attributes["cores"]).replace(",", " ").split()
        for core in cores:
            wire = machine.wires.get(core)
            if wire is None:
                continue
            for a, b in zip(wire.pins, wire.pins[1:], strict=False):
                if {a.split(":")[0], b.split(":")[0]} == {one, two}:
                    result[hop_name(core, a, b)] = size
    return result


def hop_name(wire: str, a: str, b: str) -> str:
    """Return the name of a hop of a wire."""
    return f"{wire}:{a}/{b}"


def bridge_name(target: str) -> str:
    """Return the branch id of a bridge."""
    return f"bridge:{target}"


def collect_branches(machine: Machine, parts: dict[str, Part],
                     changes: Iterable[Change]) -> "tuple[list[Branch], nx.Graph[str]]":
    """Return all branches, and a graph of the pins that plain wires merge."""
    faulty = {change.target for change in changes if change.what == "hop"}
    cores = cable_ohms(machine)
    merged: nx.Graph[str] = nx.Graph()
    merged.add_node(EARTH)
    merged.add_edges_from((f"{device.id}:PE", EARTH) for device in machine.devices.values()
                          if device.kind == "mains")
    branches: list[Branch] = []
    for wire in machine.wires.values():
        for a, b in zip(wire.pins, wire.pins[1:], strict=False):
            name = hop_name(wire.id, a, b)
            back = hop_name(wire.id, b, a)
            if name in faulty or back in faulty or name in cores:
                row = ohms(cores.get(name, TERMINAL_OHM))
                branches.append(Branch(name, a, b, row, row, row))
            else:
                merged.add_edge(a, b)
    for part in parts.values():
        branches.extend(part.branches)
    for target in sorted({c.target for c in changes if c.what == "bridge"}):
        a, b = target.split("/")
        branches.append(contact(bridge_name(target), a, b))
    return branches, merged


def compile_network(machine: Machine, changes: Iterable[Change]) -> Network:
    """Compile a machine so that every one of `changes` can be made to it.

    Parameters
    ----------
    machine : Machine
    changes : iterable of Change
        Hops and bridges that some cause needs.
    """
    changes = tuple(changes)
    parts = {device.id: build_part(device, machine) for device in machine.devices.values()}
    branches, merged = collect_branches(machine, parts, changes)
    pins = {pin for branch in branches for pin in (branch.a, branch.b)}
    pins |= {pin for branch in branches for pin, _ in branch.nodes}
    pins |= {pin for wire in machine.wires.values() for pin in wire.pins}
    pins |= {f"{device.id}:{pin}" for device in machine.devices.values() for pin in device.pins}
    pins |= {p for part in parts.values() if part.mover for p in part.mover.pins}
    merged.add_nodes_from(pins)
    groups = sorted(sorted(group) for group in nx.connected_components(merged)
                    if EARTH not in group)
    count, total = len(groups), len(groups) + len(branches)
    node = dict.fromkeys(nx.node_connected_component(merged, EARTH), total)
    node |= {pin: k for k, group in enumerate(groups) for pin in group}
    island, direct, phase_from = _forms(branches, parts, node, total)
    return _assemble(branches, parts, node, count, island, direct, phase_from)


def _forms(branches: list[Branch], parts: dict[str, Part], node: dict[str, int], total: int,
           ) -> tuple[NDArray[np.int64], NDArray[np.bool_], dict[int, tuple[int, int]]]:
    """Number the islands and tell which carry direct current."""
    joined: nx.Graph[int] = nx.Graph()
    joined.add_nodes_from(set(node.values()) - {total})
    for branch in branches:
        ends = (node[branch.a], node[branch.b])
        if total not in ends and not branch.id.startswith("bridge:"):
            joined.add_edge(*ends)
    island = np.full(total + 1, -1, dtype=np.int64)
    for k, group in enumerate(sorted(sorted(g) for g in nx.connected_components(joined))):
        island[group] = k
    forms: dict[int, str] = {}
    phase_from: dict[int, tuple[int, int]] = {}
    for part in parts.values():
        for source in part.sources:
            where = int(island[node[source.pin]])
            forms[where] = "ac" if "ac" in (source.form, forms.get(where)) else "dc"
            if source.phase_from:
                a, b = source.phase_from
                phase_from[where] = (node[a], node[b])
    direct = np.array([forms.get(int(k), "dc" if k >= 0 else "ac") == "dc" for k in island])
    return island, direct, phase_from


def _assemble(branches: list[Branch], parts: dict[str, Part], node: dict[str, int], count: int,
              island: NDArray[np.int64], direct: NDArray[np.bool_],
              phase_from: dict[int, tuple[int, int]]) -> Network:
    size = len(branches)
    total = count + size
    index = {branch.id: k for k, branch in enumerate(branches)}
    plain = np.zeros((size, total + 1), dtype=complex)
    extra = np.zeros((size, total + 1), dtype=complex)
    balance = np.zeros((total + 1, total + 1), dtype=complex)
    ends = np.zeros((size, 2), dtype=np.int64)
    live = np.zeros((size, 4), dtype=complex)
    dead = np.zeros((size, 4), dtype=complex)
    for k, branch in enumerate(branches):
        a, b = node[branch.a], node[branch.b]
        ends[k] = a, b
        plain[k, a] += 1
        plain[k, b] -= 1
        balance[a, count + k] += 1
        balance[b, count + k] -= 1
        for pin, factor in branch.nodes:
            extra[k, node[pin]] += factor
        for other, factor in branch.currents:
            extra[k, count + index[other]] += factor
        live[k] = row_for(branch, direct=bool(direct[a] if a != total else direct[b]))
        dead[k] = branch.dead
    balance[np.arange(count), np.arange(count)] += LEAK
    return Network(node, tuple(branches), index, count, ends, plain[:, :total],
                   extra[:, :total], balance[:count, :total], live, dead, direct, island,
                   phase_from, parts)


def row_for(branch: Branch, *, direct: bool) -> Row:
    """Return the row of a branch in the current that its island carries."""
    return branch.dc if direct else branch.ac
