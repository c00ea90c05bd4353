"""Words for figures, cautions and the run: what an electrician reads is what is meant."""

import math

import pytest

from faultkit.commands.opening import JobEngine
from faultkit.job.records import Entry, Finding, Outcome, Suggestion, Suspect
from faultkit.terminal.screens.report.report import unfolded
from faultkit.terminal.wording.asking import choices, understood
from faultkit.terminal.wording.card import card_of, range_says
from faultkit.terminal.wording.cautions import (
    BACK_ON,
    ISOLATE,
    LAND_FIRST,
    LIVE,
    MOVES,
    cautions_for_test,
)
from faultkit.terminal.wording.complaint import grouped, next_word, symptom_row
from faultkit.terminal.wording.explain import Page, remedy_page
from faultkit.terminal.wording.run import Part, Point, run_of
from faultkit.terminal.wording.words import (
    ASCII,
    PRETTY,
    bar,
    minutes,
    moved,
)
from faultkit.vocabulary.diagnosis import Reading
from faultkit.vocabulary.says import percent


@pytest.mark.parametrize(("share", "says"), [
    (0.0, "0 %"), (0.001, "<1 %"), (0.42, "42 %"), (0.996, ">99 %"), (1.0, "100 %")])
def test_a_chance_is_told_apart_from_never_and_always(share: float, says: str) -> None:
    assert percent(share) == says


@pytest.mark.parametrize(("value", "says"), [
    (0.5, "0.5 min"), (2.0, "2 min"), (5.5, "5.5 min"), (12.4, "12 min")])
def test_minutes_are_written_as_a_hand_would(value: float, says: str) -> None:
    assert minutes(value) == says


@pytest.mark.parametrize("glyphs", [PRETTY, ASCII])
def test_a_bar_has_its_width_and_shows_what_is_small(glyphs: object) -> None:
    assert isinstance(glyphs, type(PRETTY))
    assert bar(0.0, 10, glyphs) == glyphs.empty * 10
    assert bar(0.02, 10, glyphs) == glyphs.full + glyphs.empty * 9
    assert bar(1.0, 10, glyphs) == glyphs.full * 10


def test_how_a_suspect_moved_is_told_by_sign_and_points() -> None:
    def suspect(before: float, now: float) -> Suspect:
        return Suspect("x", "-Q2", "-Q2 coil open", now, before, "r")

    assert moved(suspect(0.2, 0.5), ASCII) == "+30"
    assert moved(suspect(0.5, 0.2), ASCII) == "-30"
    assert moved(suspect(0.2, 0.201), ASCII) == ""


def test_what_a_finding_leaves_open_is_said_before_its_remedy(winch: JobEngine) -> None:
    remedy = winch.machine.remedies[winch.machine.causes["Q2.coil-open"].remedy]

    def page(says: str, remedies: tuple[str, ...]) -> Page:
        return remedy_page(winch.machine, Finding(
            "remedy" if remedies else "none", remedies, 0.95, (), (), (), "", says))

    warned = f"{remedy.says}. Have it confirmed before the repair."
    assert page(warned, (remedy.id,))[0] == ("In short", (warned,))
    assert page("Go by the diagram.", ()) == (("In short", ("Go by the diagram.",)),)
    assert page(f"{remedy.says}.", (remedy.id,))[0][0] == remedy.says


def test_cautions_stand_where_they_apply(winch: JobEngine) -> None:
    machine = winch.machine
    dead, live = machine.tests["coil-ohms"], machine.tests["up-coil"]
    assert cautions_for_test(machine, dead, None)[:2] == (LAND_FIRST, ISOLATE)
    assert LAND_FIRST not in cautions_for_test(machine, dead, "isolated")
    assert cautions_for_test(machine, live, "isolated")[:3] == (BACK_ON, LIVE, MOVES)
    assert BACK_ON not in cautions_for_test(machine, live, "ready")
    assert LIVE not in cautions_for_test(machine, machine.tests["look-q2"], "ready")
    assert MOVES not in cautions_for_test(machine, machine.tests["walk/-X1:5/ready"], "ready")


def test_the_range_lies_above_every_reading_that_may_come(winch: JobEngine) -> None:
    def outcome(low: float, high: float) -> Outcome:
        return Outcome("x", low, high, 0.5, 1, (), ())

    suggestion = Suggestion("up-coil", 1, 0, 0, 1, math.nan, (
        outcome(0, 2), outcome(99, 121.3), outcome(math.inf, math.inf)), "")
    assert range_says(winch.machine.tests["up-coil"], suggestion) == ", range above 130 V AC"
    assert range_says(winch.machine.tests["look-q2"], suggestion) == ""
    assert range_says(winch.machine.tests["up-coil"], None) == ""


def test_the_card_tells_how_to_come_into_the_condition_only_when_it_is_new(
    winch: JobEngine,
) -> None:
    test = winch.machine.tests["up-coil"]
    assert card_of(winch.machine, test, None, None).how == "hold -S2"
    assert card_of(winch.machine, test, None, "up").how == "as it is now"
    assert (card_of(winch.machine, test, None, None).red,
            card_of(winch.machine, test, None, None).black) == ("-Q2:A1", "-Q2:A2")


def test_the_run_goes_from_the_supply_over_the_red_point_to_the_black_one(
    winch: JobEngine,
) -> None:
    entries = (Entry(1, "walk/-X1:5/up", Reading(112.0)),)
    run = run_of(winch.machine, winch.machine.tests["walk/-X1:6/up"], entries)
    parts = [f"{stop.device} {stop.mark}" for stop in run if isinstance(stop, Part)]
    assert parts == ["-T1 secondary", "-F3 1-2", "-S0 11-12", "-S2 13-14", "-Q2 coil"]
    points = [stop for stop in run if isinstance(stop, Point)]
    assert [point.wire for point in points] == ["N", "4", "5", "6", "7", "N"]
    assert [point.probe for point in points] == ["", "", "", "RED", "", "BLACK"]
    assert points[2].readings == ("112 V AC",)
    run = run_of(winch.machine, winch.machine.tests["walk/-X1:6/ready"], entries)
    assert [s.readings for s in run if isinstance(s, Point) and s.wire == "5"] == [
        ("112 V AC in up",)]


def test_a_test_that_probes_nothing_has_no_run_but_a_look_at_a_coil_has(
    winch: JobEngine,
) -> None:
    run = run_of(winch.machine, winch.machine.tests["look-q2"], ())
    assert any(isinstance(stop, Part) and stop.mark == "coil" for stop in run)
    assert not any(isinstance(stop, Point) and stop.probe for stop in run)


def test_words_are_chosen_by_number_or_typed(winch: JobEngine) -> None:
    test = winch.machine.tests["look-q2"]
    assert choices(test).startswith("1 in   2 out")
    assert understood(test, "2") == Reading(None, "out") == understood(test, "OUT")


def test_a_search_finds_the_phrase_before_the_single_words(winch: JobEngine) -> None:
    found = [s.id for _, group in grouped(winch.machine, "up does") for s in group]
    assert found == ["no-up"]
    found = [s.id for _, group in grouped(winch.machine, "lamp up") for s in group]
    assert found == ["no-lamp"]
    assert grouped(winch.machine, "nothing of the kind") == []


def test_a_mark_turns_from_shows_to_works_to_nothing(winch: JobEngine) -> None:
    symptom = winch.machine.symptoms["no-up"]
    assert symptom_row(symptom, None, "1") == "1 [     ] UP does nothing"
    assert symptom_row(symptom, next_word(None), "1") == "1 [SHOWS] UP does nothing"
    assert symptom_row(symptom, next_word(True), "1") == "1 [works] UP works"
    assert next_word(False) is None


def test_a_button_held_elsewhere_asks_for_a_second_person(winch: JobEngine) -> None:
    machine = winch.machine
    held = [t for t in machine.tests.values() if not machine.conditions[t.condition].dead
            and MOVES in cautions_for_test(machine, t, None)]
    places = {machine.devices[d].place for d in machine.devices if d.startswith("-S")}
    assert {t.place for t in held} - places, "the winch has tests away from its buttons"
    for test in held:
        second = any("second person" in one for one in cautions_for_test(machine, test, None))
        assert second == (test.place not in places)


def test_a_folded_line_of_a_list_is_joined_and_nothing_else() -> None:
    long = "- " + "word " * 14 + "end"
    text = f"# Head\n\n{long}\n  and its rest.\n- short\n  kept apart\n| a | b |\nplain\nplain"
    assert unfolded(text) == ["# Head", "", f"{long} and its rest.", "- short", "  kept apart",
                              "| a | b |", "plain", "plain"]
