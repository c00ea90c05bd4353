"""What the tables of device kinds say, against the figures of the trade.

Beside each figure stands its published source, `common practice, no source`, or `from memory`
where the source was not at hand when the check was written.
"""

import math

import pytest

from faultkit.circuit.devices.supplying import FULL_WAVE, HALF_WAVE
from faultkit.circuit.devices.switching import INRUSH_PF, SEALED_PF
from faultkit.circuit.elements import CONTACT_OHM
from faultkit.circuit.network import CLASS_5, COPPER, LEAK
from faultkit.vocabulary.kinds import KINDS

pytestmark = pytest.mark.outside


def default(kind: str, attribute: str) -> float:
    """Default of a numeric attribute in the table of a kind."""
    value = next(a.default for a in KINDS[kind].attributes if a.name == attribute)
    assert isinstance(value, float)
    return value


# IEC 60228 table 3: largest DC resistance at 20 C of plain flexible copper, ohm per km
IEC_60228_CLASS_5 = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95,
                     6.0: 3.30, 10.0: 1.91, 16.0: 1.21}


def test_flexible_conductors_have_the_resistance_of_iec_60228_class_5() -> None:
    assert CLASS_5 == IEC_60228_CLASS_5


def test_annealed_copper_has_the_resistivity_of_iec_60028() -> None:
    # 1/58 ohm mm2 per m (IEC 60028)
    assert pytest.approx(1000 / 58, rel=1e-4) == COPPER


@pytest.mark.parametrize("section", IEC_60228_CLASS_5)
def test_a_flexible_conductor_is_a_little_worse_than_its_copper(section: float) -> None:
    # strands are longer than the conductor and their section is a nominal one: 4 to 16 %
    # (follows from IEC 60228 and IEC 60028)
    assert 1.04 < CLASS_5[section] * section / COPPER < 1.17


def test_a_contactor_closes_and_lets_go_inside_the_window_of_its_standard() -> None:
    # IEC 60947-4-1: must close at 0.85 Us; an AC coil drops out between 0.20 and 0.75 Us
    assert default("contactor", "pick-up") <= 0.85
    assert 0.20 <= default("contactor", "drop-out") <= 0.75


def test_a_relay_closes_and_lets_go_inside_the_window_of_its_standard() -> None:
    # IEC 61810-1 5.2 class 1: operates from 0.80 Un; 5.3: a DC coil releases at 0.05 Un or
    # above (from memory)
    assert default("relay", "pick-up") <= 0.80
    assert 0.05 <= default("relay", "drop-out") < default("relay", "pick-up")


@pytest.mark.parametrize("kind", ["contactor", "relay", "timer", "brake"])
def test_a_coil_lets_go_below_where_it_pulls_in(kind: str) -> None:
    assert default(kind, "drop-out") < default(kind, "pick-up")


def test_a_weak_magnet_fails_at_85_percent_but_not_at_full_voltage_plus_ten_percent() -> None:
    # IEC 60947-4-1: a sound coil closes from 0.85 to 1.10 Us
    for kind in ("contactor", "relay"):
        (mode,) = [m for m in KINDS[kind].modes if m.key == "weak"]
        ((_, _, value),) = mode.variants[0]
        assert 0.85 < float(value) < 1.10


def test_an_ac_coil_draws_several_times_its_sealed_power_with_the_magnet_open() -> None:
    # five to twelve times; power factor 0.2 to 0.4 closed, 0.6 to 0.9 open
    # (common practice, no source)
    assert 5 <= default("contactor", "inrush") / default("contactor", "sealed") <= 12
    assert 0.2 <= SEALED_PF <= 0.4
    assert 0.6 <= INRUSH_PF <= 0.9


def test_a_sealed_coil_is_mostly_reactance() -> None:
    # the ohmmeter sees far less than volts over amperes (common practice, no source)
    impedance = default("contactor", "coil voltage") ** 2 / default("contactor", "sealed")
    assert default("contactor", "coil resistance") < 0.3 * impedance


def test_a_good_contact_has_less_than_a_tenth_of_an_ohm() -> None:
    # at most 100 mohm when new (common practice, no source)
    assert 0 < CONTACT_OHM <= 0.1


def test_insulation_is_well_above_what_iec_60204_1_demands() -> None:
    # at least 1 Mohm at 500 V (IEC 60204-1 18.3)
    assert 1 / LEAK >= 10e6


def test_a_rectifier_gives_the_mean_of_the_sine() -> None:
    # mathematics: the mean of |sin| or of its positive half, over the effective value; summed
    # here over one period instead of taken from a formula
    steps = 100_000
    sine = [math.sqrt(2) * math.sin(2 * math.pi * (k + 0.5) / steps) for k in range(steps)]
    assert sum(max(u, 0) for u in sine) / steps == pytest.approx(HALF_WAVE, rel=1e-6)
    assert sum(abs(u) for u in sine) / steps == pytest.approx(FULL_WAVE, rel=1e-6)
    assert round(HALF_WAVE, 3) == 0.450
    assert round(FULL_WAVE, 3) == 0.900


@pytest.mark.parametrize(("volts", "half", "full"), [
    # nominal ratios (calculated): usual brake coil voltages on usual mains
    (400, 180, 360), (230, 103.5, 207), (110, 49.5, 99), (48, 21.6, 43.2),
])
def test_usual_mains_give_the_usual_brake_coil_voltages(
    volts: float, half: float, full: float
) -> None:
    assert volts * HALF_WAVE == pytest.approx(half, rel=1e-3)
    assert volts * FULL_WAVE == pytest.approx(full, rel=1e-3)


def test_setting_a_brake_from_the_ac_side_takes_four_to_ten_times_as_long() -> None:
    # common practice, no source: four tables of set times differ in the ratio
    assert 4 <= default("brake", "slow set time") / default("brake", "set time") <= 10


def test_thermistors_are_cold_and_hot_as_din_44081_says() -> None:
    # one sensor: at most 250 ohm up to TNAT-20 K, at least 4000 ohm at TNAT+15 K (DIN 44081)
    assert default("ptc", "cold") <= 250
    assert default("ptc", "hot") >= 4000
    # three in series (DIN 44082): 60 to 300 ohm when cold (common practice, no source)
    assert default("ptc", "sensors") == 3
    assert 60 <= 3 * default("ptc", "cold") <= 300


def test_a_thermistor_relay_lies_between_the_limits_of_din_44081() -> None:
    reset, trip = default("thermistor relay", "reset"), default("thermistor relay", "trip")
    # warm, all three at TNAT-5 K: 3 x 550 ohm may not stop it
    assert reset >= 3 * 550
    # one sensor at TNAT+15 K and the others cold must stop it
    assert trip < 4000
    # all three at TNAT+5 K: 3 x 1330 ohm must stop it
    assert trip < 3 * 1330
    # DIN 44081 leaves 20 ohm and less to the detection of a short (common practice, no source)
    assert default("thermistor relay", "short") <= 20


def test_the_load_signal_is_judged_by_the_bands_of_namur_ne_43() -> None:
    # NAMUR NE 43: 3.8 to 20.5 mA is measuring; at or below 3.6, at or above 21 mA is a fault
    assert default("limiter", "low fault") == pytest.approx(3.6e-3)
    assert default("limiter", "high fault") == pytest.approx(21e-3)
    # IEC 60381-1: live zero 4 mA, span 16 mA
    assert default("load pin", "zero") == pytest.approx(4e-3)
    # the trip point lies where the signal is still a measurement
    trip = 4e-3 + 16e-3 * default("limiter", "trip") / default("limiter", "span")
    assert 3.8e-3 < trip < 20.5e-3


def test_every_drift_of_a_load_pin_lies_inside_the_bands_or_is_told_by_them() -> None:
    (low,) = [m for m in KINDS["load pin"].modes if m.key == "zero-low"]
    (high,) = [m for m in KINDS["load pin"].modes if m.key == "zero-high"]
    amps = [float(value) for mode in (low, high) for ((_, _, value),) in mode.variants]
    # a drifted zero is either a fault by NE 43 or still a (wrong) measurement, never between
    assert all(a <= 3.6e-3 or 3.8e-3 <= a <= 20.5e-3 or a >= 21e-3 for a in amps)


def test_a_limiter_trips_above_rated_load_and_below_the_static_test_load() -> None:
    # 110 % trip (common practice, no source); static test with 125 % (ISO 4310, from memory)
    assert 100 < default("limiter", "trip") < 125
    assert default("limiter", "reset") < default("limiter", "trip")


def test_protective_devices_open_at_their_conventional_currents() -> None:
    # miniature breaker: does not trip at 1.13 In, trips at 1.45 In within an hour (IEC 60898-1)
    assert 1.13 < default("breaker", "factor") <= 1.45
    # gG fuse: 1.25 / 1.6 In from 16 A (IEC 60269-1, from memory)
    assert 1.25 < default("fuse", "factor") <= 1.6


def test_a_supply_stays_within_ten_percent() -> None:
    # IEC 60204-1 4.3.2: 0.9 to 1.1 of rated voltage (from memory)
    (low,) = [m for m in KINDS["mains"].modes if m.key == "low"]
    assert 0.9 <= default("mains", "level") <= 1.1
    assert float(low.variants[0][0][2]) < 0.9


@pytest.mark.parametrize(("kind", "keys", "shares"), [
    # MIL-HDBK-338B table 7.2-1 (from memory): the ratio of the ways to fail
    ("transformer", (("primary-open", "secondary-open"), ("turns-short",), ("tap",)),
     (0.42, 0.42, 0.16)),
    ("resistor", (("open",), ("short",)), (0.65, 0.09)),
])
def test_ways_to_fail_are_shared_out_as_in_the_handbook(
    kind: str, keys: tuple[tuple[str, ...], ...], shares: tuple[float, ...]
) -> None:
    of = {mode.key: mode.share for mode in KINDS[kind].modes}
    assert [sum(of[key] for key in group) for group in keys] == pytest.approx(shares)


def test_every_figure_of_every_table_says_where_it_comes_from() -> None:
    for kind in KINDS.values():
        assert kind.rate_source.strip(), kind.name
        for attribute in kind.attributes:
            assert attribute.source.strip(), (kind.name, attribute.name)
        for mode in kind.modes:
            assert mode.source.strip(), (kind.name, mode.key)
