"""One rung, healthy and faulty, against values worked by hand."""

from math import inf, isinf, sqrt

import pytest

from faultkit.circuit.circuit import Circuit
from faultkit.vocabulary.diagnosis import Change, Test
from tests.circuit.panels import current, look, measure, rung, timing

COIL_REST = measure("V AC", "-Q1:A1", "-Q1:A2", "rest")
COIL_HELD = measure("V AC", "-Q1:A1", "-Q1:A2", "held")
COIL_ON = measure("V AC", "-Q1:A1", "-Q1:A2", "on")
COIL_OHM = measure("ohm", "-Q1:A1", "-Q1:A2", "rest")
SECONDARY = measure("V AC", "-T1:3", "-T1:4", "rest")


@pytest.fixture(scope="module")
def circuit() -> Circuit:
    return Circuit(rung())


def value(circuit: Circuit, test: Test, *changes: Change) -> float:
    return circuit.read(circuit.simulate(changes), [test])[0].value


def word(circuit: Circuit, test: Test, *changes: Change) -> str:
    return circuit.read(circuit.simulate(changes), [test])[0].word


def test_the_secondary_shows_its_no_load_voltage(circuit: Circuit) -> None:
    """Rated voltage is meant at rated load: 110 V plus the drop of 160 VA over both windings."""
    turns = 400 / 110
    drop = (1.0 + 25.0 / turns**2) * 160 / 110
    assert value(circuit, SECONDARY) == pytest.approx(110 + drop, rel=0.005)


def test_a_pressed_button_pulls_the_contactor_in_and_it_holds_itself(circuit: Circuit) -> None:
    assert word(circuit, look("-Q1", "rest")) == "out"
    assert word(circuit, look("-Q1", "held")) == "in"
    assert word(circuit, look("-Q1", "on")) == "in"
    assert value(circuit, COIL_REST) < 0.01


def test_the_coil_takes_its_sealed_power_once_it_is_in(circuit: Circuit) -> None:
    """9 VA at 110 V: Z = 110 V squared over 9 VA."""
    volts = value(circuit, COIL_ON)
    amps = value(circuit, current("-Q1:A1", "on"))
    assert volts / amps == pytest.approx(110**2 / 9, rel=1e-6)


def test_an_open_coil_has_full_voltage_and_never_pulls_in(circuit: Circuit) -> None:
    broken = Change("element", "-Q1/coil", "open")
    assert value(circuit, COIL_HELD, broken) == pytest.approx(114.2, rel=0.01)
    assert word(circuit, look("-Q1", "held"), broken) == "out"
    assert isinf(value(circuit, COIL_OHM, broken))
    assert value(circuit, timing("-Q1", "in", "held"), broken) == inf


def test_a_shorted_coil_blows_the_fuse_which_is_then_found_blown(circuit: Circuit) -> None:
    """The blown fuse is the consequence; dead, the coil still shows its short."""
    machine = circuit.machine
    assert not machine.symptoms
    shorted = Change("element", "-Q1/coil", "short")
    assert word(circuit, look("-F3", "held"), shorted) == "blown"
    assert value(circuit, COIL_OHM, shorted) == pytest.approx(0.5, abs=0.01)


def test_a_resistive_contact_reads_well_dead_and_drops_the_voltage_under_load(
        circuit: Circuit) -> None:
    """150 ohm against the inrush impedance of 173 ohm at power factor 0.7."""
    poor = Change("contact", "-S1:13-14", "150")
    size = 110**2 / 70
    coil = complex(size * 0.7, size * sqrt(1 - 0.49))
    expected = 114.2 * abs(coil) / abs(coil + 150)
    assert value(circuit, COIL_HELD, poor) == pytest.approx(expected, rel=0.02)
    assert word(circuit, look("-Q1", "held"), poor) == "out"


def test_a_broken_hop_leaves_no_voltage_behind_it(circuit: Circuit) -> None:
    broken = Change("hop", "3:-Q1:14/-Q1:A1", "open")
    assert value(circuit, COIL_HELD, broken) < 0.01
    before = measure("V AC", "-S1:14", "-Q1:A2", "held")
    assert value(circuit, before, broken) == pytest.approx(114.2, rel=0.01)


def test_a_forgotten_jumper_starts_the_machine_by_itself(circuit: Circuit) -> None:
    jumper = Change("bridge", "-S1:13/-S1:14", "0.1")
    assert word(circuit, look("-Q1", "rest"), jumper) == "in"


def test_a_welded_main_contact_keeps_the_mirror_contact_open(circuit: Circuit) -> None:
    """IEC 60947-4-1 annex F."""
    welded = Change("contact", "-Q1:1-2", "closed")
    mirror = measure("ohm", "-Q1:21", "-Q1:22", "rest")
    assert value(circuit, mirror) == pytest.approx(0.03, abs=0.02)
    assert isinf(value(circuit, mirror, welded))


def test_a_contactor_pulls_in_between_its_standard_limits(circuit: Circuit) -> None:
    """IEC 60947-4-1: closes at 0.85 Us and more; a coil at 0.6 Us stays out."""
    low, lower = (Change("attribute", "-T1/ratio", text) for text in ("0.85", "0.6"))
    assert word(circuit, look("-Q1", "held"), low) == "in"
    assert word(circuit, look("-Q1", "held"), lower) == "out"


def test_ohms_through_a_transformer_winding_are_those_of_the_winding(circuit: Circuit) -> None:
    assert value(circuit, measure("ohm", "-T1:3", "-T1:4", "rest")) == pytest.approx(1.0, rel=0.01)
    opened = Change("element", "-T1/secondary", "open")
    # what is left are the coil circuits beside it, and here none is closed
    assert isinf(value(circuit, measure("ohm", "-T1:3", "-T1:4", "rest"), opened))


def test_two_faults_are_computed_together(circuit: Circuit) -> None:
    """A jumper hides the broken button; the open coil still keeps the contactor out."""
    jumper = Change("bridge", "-S1:13/-S1:14", "0.1")
    button = Change("contact", "-S1:13-14", "open")
    coil = Change("element", "-Q1/coil", "open")
    assert word(circuit, look("-Q1", "held"), button) == "out"
    assert word(circuit, look("-Q1", "held"), button, jumper) == "in"
    assert word(circuit, look("-Q1", "held"), button, jumper, coil) == "out"


def test_voltages_follow_the_supply_level_and_ohms_do_not(circuit: Circuit) -> None:
    measured = circuit.read(circuit.simulate(), [COIL_HELD, COIL_OHM])
    assert measured[0].level == pytest.approx(measured[0].value, rel=1e-9)
    assert measured[1].level == 0.0


def test_the_meter_loads_a_floating_point_instead_of_inventing_a_voltage(circuit: Circuit) -> None:
    """Between two open contacts lies a node that only insulation joins to anything."""
    both = (Change("element", "-Q1/coil", "open"), Change("contact", "-S1:13-14", "open"))
    assert value(circuit, measure("V AC", "-Q1:A1", "-T1:4", "held"), *both) < 12
    assert value(circuit, measure("V AC low", "-Q1:A1", "-T1:4", "held"), *both) < 0.01
