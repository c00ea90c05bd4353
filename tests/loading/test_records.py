"""What the sections become."""

import math

import pytest

from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.machine import Contact, Step
from tests.loading.helper import BASE, loaded, machine, where


def test_places_form_a_tree_under_the_one_without_minutes() -> None:
    places = machine("places:\n  hood: {says: Hood, beside: hoist, minutes: 180 s}\n").places
    assert {name: place.beside for name, place in places.items()} == {
        "panel": None, "pendant": "panel", "hoist": "panel", "hood": "hoist"}
    assert places["hood"].minutes == pytest.approx(3.0)


def test_a_setting_keeps_its_order_and_its_numbers() -> None:
    settings = machine().settings
    assert settings["hook"].positions == ("lower", "middle", "upper", "over")
    assert settings["hook"].values == (0.0, 1.0, 2.0, 3.0)
    assert settings["load"].values == (0.0, 100.0, 118.0)
    assert settings["load"].rests == "empty"


def test_short_steps_are_done_in_the_order_set_press_release_hold_wait() -> None:
    steps = machine("conditions:\n  x: {wait: 2 s, hold: -S2 step 2, release: -S1, press: [-S1], "
                    "set: {hook: over}}\n").conditions["x"].steps
    assert steps == (Step("set", "hook", "over", 1.0), Step("press", "-S1", "1", 1.0),
                     Step("release", "-S1", "", 1.0), Step("hold", "-S2", "2", 4.0),
                     Step("wait", "", "", 2.0))


def test_listed_steps_keep_their_order_and_their_own_times() -> None:
    steps = machine("conditions:\n  x:\n    steps:\n      - {hold: -S2, for: 0.3 s}\n"
                    "      - {set: {hook: over}}\n      - {wait: 200 ms}\n").conditions["x"].steps
    assert steps == (Step("hold", "-S2", "1", 0.3), Step("set", "hook", "over", 1.0),
                     Step("wait", "", "", 0.2))


def test_a_latching_button_is_set_to_its_step_or_to_none() -> None:
    made = machine("devices:\n  -S0: {kind: button, latching: yes, contacts: {1-2: nc}}\n"
                   "conditions:\n  x: {set: {-S0: pressed}}\n  y: {set: {-S0: free}}\n").conditions
    assert [made[name].steps[0].value for name in ("x", "y")] == ["1", "0"]


def test_a_condition_inherits_where_it_is_proved_dead_and_a_live_one_after_it_does_not() -> None:
    made = machine(
        "conditions:\n  off: {set: {-Q0: off}, dead: yes, prove dead: [-Q2:1, -Q2:3],"
        " discharge: 300 s, discharge at: [-Q2:A1, -Q2:A2]}\n"
        "  x: {after: off, prove dead: -Q2:5}\n  y: {after: x, dead: no}\n").conditions
    assert made["off"].prove_dead == ("-Q2:1", "-Q2:3")
    assert (made["x"].prove_dead, made["x"].discharge) == (("-Q2:5",), 5.0)
    assert made["x"].discharge_at == ("-Q2:A1", "-Q2:A2")
    assert (made["y"].prove_dead, made["y"].discharge, made["y"].discharge_at) == ((), 0.0, ())


def test_a_condition_inherits_whether_it_is_dead_and_what_isolating_costs() -> None:
    made = machine("conditions:\n  x: {after: isolated}\n  y: {after: x, dead: no}\n").conditions
    assert (made["x"].dead, made["x"].isolating, made["x"].restoring) == (True, 8.0, 3.0)
    assert (made["y"].dead, made["y"].isolating) == (False, 0.0)


def test_main_contacts_are_counted_out_and_move_together() -> None:
    contacts = machine().devices["-Q2"].contacts
    assert contacts[:3] == tuple(Contact(f"{a}-{a + 1}", str(a), str(a + 1), "main", "main", 1,
                                         None) for a in (1, 3, 5))


def test_attributes_are_completed_by_the_table_of_the_kind() -> None:
    made = machine("devices:\n  -K9: {kind: relay, coil resistance: 1k1, coil: 1-2}\n")
    device = made.devices["-K9"]
    assert device.attributes["coil resistance"] == 1100.0
    assert device.attributes["coil voltage"] == 24.0
    assert device.pins == ("1", "2")


def test_a_strip_without_pins_has_those_that_wires_end_at() -> None:
    assert machine().devices["-X1"].pins == ("14", "15", "16", "N")


def test_a_strip_with_pins_has_only_those() -> None:
    problems = loaded(BASE, "devices:\n  -X9: {kind: terminals, pins: [1, 2]}\n"
                            "wires:\n  90: [-X9:1, -X9:3]\n").problems
    assert [(problem.rule, problem.origin.line) for problem in problems] == [("unknown-pin", 4)]


def test_a_record_keeps_where_it_was_written() -> None:
    assert (machine().tests["up-coil"].origin.line,
            machine().tests["up-coil"].origin.column) == where("up-coil:")


def test_a_test_takes_place_minutes_and_device_from_what_it_measures() -> None:
    tests = machine("tests:\n  time: {does: x, meter: seconds, until: {-Y1: set}, in: up-slow}\n"
                    ).tests
    assert (tests["time"].place, tests["time"].device, tests["time"].minutes) == (
        "hoist", "-Y1", 2.0)
    assert (tests["up-coil"].place, tests["up-coil"].device, tests["up-coil"].minutes) == (
        "panel", "-Q2", 1.0)


def test_hand_written_readings_are_ranges_overloads_and_words() -> None:
    made = machine("tests:\n  loop: {does: x, meter: mA, in: ready, healthy: 4 .. 5}\n"
                   "  leak: {does: x, meter: Mohm, in: isolated, healthy: OL}\n"
                   "causes:\n  Y1.gap: {expect: {smell: {none: 25 %, burnt: 0.75}, "
                   "leak: 0.5 .. 2, loop: 3 mA .. 3.5 mA}}\n")
    loop, leak = made.tests["loop"].healthy, made.tests["leak"].healthy
    assert loop is not None
    assert leak is not None
    assert (loop.low, loop.high) == pytest.approx((0.004, 0.005))
    assert (leak.low, leak.high) == (math.inf, math.inf)
    expect = made.causes["Y1.gap"].expect
    assert expect["smell"].words == {"none": 0.25, "burnt": 0.75}
    assert (expect["leak"].low, expect["leak"].high) == pytest.approx((0.5e6, 2e6))
    assert (expect["loop"].low, expect["loop"].high) == pytest.approx((0.003, 0.0035))


def test_a_row_of_probes_stands_for_a_test_at_each_pin_in_each_condition() -> None:
    tests = machine("probes:\n  walk: {reference: -X1:N, at: [-X1:*, -Q2:A1], meter: V AC, "
                    "in: [ready, up-slow]}\n").tests
    made = [test for test in tests.values() if test.generated]
    assert [test.id for test in made] == [
        f"walk/{pin}/{condition}" for pin in ("-X1:14", "-X1:15", "-X1:16", "-Q2:A1")
        for condition in ("ready", "up-slow")]
    assert tests["walk/-Q2:A1/up-slow"].between == ("-Q2:A1", "-X1:N")
    assert tests["walk/-Q2:A1/up-slow"].does == "Measure the AC voltage from -Q2:A1 to -X1:N"
    assert {test.device for test in made} == {"-X1", "-Q2"}


def test_pairs_looks_and_currents_are_probes_too() -> None:
    tests = machine("probes:\n  dead: {pairs: [[-X1:14, -X1:15]], meter: ohm, in: isolated}\n"
                    "  look: {sees: [-Q2, -Y1], in: ready}\n"
                    "  amps: {through: [-Q2:A1], meter: clamp A, in: ready}\n").tests
    assert tests["dead/-X1:14/-X1:15/isolated"].minutes == 1.5
    assert tests["look/-Y1/ready"].words == ("released", "set")
    assert tests["look/-Y1/ready"].place == "hoist"
    assert tests["amps/-Q2:A1/ready"].through == "-Q2:A1"


@pytest.mark.parametrize(("fault", "change"), [
    ("{contact: -Q2:13-14, to: open}", ("contact", "-Q2:13-14", "open")),
    ("{contact: -Q2:13-14, to: 0.15 kohm}", ("contact", "-Q2:13-14", "150")),
    ("{wire: 14, between: [-X3:14, -X1:14], to: open}", ("hop", "14:-X1:14/-X3:14", "open")),
    ("{wire: 14, between: [-X1:14, -X3:14], to: 300 ohm}", ("hop", "14:-X1:14/-X3:14", "300")),
    ("{element: -Q2/coil, to: x0.5}", ("element", "-Q2/coil", "x0.5")),
    ("{element: -Q2/coil, to: 3k3}", ("element", "-Q2/coil", "3300")),
    ("{bridge: [-B1:21, -B1:22]}", ("bridge", "-B1:21/-B1:22", "0.1")),
    ("{bridge: [PE, -B1:22], to: 2 ohm}", ("bridge", "-B1:22/PE", "2")),
    ("{attribute: -Y1/set time, to: 800 ms}", ("attribute", "-Y1/set time", "0.8")),
    ("{attribute: -Y1/set time, to: x0.2}", ("attribute", "-Y1/set time", "x0.2")),
    ("{attribute: -Y1/set time, to: +5}", ("attribute", "-Y1/set time", "+5")),
    ("{attribute: '-B1/late:21-22', to: 1}", ("attribute", "-B1/late:21-22", "1")),
    ("{state: -Q2, to: in}", ("state", "-Q2", "in")),
])
def test_a_fault_is_written_as_a_change(fault: str, change: tuple[str, str, str]) -> None:
    made = machine(f"causes:\n  x: {{says: x, weight: 1, remedy: Y1.lining, fault: {fault}}}\n")
    (found,), = made.causes["x"].variants
    # the parameters are plain texts
    assert found == Change(*change)  # type: ignore[arg-type]


def test_changes_in_a_list_are_made_together_and_variants_are_severities() -> None:
    made = machine("causes:\n"
                   "  x: {says: x, weight: 1, remedy: Y1.lining, fault: [{state: -Q2, to: in}, "
                   "{state: -Y1, to: set}]}\n"
                   "  y: {says: y, weight: 1, remedy: Y1.lining, variants: [{state: -Q2, to: in}, "
                   "{state: -Y1, to: set}]}\n").causes
    one, other = Change("state", "-Q2", "in"), Change("state", "-Y1", "set")
    assert made["x"].variants == ((one, other),)
    assert made["y"].variants == ((one,), (other,))


def test_a_cause_of_a_generated_id_overrides_only_what_it_says() -> None:
    plain = machine().causes["Q2.coil-open"]
    made = machine("causes:\n  Q2.coil-open: {weight: 9, symptoms: {no-up: 1}}\n"
                   ).causes["Q2.coil-open"]
    assert (made.weight, made.symptoms) == (9.0, {"no-up": 1.0})
    assert (made.says, made.remedy, made.variants) == (plain.says, plain.remedy, plain.variants)


def test_a_remedy_of_a_generated_id_overrides_only_what_it_says() -> None:
    plain = machine().remedies["Q2.replace"]
    made = machine("remedies:\n  Q2.replace: {minutes: 35 min, part: a spare}\n"
                   ).remedies["Q2.replace"]
    assert (made.minutes, made.part) == (35.0, "a spare")
    assert (made.says, made.dead, made.tools) == (plain.says, plain.dead, plain.tools)


def test_a_tree_without_any_wiring_is_a_whole_machine() -> None:
    result = loaded("machine: Tree\nconditions:\n  off: {says: Off, dead: yes}\n"
                    "symptoms:\n  slips: {says: It slips}\n"
                    "tests:\n  gap: {does: Measure, meter: mm, in: off, healthy: 0.3 .. 0.6}\n"
                    "causes:\n  worn: {says: Worn, weight: 1, remedy: new, symptoms: {slips: 0.9}, "
                    "expect: {gap: 0.9 .. 1.5}}\n"
                    "  greasy: {says: Greasy, weight: 1, remedy: clean, symptoms: {slips: 0.8}}\n"
                    "remedies:\n  new: {says: New lining}\n  clean: {says: Clean it}\n")
    assert result.problems == ()
    made = result.machine
    assert made is not None
    assert list(made.causes) == ["worn", "greasy"]
    assert made.tests["gap"].place == "panel"
    assert made.unknown == 0.03


def test_hand_written_and_computed_knowledge_mix() -> None:
    made = machine()
    assert made.causes["lining"].variants == ()
    assert made.causes["Q2.coil-open"].variants
    assert made.symptoms["slips"].when is None
    assert made.symptoms["no-up"].sees == {"-Q2": ("out", "drops again")}


def test_a_motor_shows_the_words_that_its_author_chose() -> None:
    made = machine("devices:\n  -M9: {kind: motor, winding: U-V-W, forward: out, reverse: back}\n"
                   "tests:\n  look: {does: Look, meter: words, sees: -M9, in: ready}\n")
    assert made.tests["look"].words == ("still", "hums", "stops again", "out", "back", "out slow",
                                        "back slow", "out fast", "back fast")


def test_the_digest_changes_with_every_byte_and_only_then() -> None:
    first, again, other = (loaded(*texts).machine for texts in (
        (BASE, "cautions: [x]\n"), (BASE, "cautions: [x]\n"), (BASE, "cautions: [x] \n")))
    assert first is not None
    assert again is not None
    assert other is not None
    assert first.digest == again.digest != other.digest
    assert first == again
