"""The tables of device kinds agree with themselves."""

import re

import pytest

from faultkit.vocabulary.kinds import KINDS
from faultkit.vocabulary.quantities import parse_quantity
from faultkit.vocabulary.quantities.units import UNITS

REFERENCES = {"text", "pins", "device", "setting", "contact"}


@pytest.mark.parametrize("name", KINDS)
def test_every_mode_is_cured_by_a_remedy_of_its_kind_and_every_remedy_cures(name: str) -> None:
    kind = KINDS[name]
    assert {mode.remedy for mode in kind.modes} == {cure.key for cure in kind.cures}


@pytest.mark.parametrize("name", KINDS)
def test_keys_are_unique_and_weights_are_positive(name: str) -> None:
    kind = KINDS[name]
    for keys in ([mode.key for mode in kind.modes], [cure.key for cure in kind.cures],
                 [attribute.name for attribute in kind.attributes], list(kind.shows)):
        assert len(keys) == len(set(keys))
    assert kind.rate > 0
    assert all(mode.share > 0 for mode in kind.modes)


@pytest.mark.parametrize("name", KINDS)
def test_attributes_have_a_known_unit_and_a_default_that_fits(name: str) -> None:
    for attribute in KINDS[name].attributes:
        assert attribute.unit in UNITS.keys() | REFERENCES
        if attribute.default is None:
            continue
        assert isinstance(attribute.default, str) == (attribute.unit in REFERENCES)
        if attribute.choices:
            shown = attribute.default
            assert (shown if isinstance(shown, str) else f"{shown:g}") in attribute.choices
        if attribute.unit == "pins" and attribute.default:
            assert len(str(attribute.default).split("-")) == attribute.count


@pytest.mark.parametrize("name", KINDS)
def test_changes_name_only_what_the_kind_has(name: str) -> None:
    kind = KINDS[name]
    attributes = {attribute.name for attribute in kind.attributes}
    for mode in kind.modes:
        for what, target, value in (change for variant in mode.variants for change in variant):
            holders = set(re.findall(r"\{(\w+)\}", target + mode.says))
            assert holders <= {"d", "c", "hop"}
            assert "c" not in holders or mode.per != "device"
            if what == "state":
                assert value in kind.shows
            if what == "attribute" and ":" not in target:
                assert target.partition("/")[2] in attributes
            if what in {"contact", "element"} and value not in {"open", "closed", "short"}:
                assert parse_quantity(value.removeprefix("x"), "ohm") > 0
