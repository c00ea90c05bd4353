"""DC supply, transformer, fuses and breakers."""

from dataclasses import replace
from itertools import pairwise
from math import inf

import pytest

from faultkit.vocabulary.diagnosis import Change, Symptom
from faultkit.vocabulary.origin import GENERATED
from tests.circuit.bench import Bench, after, let_go, on_24_volts, on_mains
from tests.circuit.panels import contact, device, hold, machine


@pytest.fixture(scope="module")
def supply() -> Bench:
    """24 V, 3 A: a lamp and a 48 V relay always on it, 4 ohm while -S1 is held."""
    return Bench(on_24_volts(
        [device("-S1", "button", contact("13-14", "no")),
         device("-R1", "resistor", resistance=4.0),
         device("-H1", "lamp", voltage=24.0, power=1.0),
         device("-K9", "relay", coil_voltage=48.0, closing_time=0.005)],
        ["-S1:13", "-H1:X1", "-K9:A1"], ["-R1:2", "-H1:X2", "-K9:A2"], {"a": ["-S1:14", "-R1:1"]},
        {"ready": (None, []), "overload": ("ready", [hold("-S1")]),
         "after it": ("overload", [let_go("-S1")])}))


def test_a_supply_gives_its_voltage_up_to_its_current_limit_and_then_its_current(
    supply: Bench,
) -> None:
    """24 V over 4 ohm would be 6 A; at 3 A the rest is 12 V, less what lamp and relay take."""
    assert supply.volts("-G1:24", "-G1:0", "ready") == pytest.approx(24, rel=1e-3)
    assert supply.word("-G1", "overload") == "limits"
    lamp = 24.0**2
    together = 1 / (1 / 4.03 + 1 / lamp + 1 / 1000)
    assert supply.volts("-G1:24", "-G1:0", "overload") == pytest.approx(3 * together, rel=1e-3)


def test_a_supply_comes_back_by_itself_when_the_overload_goes(supply: Bench) -> None:
    assert supply.word("-G1", "after it") == "on"
    assert supply.volts("-G1:24", "-G1:0", "after it") == pytest.approx(24, rel=1e-3)


def test_a_supply_that_comes_back_never_gives_more_than_its_voltage(supply: Bench) -> None:
    """A 48 V relay on 24 V must not move, however quick it is."""
    events = supply.circuit.simulate().at("after it").events
    assert [e for e in events if e.device == "-K9"] == []


@pytest.mark.parametrize(("level", "word"), [("0.43", "off"), ("0.44", "on")])
def test_a_supply_starts_from_its_least_input_voltage(
    level: str, word: str, supply: Bench,
) -> None:
    """100 V of 230 V: 0.435."""
    assert supply.word("-G1", "ready", Change("attribute", "-X0/level", level)) == word


def test_a_supply_is_a_load_of_its_rated_power_on_its_input(supply: Bench) -> None:
    """40 VA at 230 V: 0.174 A (kind's table)."""
    assert supply.amps("-G1:L", "ready") == pytest.approx(40 / 230, rel=1e-3)


@pytest.mark.parametrize(("fault", "volts", "word"), [
    (Change("element", "-G1/output", "open"), 0.0, "on"),
    (Change("attribute", "-G1/voltage", "x0.6"), 14.4, "on"),
    (Change("element", "-G1/input", "open"), 0.0, "off")])
def test_a_faulty_supply_gives_none_or_too_low_a_voltage(
    fault: Change, volts: float, word: str, supply: Bench,
) -> None:
    assert supply.volts("-G1:24", "-G1:0", "ready", fault) == pytest.approx(volts, abs=0.02)
    assert supply.word("-G1", "ready", fault) == word


@pytest.fixture(scope="module")
def transformer() -> Bench:
    """400/110 V on stiff mains, a fuse before it, half an ampere of load behind."""
    return Bench(machine(
        [device("-X0", "mains", impedance=0.01),
         device("-F2", "fuse", contact("1-2", "main"), rating=2.0), device("-T1", "transformer"),
         device("-R1", "resistor", resistance=220.0)],
        {"L1": ["-X0:L1", "-F2:1"], "2": ["-F2:2", "-T1:1"], "L2": ["-X0:L2", "-T1:2"],
         "3": ["-T1:3", "-R1:1"], "4": ["-T1:4", "-R1:2"]},
        {"on": (None, []), "later": ("on", [after(20.0)])}))




def test_ampere_turns_balance_between_the_windings(transformer: Bench) -> None:
    """Load current over the ratio, and the magnetising current of a tenth of the power.

    The ratio is 400/110 less the drop at rated load; both currents add at right angles.
    """
    turns = 400 / 110
    n = turns / (1 + (1 + 25 / turns**2) * 160 / 110**2)
    load = transformer.amps("-R1:1", "on")
    magnetising = 0.1 * 160 / 400
    assert transformer.amps("-T1:1", "on") == pytest.approx(
        ((load / n) ** 2 + magnetising**2) ** 0.5, rel=2e-3)


@pytest.mark.parametrize("winding", ["primary", "secondary"])
def test_an_open_winding_leaves_no_voltage_and_reads_open_when_dead(
    winding: str, transformer: Bench,
) -> None:
    opened = Change("element", f"-T1/{winding}", "open")
    assert transformer.volts("-T1:3", "-T1:4", "on", opened, meter="V AC low") < 0.01
    primary = transformer.ohms("-T1:1", "-T1:2", "on", opened)
    secondary = transformer.ohms("-T1:3", "-T1:4", "on", opened)
    if winding == "primary":
        assert primary == inf
        assert secondary == pytest.approx(1 / (1 + 1 / 220), rel=1e-3)
    else:
        assert primary == pytest.approx(25, rel=1e-3)
        assert secondary == pytest.approx(220, rel=1e-3)


def test_shorted_turns_blow_the_primary_fuse_and_read_too_few_ohms(transformer: Bench) -> None:
    """400 V over 40 ohm: 10 A through a 2 A fuse; dead 25 and 40 ohm side by side."""
    shorted = Change("element", "-T1/core", "40")
    assert transformer.word("-F2", "on") == "whole"
    assert transformer.word("-F2", "later", shorted) == "blown"
    assert transformer.ohms("-T1:1", "-T1:2", "on", shorted) == pytest.approx(
        25 * 40 / 65, rel=1e-3)


def test_the_wrong_tap_changes_the_voltage_in_proportion(transformer: Bench) -> None:
    idle = Change("element", "-R1/body", "open")
    tap = Change("attribute", "-T1/ratio", "0.8")
    healthy = transformer.volts("-T1:3", "-T1:4", "on", idle, meter="V AC")
    tapped = transformer.volts("-T1:3", "-T1:4", "on", idle, tap, meter="V AC")
    assert tapped == pytest.approx(0.8 * healthy, rel=1e-4)


def loaded(devices: list[str], ohms: float) -> Bench:
    """230 V over protective devices in series into so many ohms, while -S1 is held."""
    made = {"fuse 6": device("-F1", "fuse", contact("1-2", "main"), rating=6.0),
            "fuse 2": device("-F2", "fuse", contact("1-2", "main"), rating=2.0),
            "breaker": device("-F3", "breaker", contact("1-2", "main"), contact("3-4", "main"),
                              rating=2.0)}
    chosen = [made[name] for name in devices]
    names = [one.id for one in chosen]
    chain = {f"{a}{b}": [f"{a}:2", f"{b}:1"] for a, b in pairwise(names)}
    return Bench(on_mains(
        [*chosen, device("-S1", "button", contact("13-14", "no")),
         device("-R1", "resistor", resistance=ohms)],
        [f"{names[0]}:1"], ["-R1:2"],
        {**chain, "s": [f"{names[-1]}:2", "-S1:13"], "r": ["-S1:14", "-R1:1"]},
        {"on": (None, []), "short held": ("on", [hold("-S1", seconds=60.0)])}))


@pytest.mark.parametrize(("times", "seconds"), [(2.0, 10.0), (5.0, 1.6), (10.0, 0.4), (20.0, 0.1)])
def test_a_fuse_blows_in_a_time_that_falls_with_the_square_of_the_current(
    times: float, seconds: float,
) -> None:
    """0.4 s at ten times 1.6 x 2 A (kind's table): constant melting energy."""
    bench = loaded(["fuse 2"], 230 / (times * 3.2) - 0.1)
    assert bench.seconds("-F2", "blown", "short held") == pytest.approx(seconds, rel=0.02)


@pytest.mark.parametrize("ohms", [0.5, 5.0, 30.0])
def test_of_two_fuses_in_series_the_smaller_one_blows_and_saves_the_other(ohms: float) -> None:
    """Fuses gG discriminate from 1.6 : 1 (common practice, no source); here 3 : 1."""
    for order in (["fuse 6", "fuse 2"], ["fuse 2", "fuse 6"]):
        bench = loaded(order, ohms)
        assert bench.word("-F2", "short held") == "blown"
        assert bench.word("-F1", "short held") == "whole"


def test_below_the_tripping_current_nothing_blows() -> None:
    """1.25 x rated: a gG fuse holds (IEC 60269-1, from memory)."""
    assert loaded(["fuse 2"], 230 / 2.5).seconds("-F2", "blown", "short held") == inf


def test_a_breaker_is_never_quicker_than_its_mechanism_and_opens_every_pole() -> None:
    bench = loaded(["breaker"], 0.5)
    assert bench.seconds("-F3", "tripped", "short held") == pytest.approx(0.1)
    assert bench.ohms("-F3:3", "-F3:4", "on") < 0.1
    assert bench.ohms("-F3:3", "-F3:4", "short held") == inf


def test_a_fuse_that_is_overloaded_more_and_more_blows_by_the_larger_current() -> None:
    """At 2 times it would take 10 s; a second later the short ends it in 0.1 s."""
    bench = Bench(on_mains(
        [device("-F2", "fuse", contact("1-2", "main"), rating=2.0),
         device("-S1", "button", contact("13-14", "no")),
         device("-S2", "button", contact("13-14", "no")),
         device("-R1", "resistor", resistance=230 / 6.4),
         device("-R2", "resistor", resistance=230 / 57.6 - 0.1)],
        ["-F2:1"], ["-R1:2", "-R2:2"],
        {"s": ["-F2:2", "-S1:13", "-S2:13"], "r": ["-S1:14", "-R1:1"], "q": ["-S2:14", "-R2:1"]},
        {"on": (None, []), "both": ("on", [hold("-S1", seconds=1.0), hold("-S2")])}))
    assert bench.seconds("-F2", "blown", "both") == pytest.approx(0.1, rel=0.03)


@pytest.mark.parametrize(("tried", "word"), [("", "whole"), ("short held", "blown")])
def test_a_fuse_that_blew_when_the_operator_tried_is_found_blown_before_anything_is_tried(
    tried: str, word: str,
) -> None:
    """Every condition that a symptom speaks of has been tried when the electrician comes."""
    panel = loaded(["fuse 6", "fuse 2"], 0.5).circuit.machine
    complaint = Symptom("s", "It stops", "It works", tried or None, {}, GENERATED)
    found = Bench(replace(panel, symptoms={"s": complaint}))
    assert found.word("-F2", "on") == word
    assert found.word("-F1", "on") == "whole"
    assert (found.ohms("-F2:1", "-F2:2", "on") == inf) == (word == "blown")


def test_each_pole_of_a_fuse_blows_by_itself() -> None:
    bench = Bench(machine(
        [device("-X0", "mains", impedance=0.01),
         device("-F1", "fuse", contact("1-2", "main"), contact("3-4", "main"), rating=2.0),
         device("-R1", "resistor", resistance=1.0)],
        {"L1": ["-X0:L1", "-F1:1"], "L2": ["-X0:L2", "-F1:3"], "2": ["-F1:2", "-R1:1"],
         "N": ["-R1:2", "-X0:N"]}, {"on": (None, [])}))
    assert bench.word("-F1", "on") == "blown"
    assert bench.ohms("-F1:1", "-F1:2", "on") == inf
    assert bench.ohms("-F1:3", "-F1:4", "on") < 0.1
