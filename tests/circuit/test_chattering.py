"""Circuits that never come to rest are named, and never waited for."""

import pytest

from faultkit.vocabulary.diagnosis import Change
from tests.circuit.bench import Bench, after, let_go, on_24_volts, on_mains
from tests.circuit.panels import contact, device, hold

BUZZING = {"ready": (None, []), "held": ("ready", [hold("-S1")]),
           "a moment later": ("held", [after(0.025)]),
           "let go": ("held", [let_go("-S1")]), "held again": ("let go", [hold("-S1")]),
           "an hour": ("ready", [hold("-S1", seconds=3600.0)])}


@pytest.fixture(scope="module")
def buzzer() -> Bench:
    """-K1 is fed by its own NC contact and hands its buzzing on to -K2; -K3 only listens."""
    return Bench(on_24_volts(
        [device("-S1", "button", contact("13-14", "no")),
         device("-K1", "relay", contact("11-12", "nc"), contact("21-24", "no")),
         device("-K2", "relay"), device("-K3", "relay")],
        ["-S1:13", "-K1:21", "-K3:A1"], ["-K1:A2", "-K2:A2", "-K3:A2"],
        {"a": ["-S1:14", "-K1:11"], "b": ["-K1:12", "-K1:A1"], "c": ["-K1:24", "-K2:A1"]},
        BUZZING))


def test_a_relay_fed_by_its_own_break_contact_chatters_while_it_is_fed(buzzer: Bench) -> None:
    assert buzzer.word("-K1", "ready") == "out"
    assert buzzer.word("-K1", "held") == "chatters"


def test_what_a_buzzing_contact_feeds_buzzes_with_it_and_nothing_else_does(
    buzzer: Bench,
) -> None:
    assert buzzer.circuit.simulate().at("held").chattering == {"-K1", "-K2"}
    assert buzzer.word("-K3", "held") == "in"


def test_a_relay_goes_on_chattering_through_a_moment_too_short_to_count_it(
    buzzer: Bench,
) -> None:
    assert buzzer.word("-K1", "a moment later") == "chatters"


def test_a_relay_stops_chattering_when_it_is_fed_no_more(buzzer: Bench) -> None:
    assert buzzer.word("-K1", "let go") == "out"
    assert buzzer.circuit.simulate().at("let go").chattering == frozenset()
    assert buzzer.word("-K1", "held again") == "chatters"


def test_an_hour_of_chattering_is_not_computed_to_its_end(buzzer: Bench) -> None:
    before = buzzer.circuit.solver.solves
    moment = buzzer.circuit.simulate().at("an hour")
    assert moment.chattering >= {"-K1"}
    assert moment.now == pytest.approx(3602)
    assert buzzer.circuit.solver.solves - before < 100


def test_a_relay_that_cannot_move_does_not_chatter(buzzer: Bench) -> None:
    assert buzzer.word("-K1", "held", Change("state", "-K1", "in")) == "in"
    assert buzzer.word("-K1", "held", Change("element", "-K1/coil", "open")) == "out"


def test_an_ac_contactor_that_interrupts_itself_chatters() -> None:
    bench = Bench(on_mains(
        [device("-Q1", "contactor", contact("21-22", "nc"), coil_voltage=230.0)],
        ["-Q1:21"], ["-Q1:A2"], {"a": ["-Q1:22", "-Q1:A1"]}, {"on": (None, [])}))
    assert bench.word("-Q1", "on") == "chatters"


def test_a_contactor_on_a_supply_that_its_own_load_pulls_down_chatters() -> None:
    """Its contact puts 10 ohm on a supply of 30 ohm: 230 V become 57 V, and it lets go."""
    bench = Bench(on_mains(
        [device("-R1", "resistor", resistance=30.0), device("-R2", "resistor", resistance=10.0),
         device("-Q1", "contactor", contact("1-2", "main"), coil_voltage=230.0)],
        ["-R1:1"], ["-Q1:A2", "-R2:2"],
        {"a": ["-R1:2", "-Q1:A1", "-Q1:1"], "b": ["-Q1:2", "-R2:1"]},
        {"on": (None, [])}))
    assert bench.word("-Q1", "on") == "chatters"


def test_of_two_relays_that_throw_each_other_out_both_are_named_or_the_quicker_wins() -> None:
    """Each is fed by the other's NC contact: both pull in at once, both drop, again and again."""
    bench = Bench(on_24_volts(
        [device("-K1", "relay", contact("11-12", "nc")),
         device("-K2", "relay", contact("11-12", "nc"))],
        ["-K1:11", "-K2:11"], ["-K1:A2", "-K2:A2"],
        {"a": ["-K1:12", "-K2:A1"], "b": ["-K2:12", "-K1:A1"]}, {"on": (None, [])}))
    assert bench.circuit.simulate().at("on").chattering == {"-K1", "-K2"}
    # as soon as one is quicker it wins, and both are at rest
    quick = Change("attribute", "-K1/closing time", "0.004")
    assert bench.word("-K1", "on", quick) == "in"
    assert bench.word("-K2", "on", quick) == "out"
