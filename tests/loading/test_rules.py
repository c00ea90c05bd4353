"""Each rule about the content: a piece of the base is spoilt, the problem stands there."""

import pytest

from tests.loading.helper import BASE, Found, alone, found, loaded, where

SPOILT = {
    "an unknown field": ("pendant: {says: Pendant, minutes",
        "pendant: {says: Pendant, ^minuts", "unknown-key"),
    "an unknown section": ("remedies:", "^remedis:", "unknown-key"),
    "no number of minutes": ("minutes: 2 min", "minutes: ^soon", "quantity"),
    "a negative number": ("minutes: 2 min", "minutes: ^-2 min", "too-small"),
    "a unit that does not fit": ("minutes: 2 min", "minutes: ^2 V", "quantity"),
    "a resting position that is none": ("rests: middle", "rests: ^midle", "unknown-position"),
    "a position that the setting does not have": ("{hook: upper .. over}",
        "{hook: ^uper .. over}", "unknown-position"),
    "a range that runs backwards": ("{hook: upper .. over}", "{hook: ^over .. upper}", "acts"),
    "a contact that acts on nothing": ("{hook: upper .. over}",
        "{hok: ^upper .. over}", "unknown-setting"),
    "an unknown kind": ("kind: brake,", "kind: ^brak,", "unknown-kind"),
    "an unknown place": ("kind: brake, place: hoist",
        "kind: brake, place: ^hoits", "unknown-place"),
    "a contact marking that is none": ("13-14: no, 21-22: nc}}",
        "^13/14: no, 21-22: nc}}", "contact-mark"),
    "a contact form that is none": ("21-22: nc}}\n", "21-22: ^on}}\n", "unknown-word"),
    "an unknown position of a switch": ("{-Q0: off}", "{-Q0: ^of}", "unknown-position"),
    "an unknown thing to set": ("set: {-Q0: off}", "set: {^-Q7: off}", "unknown-setting"),
    "a button that is none": ("press: [-S1]", "press: [^-Q2]", "not-pressed"),
    "an unknown button": ("press: [-S1]", "press: [^-S9]", "unknown-device"),
    "a step that the button does not have": ("-S2 step 1", "^-S2 step 3", "unknown-step"),
    "an unknown condition before": ("after: ready", "after: ^raedy", "unknown-condition"),
    "a condition after itself": ("after: ready", "after: ^up-slow", "condition-cycle"),
    "a point to prove dead that is none": ("dead: yes,",
        "dead: yes, prove dead: [^-Q2:99],", "unknown-pin"),
    "a wait that is longer than all of isolating": ("dead: yes,",
        "dead: yes, discharge: ^20 min, discharge at: [-Q2:A1, -Q2:A2],", "discharge-too-long"),
    "a charge that is waited for and never measured": ("{says: Isolated, ",
        "^{says: Isolated, discharge: 5 min, ", "discharge"),
    "a charge that is measured at once": ("{says: Isolated, ",
        "^{says: Isolated, discharge at: [-Q2:A1, -Q2:A2], ", "discharge"),
    "a charge measured at one point": ("dead: yes,",
        "dead: yes, discharge: 5 min, discharge at: ^[-Q2:A1],", "two-pins"),
    "a proof that a live condition is dead": ("{says: Control on, ",
        "{says: Control on, ^prove dead: [-Q2:A1], ", "not-dead"),
    "a wire with one pin": ("15: [-X1:15, -X3:15, -S2:14]\n  16",
        "^15: [-X3:15]\n  16", "wire-ends"),
    "a pin that the device does not have": ("-S2:13]", "^-S2:43]", "unknown-pin"),
    "a pin on two wires": ("[-X1:16,", "[^-X1:14,", "pin-on-two-wires"),
    "a pin without a colon": ("[-X1:16,", "[^-X1.16,", "pin-form"),
    "a core that is no wire": ("cores: [14, 15]", "cores: [14, ^25]", "unknown-wire"),
    "a core without a hop between the ends": ("cores: [14, 15]",
        "cores: [14, ^16]", "core-without-hop"),
    "a cable to nowhere": ("to: -X3", "to: ^-X9", "unknown-device"),
    "a word that the kind does not show": ("[out, drops again]", "[out, ^tripped]", "unknown-word"),
    "an unknown condition of a symptom": ("when: up-slow", "when: ^up-slov", "unknown-condition"),
    "an unknown meter": ("meter: V AC", "meter: ^VAC", "unknown-word"),
    "a meter that does not go with pins": ("meter: V AC, between: ",
        "meter: mA, between: ^", "meter-does-not-fit"),
    "ohms on a live machine": ("meter: V AC, between: [-Q2:A1, -Q2:A2], in: up-slow",
        "meter: ohm, between: [-Q2:A1, -Q2:A2], in: ^up-slow", "ohms-live"),
    "the same pin twice": ("between: [-Q2:A1, -Q2:A2]", "between: ^[-Q2:A1, -Q2:A1]", "two-pins"),
    "pins in two places": ("between: [-Q2:A1, -Q2:A2]", "between: ^[-Q2:A1, -S2:14]", "two-places"),
    "an unknown condition of a test": ("in: up-slow}\n  air",
        "in: ^up}\n  air", "unknown-condition"),
    "a range that is none": ("0.3 .. 0.6", "^0.6 .. 0.3", "quantity"),
    "a healthy word that is none": ("healthy: none", "healthy: ^nice", "unknown-word"),
    "a test of one word": ("{does: Smell at the brake, meter: words, words: [none, burnt]",
        "^{does: Smell at the brake, meter: words, words: [none]", "missing-key"),
    "an unknown remedy": ("remedy: Y1.lining", "remedy: ^Y1.linnig", "unknown-remedy"),
    "an unknown symptom": ("{slips: 90 %}", "{^slip: 90 %}", "unknown-symptom"),
    "an impossible probability": ("{slips: 90 %}", "{slips: ^90}", "probability"),
    "a negative weight": ("weight: 4", "weight: ^-4", "too-small"),
    "an unknown device of a cause": ("{device: -Y1", "{device: ^-Y7", "unknown-device"),
}
"""Case -> piece of the base, what it is exchanged for with ^ where the problem stands, rule."""


@pytest.mark.parametrize("case", SPOILT)
def test_a_spoilt_piece_is_reported_where_it_stands(case: str) -> None:
    old, new, rule = SPOILT[case]
    before, mark, after = new.partition("^")
    assert mark
    assert BASE.count(old) == 1
    start = BASE.partition(old)[0] + before
    place = (rule, start.count("\n") + 1, len(start) - start.rfind("\n"))
    assert place in alone(BASE.replace(old, before + after))


CASES: dict[str, tuple[str, Found]] = {
    "a device without a kind": ("devices:\n  -K9: {says: x}\n", [("missing-key", 2, 3)]),
    "a device that is a text": ("devices:\n  -K9: relay\n", [("wrong-shape", 2, 8)]),
    "an attribute that must be given": ("devices:\n  -K9: {kind: timer}\n",
                                        [("missing-key", 2, 8)]),
    "an attribute of another kind": ("devices:\n  -K9: {kind: relay, time: 3 s}\n",
                                     [("unknown-key", 2, 22)]),
    "an attribute that is no choice": ("devices:\n  -K9: {kind: relay, current: Dc}\n",
                                       [("unknown-word", 2, 31)]),
    "a coil without voltage": ("devices:\n  -K9: {kind: relay, coil voltage: 0 V}\n",
                               [("too-small", 2, 36)]),
    "a chain of one pin": ("devices:\n  -K9: {kind: relay, coil: A1}\n", [("pin-chain", 2, 28)]),
    "a winding of two pins": ("devices:\n  -M9: {kind: motor, winding: U-V}\n",
                              [("pin-chain", 2, 31)]),
    "a button of countless steps": ("devices:\n  -S9: {kind: button, steps: 1000}\n",
                                    [("too-large", 2, 30)]),
    "a button of half a step": ("devices:\n  -S9: {kind: button, steps: 1.5}\n",
                                [("whole-number", 2, 30)]),
    "a contact at a step beyond reason": (
        "devices:\n  -S9: {kind: button, contacts: {1-2: {form: no, step: 1e9}}}\n",
        [("too-large", 2, 56)]),
    "more poles than there are": ("devices:\n  -Q9: {kind: contactor, contacts: {main: 99}}\n",
                                  [("too-large", 2, 43)]),
    "a wait of a day": ("conditions:\n  x: {wait: 1440 min}\n", [("too-large", 2, 13)]),
    "a fault mode that is none": ("devices:\n  -K9: {kind: relay, faults: {coil: 0}}\n",
                                  [("unknown-mode", 2, 31)]),
    "a fault of a contact that is none": (
        "devices:\n  -K9: {kind: relay, faults: {13-14.open: 0}}\n", [("unknown-part", 2, 31)]),
    "a limit switch that never acts": (
        "devices:\n  -B9: {kind: limit switch, contacts: {1-2: no}}\n", [("acts", 2, 3)]),
    "contacts on a brake": ("devices:\n  -Y9: {kind: brake, contacts: {1-2: no}}\n",
                            [("no-contacts", 2, 33)]),
    "an unknown brake of a motor": ("devices:\n  -M9: {kind: motor, brake: -Y8}\n",
                                    [("unknown-device", 2, 29)]),
    "an unknown fast contact": ("devices:\n  -Y9: {kind: brake, fast contact: -Q2:53-54}\n",
                                [("unknown-contact", 2, 36)]),
    "a place beside itself": ("places:\n  x: {says: x, beside: x}\n", [("place-tree", 2, 24)]),
    "a place beside nothing": ("places:\n  x: {says: x, beside: pannel}\n",
                               [("unknown-place", 2, 24)]),
    "a setting without positions": ("settings:\n  wind: {says: Wind}\n", [("missing-key", 2, 9)]),
    "a step of two actions": ("conditions:\n  x: {steps: [{press: -S1, hold: -S2}]}\n",
                              [("one-action", 2, 15)]),
    "two orders of steps": ("conditions:\n  x: {press: -S1, steps: [{wait: 1 s}]}\n",
                            [("two-orders", 2, 26)]),
    "a test before itself": (
        ("tests:\n  x: {does: x, meter: mm, in: isolated, healthy: 1, needs: [y]}\n"
         "  y: {does: y, meter: mm, in: isolated, healthy: 1, needs: [x]}\n"),
        [("test-cycle", 2, 60), ("test-cycle", 3, 60)]),
    "a test that needs nothing known": (
        "tests:\n  x: {does: x, meter: mm, in: isolated, healthy: 1, needs: [air-gab]}\n",
        [("unknown-test", 2, 61)]),
    "a test that says nothing": ("tests:\n  x: {does: x, meter: ohm, in: isolated}\n",
                                 [("missing-key", 2, 6)]),
    "OL for a voltage": ("tests:\n  x: {does: x, meter: V AC, in: ready, healthy: OL}\n",
                         [("overload", 2, 49)]),
    "words whose probabilities do not sum to 1": (
        "causes:\n  Y1.gap: {expect: {smell: {none: 0.5, burnt: 0.2}}}\n",
        [("probability", 2, 28)]),
    "a reading of an unknown test": (
        "causes:\n  Y1.gap: {expect: {air-gab: 1}}\n", [("unknown-test", 2, 21)]),
    "words for a number": (
        "causes:\n  Y1.gap: {expect: {air-gap: wide}}\n", [("quantity", 2, 30)]),
    "a cause that shows nowhere": ("causes:\n  x: {says: x, weight: 1, remedy: Y1.lining}\n",
                                   [("no-effect", 2, 3)]),
    "a cause that no symptom leads to": (
        "causes:\n  x: {says: x, weight: 1, remedy: Y1.lining, expect: {air-gap: 1}}\n",
        [("no-symptom-path", 2, 3)]),
    "a cause of its own without weight": (
        "causes:\n  x: {says: x, remedy: Y1.lining, symptoms: {slips: 1}}\n",
        [("missing-key", 2, 6)]),
    "an intermittent share above 1": ("causes:\n  Y1.gap: {intermittent: 3}\n",
                                      [("probability", 2, 26)]),
    "a fault of two things": (
        "causes:\n  Y1.gap: {fault: {state: -Y1, element: -Y1/coil, to: open}}\n",
        [("one-change", 2, 19)]),
    "a fault in a contact that is none": (
        "causes:\n  Y1.gap: {fault: {contact: -Q2:13-15, to: open}}\n",
        [("unknown-contact", 2, 29)]),
    "a fault in an element that is none": (
        "causes:\n  Y1.gap: {fault: {element: -Y1/coill, to: open}}\n",
        [("unknown-element", 2, 29)]),
    "a fault in an attribute that is none": (
        "causes:\n  Y1.gap: {fault: {attribute: -Y1/sett time, to: x2}}\n",
        [("unknown-attribute", 2, 31)]),
    "a state that is none": ("causes:\n  Y1.gap: {fault: {state: -Y1, to: open}}\n",
                             [("unknown-word", 2, 36)]),
    "a value that is none": ("causes:\n  Y1.gap: {fault: {contact: -Q2:13-14, to: opened}}\n",
                             [("change-value", 2, 44)]),
    "a break where the wire has no hop": (
        "causes:\n  Y1.gap: {fault: {wire: 14, between: [-X1:14, -S2:13], to: open}}\n",
        [("no-such-hop", 2, 39)]),
    "a bridge to itself": (
        "causes:\n  Y1.gap: {fault: {bridge: [-X1:14, -X1:14]}}\n", [("two-pins", 2, 28)]),
    "a probe without a reference": ("probes:\n  x: {at: [-X1:14], meter: V AC, in: [ready]}\n",
                                    [("missing-key", 2, 6)]),
    "a probe of two ways": (
        "probes:\n  x: {at: [-X1:14], sees: [-Q2], reference: -X1:N, meter: V AC, in: ready}\n",
        [("one-way", 2, 6)]),
    "a probe of ohms on a live machine": (
        "probes:\n  x: {pairs: [[-X1:14, -X1:15]], meter: ohm, in: [ready]}\n",
        [("ohms-live", 2, 51)]),
    "a probe between two places": (
        "probes:\n  x: {pairs: [[-X1:14, -X3:14]], meter: ohm, in: [isolated]}\n",
        [("two-places", 2, 16)]),
    "a remedy that nobody needs": ("remedies:\n  x: {says: x}\n", [("unused-remedy", 2, 3)]),
    "an id in two files": ("remedies:\n  Y1.lining: {says: x}\n", [("duplicate-id", 2, 3)]),
    "a second title": ("machine: x\n", [("duplicate-id", 1, 1)]),
    "an empty section": ("remedies:\n", [("empty-section", 1, 1)]),
    "a section that is a list": ("remedies:\n  - x\n", [("wrong-shape", 2, 3)]),
    "an empty text": ("places:\n  x: {says: }\n", [("empty-text", 2, 13)]),
    "unknown faults only": ("unknown: 100 %\n", [("probability", 1, 10)]),
    "a safety function without proof": ("safety:\n  stop: {says: Press it}\n",
                                        [("missing-key", 2, 9)]),
}


@pytest.mark.parametrize("case", CASES)
def test_a_rule_reports_its_problem_where_it_stands(case: str) -> None:
    text, expected = CASES[case]
    assert found(text) == expected


def test_a_machine_needs_one_title() -> None:
    problems = loaded(BASE.partition("\n")[2]).problems
    assert [(problem.rule, problem.origin.line) for problem in problems] == [("no-machine", 0)]


def test_an_id_in_two_files_names_both_places() -> None:
    problem, = loaded(BASE, "remedies:\n  Y1.lining: {says: x}\n").problems
    first = where("Y1.lining: {says")
    assert problem.origin.file == "2.yaml"
    assert f"1.yaml:{first[0]}:{first[1]}" in problem.says


@pytest.mark.parametrize(("wrong", "meant"), [
    ("contctor", "contactor"), ("Contactor", "contactor"), ("limitswitch", "limit switch")])
def test_a_near_miss_is_suggested(wrong: str, meant: str) -> None:
    problem, = loaded(BASE, f"devices:\n  -K9: {{kind: {wrong}}}\n").problems
    assert problem.way_out == f"Did you mean {meant!r}?"


def test_a_warning_does_not_keep_the_machine_from_loading() -> None:
    result = loaded(BASE, "remedies:\n  x: {says: x}\n")
    assert result.machine is not None
    assert [problem.severity for problem in result.problems] == ["warning"]
