"""Buttons with steps, selectors, limit switches, plugs, cables and lamps."""

from math import inf

import pytest

from faultkit.vocabulary.diagnosis import Change
from tests.circuit.bench import Bench, let_go, on_mains, put
from tests.circuit.panels import contact, device, hold, machine

HOOK = ("low ultimate", "lower stop", "lower slow", "middle", "upper slow", "upper stop",
        "ultimate")


def across(bench: Bench, full: str, condition: str, *faults: Change) -> float:
    """Ohms across a contact such as `-S2:13-14`."""
    name, mark = full.split(":")
    a, b = mark.split("-")
    return bench.ohms(f"{name}:{a}", f"{name}:{b}", condition, *faults)


@pytest.fixture(scope="module")
def buttons() -> Bench:
    return Bench(machine(
        [device("-S2", "button", contact("13-14", "no"), contact("23-24", "no", step=2),
                contact("31-32", "nc"), contact("41-42", "nc", step=2), steps=2.0)],
        {}, {"free": (None, []), "first": ("free", [hold("-S2", "1")]),
             "second": ("first", [hold("-S2", "2")]), "at once": ("free", [hold("-S2", "2")]),
             "let go": ("second", [let_go("-S2")])}))


@pytest.mark.parametrize(("condition", "closed"), [
    ("free", {"31-32", "41-42"}), ("first", {"13-14", "41-42"}), ("second", {"13-14", "23-24"}),
    ("at once", {"13-14", "23-24"}), ("let go", {"31-32", "41-42"})])
def test_a_button_closes_and_opens_its_contacts_step_by_step(
    condition: str, closed: set[str], buttons: Bench,
) -> None:
    found = {mark for mark in ("13-14", "23-24", "31-32", "41-42")
             if across(buttons, f"-S2:{mark}", condition) < 1}
    assert found == closed
    assert buttons.word("-S2", condition) == ("free" if condition in ("free", "let go")
                                              else "pressed")


def test_a_button_that_is_stuck_pressed_is_in_its_first_step_whatever_one_does(
    buttons: Bench,
) -> None:
    stuck = Change("state", "-S2", "pressed")
    for condition in ("free", "second"):
        assert buttons.ohms("-S2:13", "-S2:14", condition, stuck) < 1
        assert buttons.ohms("-S2:23", "-S2:24", condition, stuck) == inf


SWITCH = device("-S5", "selector", contact("1-2", "no", acts=("-S5", "slow", "fast")),
                contact("3-4", "no", acts=("-S5", "fast", "fast")),
                contact("5-6", "nc", acts=("-S5", "slow", "slow")), contact("7-8", "no"),
                positions="off slow fast", rests="off")


@pytest.mark.parametrize(("position", "closed"), [
    ("off", {"5-6"}), ("slow", {"1-2"}), ("fast", {"1-2", "3-4", "5-6", "7-8"})])
def test_a_selector_closes_each_contact_over_its_own_range_of_positions(
    position: str, closed: set[str],
) -> None:
    """A contact without a range is closed in the last position."""
    bench = Bench(machine([SWITCH], {}, {"rest": (None, []), "at rest": (None, [put("-S5", "off")]),
                                         "put": ("rest", [put("-S5", position)])}))
    found = {mark for mark in ("1-2", "3-4", "5-6", "7-8")
             if across(bench, f"-S5:{mark}", "put") < 1}
    assert found == closed


@pytest.fixture(scope="module")
def axis() -> Bench:
    """Stop switches at both ends of the hook's way, and one that acts in the middle only."""
    switch = device("-B1", "limit switch",
                    contact("11-12", "nc", acts=("hook", "upper stop", "ultimate")),
                    contact("21-22", "nc", acts=("hook", "low ultimate", "lower stop")),
                    contact("33-34", "no", acts=("hook", "middle", "middle")))
    return Bench(machine(
        [switch], {}, {place: (None, [put("hook", place)]) for place in HOOK},
        {"hook": {place: float(k) for k, place in enumerate(HOOK)}}))


def opened_at(axis: Bench, mark: str, *faults: Change) -> list[str]:
    return [place for place in HOOK if across(axis, f"-B1:{mark}", place, *faults) == inf]


@pytest.mark.parametrize(("mark", "way", "opened"), [
    ("11-12", "", ["upper stop", "ultimate"]),
    ("11-12", "early", ["upper slow", "upper stop", "ultimate"]),
    ("11-12", "late", ["ultimate"]),
    ("21-22", "", ["low ultimate", "lower stop"]),
    ("21-22", "early", ["low ultimate", "lower stop", "lower slow"]),
    ("21-22", "late", ["low ultimate"])])
def test_a_limit_switch_out_of_adjustment_acts_early_or_late_at_either_end(
    mark: str, way: str, opened: list[str], axis: Bench,
) -> None:
    faults = [Change("attribute", f"-B1/{way}:{mark}", "1")] if way else []
    assert opened_at(axis, mark, *faults) == opened
    other = {"11-12": "21-22", "21-22": "11-12"}[mark]
    assert opened_at(axis, other, *faults) == opened_at(axis, other)


@pytest.mark.parametrize(("way", "closed"), [
    ("early", ["lower slow", "middle", "upper slow"]), ("late", [])])
def test_a_cam_in_the_middle_of_the_way_is_met_early_or_late_from_both_sides(
    way: str, closed: list[str], axis: Bench,
) -> None:
    opened = opened_at(axis, "33-34", Change("attribute", f"-B1/{way}:33-34", "1"))
    assert [place for place in HOOK if place not in opened] == closed


def test_a_limit_switch_that_does_not_open_lets_the_hook_pass(axis: Bench) -> None:
    assert opened_at(axis, "11-12", Change("contact", "-B1:11-12", "closed")) == []


@pytest.mark.parametrize(("section", "length", "ohms"), [
    # IEC 60228 class 5 at 20 C, ohm per km: 1.5 mm2 13.3, 1 mm2 19.5
    (1.5, 20.0, 0.266), (1.0, 100.0, 1.95),
    # a section that is not in the table: 17.241 ohm mm2 per km (IEC 60028)
    (3.0, 100.0, 0.5747)])
def test_two_cores_looped_at_the_far_end_read_twice_the_resistance_of_one(
    section: float, length: float, ohms: float,
) -> None:
    cable = device("-W1", "cable", section=section, length=length, cores="14 15",
                   **{"from": "-X1", "to": "-X3"})
    broken = Change("hop", "14:-X3:1/-X1:1", "open")
    bench = Bench(machine(
        [device("-X1", "terminals"), device("-X3", "terminals"), cable],
        {"14": ["-X1:1", "-X3:1"], "15": ["-X1:2", "-X3:2"], "loop": ["-X3:1", "-X3:2"]},
        {"dead": (None, [])}), broken)
    assert bench.ohms("-X1:1", "-X1:2", "dead") == pytest.approx(2 * ohms, rel=1e-3)
    assert bench.ohms("-X1:1", "-X1:2", "dead", broken) == inf
    high = Change("hop", "14:-X1:1/-X3:1", "300")
    assert bench.ohms("-X1:1", "-X1:2", "dead", high) == pytest.approx(300 + ohms, rel=1e-3)


@pytest.fixture(scope="module")
def lamp() -> Bench:
    """A 110 V, 2 W lamp behind a plug."""
    return Bench(on_mains(
        [device("-X3", "plug", contact("a1-b1", "no"), contact("a2-b2", "no")),
         device("-H1", "lamp")],
        ["-X3:a1"], ["-X3:a2"], {"1": ["-X3:b1", "-H1:X1"], "2": ["-X3:b2", "-H1:X2"]},
        {"on": (None, [])}, volts=110))


@pytest.mark.parametrize(("level", "word"), [
    # dark below a quarter of its current, dim below 0.65 (common practice, no source)
    ("1", "lit"), ("0.66", "lit"), ("0.64", "dim"), ("0.26", "dim"), ("0.24", "dark"),
    ("0", "dark")])
def test_a_lamp_is_lit_dim_or_dark_by_its_current(level: str, word: str, lamp: Bench) -> None:
    assert lamp.word("-H1", "on", Change("attribute", "-X0/level", level)) == word


@pytest.mark.parametrize(("fault", "word", "volts"), [
    (Change("element", "-H1/lamp", "open"), "dark", 110.0),
    (Change("contact", "-X3:a2-b2", "open"), "dark", 0.0),
    # 6050 ohm of lamp (110 V squared over 2 W) behind 6050 ohm of corrosion
    (Change("contact", "-X3:a1-b1", "6050"), "dim", 55.0)])
def test_a_dark_lamp_is_burnt_or_unfed_and_a_dim_one_starved(
    fault: Change, word: str, volts: float, lamp: Bench,
) -> None:
    assert lamp.word("-H1", "on", fault) == word
    assert lamp.volts("-H1:X1", "-H1:X2", "on", fault, meter="V AC") == pytest.approx(
        volts, rel=1e-3, abs=0.05)
