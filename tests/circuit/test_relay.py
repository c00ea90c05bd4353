"""Relays and contactors on small panels, against values worked by hand."""

import pytest

from faultkit.vocabulary.diagnosis import Change
from tests.circuit.bench import Bench, let_go, on_24_volts, on_mains, press, put
from tests.circuit.panels import contact, device, hold


@pytest.fixture(scope="module")
def one_relay() -> Bench:
    return Bench(on_24_volts(
        [device("-K1", "relay", contact("11-14", "no"), contact("21-22", "nc"))],
        ["-K1:A1"], ["-K1:A2"], {}, {"ready": (None, [])}))


def test_a_relay_takes_its_voltage_over_its_coil_resistance(one_relay: Bench) -> None:
    """24 V over 1000 ohm: 24 mA."""
    assert one_relay.word("-K1", "ready") == "in"
    assert one_relay.amps("-K1:A1", "ready") == pytest.approx(0.024, rel=1e-3)
    assert one_relay.ohms("-K1:11", "-K1:14", "ready") == pytest.approx(0.03, abs=1e-3)
    assert one_relay.ohms("-K1:21", "-K1:22", "ready") == float("inf")


@pytest.mark.parametrize(("ohms", "amps"), [("800", 24 / 1800), ("5000", 24 / 6000)])
def test_behind_a_poor_socket_the_relay_stays_out_although_its_terminals_have_full_voltage(
    ohms: str, amps: float, one_relay: Bench,
) -> None:
    """800 ohm leave the coil 13.3 V of 24 V, and it needs 0.7 x 24 V = 16.8 V."""
    poor = Change("element", "-K1/socket", ohms)
    assert one_relay.word("-K1", "ready", poor) == "out"
    assert one_relay.volts("-K1:A1", "-K1:A2", "ready", poor) == pytest.approx(24, rel=1e-3)
    assert one_relay.amps("-K1:A1", "ready", poor) == pytest.approx(amps, rel=1e-3)
    # dead, the ohmmeter sees socket and coil in series; the supply's output is open
    assert one_relay.ohms("-K1:A1", "-K1:A2", "ready", poor) == pytest.approx(
        1000 + float(ohms), rel=1e-3)


def test_a_shorted_suppressor_diode_takes_the_supply_into_its_current_limit(
    one_relay: Bench,
) -> None:
    """3 A through the diode (0.5 ohm) and the socket (0.03 ohm): 1.6 V are left of 24 V."""
    shorted = Change("element", "-K1/diode", "short")
    assert one_relay.word("-K1", "ready", shorted) == "out"
    assert one_relay.word("-G1", "ready", shorted) == "limits"
    assert one_relay.volts("-K1:A1", "-K1:A2", "ready", shorted) == pytest.approx(1.59, rel=0.01)
    assert one_relay.ohms("-K1:A1", "-K1:A2", "ready", shorted) == pytest.approx(
        0.03 + 1 / (1 / 1000 + 1 / 0.5), rel=1e-3)


@pytest.mark.parametrize(("volts", "word"), [(16.7, "out"), (16.9, "in")])
def test_a_relay_pulls_in_from_its_pick_up_voltage(volts: float, word: str,
                                                   one_relay: Bench) -> None:
    """0.7 x 24 V = 16.8 V: IEC 61810-1 operative range, from memory."""
    assert one_relay.word("-K1", "ready", Change("attribute", "-G1/voltage", str(volts))) == word


def test_a_weak_relay_stays_out_at_its_rated_voltage(one_relay: Bench) -> None:
    assert one_relay.word("-K1", "ready", Change("attribute", "-K1/pick-up", "1.02")) == "out"


@pytest.mark.parametrize(("ohms", "word"), [(4000.0, "in"), (7000.0, "out")])
def test_a_relay_that_is_in_stays_in_until_its_release_voltage(ohms: float, word: str) -> None:
    """4000 ohm before 1000 ohm leave 4.8 V, 7000 ohm leave 3 V; it lets go at 0.15 x 24 = 3.6 V.

    IEC 61810-1 release voltage, from memory.
    """
    bench = Bench(on_24_volts(
        [device("-K1", "relay"), device("-R1", "resistor", resistance=ohms),
         device("-S1", "button", contact("13-14", "no"))],
        ["-R1:1", "-S1:13"], ["-K1:A2"], {"a": ["-R1:2", "-S1:14", "-K1:A1"]},
        {"ready": (None, []), "held": ("ready", [hold("-S1")]),
         "let go": ("held", [let_go("-S1")])}))
    assert bench.word("-K1", "ready") == "out"
    assert bench.word("-K1", "held") == "in"
    assert bench.word("-K1", "let go") == word


@pytest.mark.parametrize(("state", "word"), [("in", "in"), ("out", "out")])
def test_a_stuck_relay_shows_the_same_fed_or_not(state: str, word: str, one_relay: Bench) -> None:
    stuck = Change("state", "-K1", state)
    unfed = Change("element", "-G1/output", "open")
    assert one_relay.word("-K1", "ready", stuck) == word
    assert one_relay.word("-K1", "ready", stuck, unfed) == word


@pytest.mark.parametrize(("volts", "word"), [(0.74, "out"), (0.76, "in"), (0.85, "in")])
def test_an_ac_contactor_pulls_in_by_the_voltage_that_its_coil_feels(
    volts: float, word: str,
) -> None:
    """Pick-up 0.75 Us; it must close from 0.85 Us: IEC 60947-4-1."""
    bench = Bench(on_mains([device("-Q1", "contactor")], ["-Q1:A1"], ["-Q1:A2"], {},
                           {"on": (None, [])}, volts=110 * volts))
    assert bench.word("-Q1", "on") == word


def test_an_ac_coil_draws_its_inrush_power_while_it_cannot_pull_in() -> None:
    """70 VA at 110 V: 0.636 A, and 9 VA once in: 0.082 A (kind's table)."""
    bench = Bench(on_mains([device("-Q1", "contactor")], ["-Q1:A1"], ["-Q1:A2"], {},
                           {"on": (None, [])}, volts=110))
    jammed = Change("state", "-Q1", "out")
    assert bench.amps("-Q1:A1", "on") == pytest.approx(9 / 110, rel=1e-3)
    assert bench.amps("-Q1:A1", "on", jammed) == pytest.approx(70 / 110, rel=2e-3)


@pytest.fixture(scope="module")
def start_and_stop() -> Bench:
    """Emergency stop (latching), stop, start with holding contact, contactor."""
    return Bench(on_mains(
        [device("-S0", "button", contact("11-12", "nc"), latching="yes"),
         device("-S1", "button", contact("11-12", "nc")),
         device("-S2", "button", contact("13-14", "no")),
         device("-Q1", "contactor", contact("13-14", "no"), coil_voltage=230.0)],
        ["-S0:11"], ["-Q1:A2"],
        {"1": ["-S0:12", "-S1:11"], "2": ["-S1:12", "-S2:13", "-Q1:13"],
         "3": ["-S2:14", "-Q1:14", "-Q1:A1"]},
        {"rest": (None, []), "started": ("rest", [press("-S2")]),
         "stopped": ("started", [press("-S1")]), "emergency": ("started", [press("-S0")]),
         "pressed again": ("emergency", [press("-S2")]),
         "unlatched": ("emergency", [put("-S0", "0")]),
         "restarted": ("unlatched", [press("-S2")])}))


def test_a_holding_contact_keeps_what_a_start_button_began_until_stop(
    start_and_stop: Bench,
) -> None:
    words = {c: start_and_stop.word("-Q1", c) for c in ("rest", "started", "stopped")}
    assert words == {"rest": "out", "started": "in", "stopped": "out"}


def test_without_its_holding_contact_the_contactor_drops_with_the_button(
    start_and_stop: Bench,
) -> None:
    broken = Change("contact", "-Q1:13-14", "open")
    assert start_and_stop.word("-Q1", "started", broken) == "drops again"


def test_an_emergency_stop_latches_and_unlatching_it_starts_nothing(
    start_and_stop: Bench,
) -> None:
    """IEC 60204-1: the reset of an emergency stop shall not initiate a restart (from memory)."""
    assert start_and_stop.word("-S0", "emergency") == "pressed"
    assert start_and_stop.word("-Q1", "emergency") == "out"
    assert start_and_stop.word("-Q1", "pressed again") == "out"
    assert start_and_stop.word("-Q1", "unlatched") == "out"
    assert start_and_stop.word("-Q1", "restarted") == "in"
