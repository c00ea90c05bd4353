"""A plain scalar is the text it is: what YAML 1.1 or 1.2 would retype arrives unchanged."""

import pytest

from tests.loading.helper import BASE, loaded, machine

RETYPED = ["no", "NO", "off", "on", "yes", "Y", "N", "010", "08", "0x1F", "0b101", "1_000", "1e3",
           "1E3", ".5", "1.", "+5", "1,5", "1.10", "12:30", "2024-01-01", "~", "null", ".nan",
           ".inf", "=", "<24"]


@pytest.mark.parametrize("text", RETYPED)
def test_a_description_keeps_its_text(text: str) -> None:
    places = f"places:\n  x:\n    says: {text}\n"
    if "," not in text:  # a comma separates fields inside braces
        places += f"  y: {{says: {text}}}\n"
    assert {place.says for place in machine(places).places.values()} == {
        text, "Control panel", "Pendant", "Hoist"}


def test_a_decimal_comma_inside_braces_is_explained() -> None:
    problem, = loaded(BASE, "conditions:\n  x: {steps: [{wait: 0,3 s}]}\n").problems
    assert problem.rule == "unknown-key"
    assert "decimal point" in problem.way_out


@pytest.mark.parametrize("text", ["no", "n", "on", "010", "0010", "1.10", "null", "1e3", "0x1F"])
def test_a_wire_number_keeps_its_text_as_key(text: str) -> None:
    wire = machine(f"wires:\n  {text}0: [-X1:80, -X3:80]\n  {text}: [-X1:81, -X3:81]\n").wires
    assert wire[text].pins == ("-X1:81", "-X3:81")
    assert wire[text + "0"].pins == ("-X1:80", "-X3:80")


def test_a_wire_may_not_bear_both_a_number_and_its_quoted_twin() -> None:
    problems = loaded(BASE, 'wires:\n  80: [-X1:80, -X3:80]\n  "80": [-X1:81, -X3:81]\n').problems
    assert [problem.rule for problem in problems] == ["duplicate-key"]
    assert "line 2" in problems[0].says


def test_no_is_a_contact_form() -> None:
    contacts = machine().devices["-Q2"].contacts
    assert [contact.form for contact in contacts] == ["main", "main", "main", "no", "nc"]


@pytest.mark.parametrize("word", ["true", "True", "on", "y", "NO", "1"])
def test_only_yes_and_no_are_yes_and_no(word: str) -> None:
    problems = loaded(BASE, f"conditions:\n  x: {{dead: {word}}}\n").problems
    assert [problem.rule for problem in problems] == ["yes-or-no"]
