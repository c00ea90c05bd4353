"""The run between two pins, as a finger would follow it on the diagram."""

from itertools import pairwise
from pathlib import Path

import pytest

from faultkit.circuit.path import Hop, path_between, ring_between
from faultkit.loading import load
from faultkit.vocabulary.machine import Machine

RUNG = """
machine: One rung
places: {panel: {says: Panel}}
conditions: {ready: {says: On}}
devices:
  -U1: {kind: mains, place: panel}
  -T1: {kind: transformer, place: panel}
  -F3: {kind: fuse, rating: 2 A, place: panel, contacts: {1-2: main}}
  -S2: {kind: button, place: panel, contacts: {13-14: no}}
  -X1: {kind: terminals, place: panel, pins: [7]}
  -Q2: {kind: contactor, place: panel, contacts: {13-14: no}}
  -H1: {kind: lamp, place: panel}
  -H9: {kind: lamp, place: panel}
wires:
  L1: [-U1:L1, -T1:1]
  L2: [-U1:L2, -T1:2]
  "4": [-T1:3, -F3:1]
  "5": [-F3:2, -S2:13]
  "7": [-S2:14, -X1:7, -Q2:A1, -H1:X1]
  N: [-T1:4, -Q2:A2, -H1:X2]
  "99": [-H9:X1, -Q2:13]
"""


@pytest.fixture(scope="module")
def rung(tmp_path_factory: pytest.TempPathFactory) -> Machine:
    file: Path = tmp_path_factory.mktemp("rung") / "rung.yaml"
    file.write_text(RUNG, encoding="utf-8")
    loaded = load(file)
    assert loaded.machine is not None, loaded.problems
    return loaded.machine


def test_across_a_coil_the_run_is_the_coil(rung: Machine) -> None:
    assert path_between(rung, "-Q2:A1", "-Q2:A2") == (
        Hop("-Q2:A1", "-Q2/coil", "-Q2:A2", "load"),)


def test_every_hop_begins_where_the_last_one_ended_and_names_what_it_goes_through(
    rung: Machine,
) -> None:
    hops = path_between(rung, "-F3:1", "-Q2:A1")
    assert [hop.by for hop in hops] == ["-F3:1-2", "5", "-S2:13-14", "7", "7"]
    assert [hop.way for hop in hops] == ["contact", "wire", "contact", "wire", "wire"]
    assert hops[0].a == "-F3:1"
    assert hops[-1].b == "-Q2:A1"
    assert all(one.b == other.a for one, other in pairwise(hops))


def test_the_run_to_the_return_goes_through_a_load_and_not_back_through_the_supply(
    rung: Machine,
) -> None:
    ways = {hop.way for hop in path_between(rung, "-F3:1", "-T1:4")}
    assert "source" not in ways
    assert "load" in ways


def test_the_ring_of_a_point_leads_through_the_supply_to_it_and_through_a_load_back(
    rung: Machine,
) -> None:
    hops = ring_between(rung, "-X1:7", "-Q2:A2")
    assert hops[0].a == hops[-1].b == "-Q2:A2"
    assert [hop.by for hop in hops if hop.way != "wire"] == [
        "-T1/secondary", "-F3:1-2", "-S2:13-14", "-Q2/coil"]
    assert all(one.b == other.a for one, other in pairwise(hops))


def test_the_way_back_never_uses_a_part_of_the_way_there(rung: Machine) -> None:
    for pin in ("-F3:2", "-S2:13", "-S2:14", "-H1:X1"):
        parts = [hop.by for hop in ring_between(rung, pin, "-T1:4") if hop.way != "wire"]
        assert len(parts) == len(set(parts))
        assert parts[0] == "-T1/secondary"
        assert parts[-1] in {"-Q2/coil", "-H1/pins"}


@pytest.mark.parametrize(("start", "end"), [
    ("-Q2:A1", "-Q2:A1"), ("-Q2:A1", "-Z9:1"), ("-Q2:A1", "-H9:X1")])
def test_pins_that_are_not_joined_have_no_run(rung: Machine, start: str, end: str) -> None:
    assert path_between(rung, start, end) == ()
    assert ring_between(rung, start, end) == ()


def test_without_a_supply_on_the_way_there_is_no_ring(rung: Machine) -> None:
    assert ring_between(rung, "-Q2:13", "-H9:X1") == ()
