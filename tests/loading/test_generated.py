"""What devices bring along: causes and remedies from the tables of their kinds."""

import pytest

from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.kinds import KINDS
from tests.loading.helper import machine


def test_a_contactor_brings_each_mode_for_itself_or_for_each_contact() -> None:
    causes = machine().causes
    assert causes["Q2.coil-open"].variants == ((Change("element", "-Q2/coil", "open"),),)
    marks = [contact.id for contact in machine().devices["-Q2"].contacts]
    for key in ("open", "closed", "poor"):
        assert [name for name in causes if name.startswith("Q2.") and name.endswith("." + key)] \
            == [f"Q2.{mark}.{key}" for mark in marks]
    assert causes["Q2.13-14.poor"].variants == (
        (Change("contact", "-Q2:13-14", "150"),), (Change("contact", "-Q2:13-14", "1500"),))


def test_all_weights_of_a_device_are_its_rate_by_the_shares_of_its_kind() -> None:
    made = machine("devices:\n  -K9: {kind: relay, weight: 2, contacts: {11-12: nc, 11-14: no}}\n")
    kind = KINDS["relay"]
    own = [cause for cause in made.causes.values() if cause.device == "-K9"]
    assert sum(cause.weight for cause in own) == pytest.approx(
        2 * kind.rate * sum(mode.share for mode in kind.modes))
    by_contact = [cause for cause in own if cause.id.endswith(".open")]
    share = next(mode.share for mode in kind.modes if mode.key == "open")
    assert [cause.weight for cause in by_contact] == pytest.approx([2 * kind.rate * share / 2] * 2)


def test_the_author_sets_or_removes_a_mode_of_all_contacts_or_of_one() -> None:
    made = machine("devices:\n  -K9: {kind: relay, weight: 7, contacts: {11-12: nc, 11-14: no}, "
                   "faults: {weak: 0, open: 3, 11-14.open: 5, 11-12.poor: 0}}\n").causes
    assert "K9.weak" not in made
    assert "K9.11-12.poor" not in made
    assert made["K9.11-12.open"].weight == 3
    assert made["K9.11-14.open"].weight == 5
    assert "K9.11-14.poor" in made


def test_a_remedy_that_no_mode_needs_is_not_made() -> None:
    made = machine("devices:\n  -K9: {kind: relay, faults: {socket: 0}}\n")
    assert "K9.socket" not in made.remedies
    assert made.remedies["K9.replace"].place == "panel"


def test_each_core_of_a_cable_breaks_at_its_own_hop_and_has_its_own_remedy() -> None:
    made = machine()
    assert made.causes["W1.14.broken"].variants == (
        (Change("hop", "14:-X1:14/-X3:14", "open"),),)
    assert made.causes["W1.15.broken"].remedy == "W1.15.core"
    assert {"W1.14.core", "W1.15.core"} <= set(made.remedies)


def test_each_phase_of_each_winding_fails_by_itself() -> None:
    made = machine("devices:\n  -M9: {kind: motor, slow: 1U-1V-1W, fast: 2U-2V-2W}\n").causes
    opened = [name for name in made if name.startswith("M9.") and name.endswith(".open")]
    assert opened == [f"M9.{winding}-{phase}.open" for winding in ("slow", "fast")
                      for phase in "UVW"]
    assert made["M9.slow-U.open"].variants == ((Change("element", "-M9/slow-U", "open"),),)


@pytest.mark.parametrize(("phases", "missing"), [(3, ["L1", "L2", "L3"]), (1, ["L1"])])
def test_the_mains_lose_as_many_phases_as_they_have(phases: int, missing: list[str]) -> None:
    made = machine(f"devices:\n  -G9: {{kind: mains, phases: {phases}}}\n")
    assert [name for name in made.causes if name.endswith(".missing")] == [
        f"G9.{pole}.missing" for pole in missing]
    assert made.devices["-G9"].pins == (*missing, "N", "PE")


def test_a_safety_device_hands_its_mark_to_all_its_causes() -> None:
    causes = machine().causes.values()
    assert {cause.safety for cause in causes if cause.device == "-B1"} == {True}
    assert {cause.safety for cause in causes if cause.device == "-Q2"} == {False}


def test_no_placeholder_is_left_in_anything_generated() -> None:
    rows = [f"  -D{number}: {{kind: {name}, {_needed(name)}}}"
            for number, name in enumerate(KINDS) if name != "cable"]
    made = machine("devices:\n" + "\n".join(rows) + "\n")
    for cause in made.causes.values():
        texts = [cause.id, cause.says, cause.remedy]
        texts += [text for variant in cause.variants for change in variant
                  for text in (change.target, change.value)]
        assert not [text for text in texts if "{" in text]


def _needed(kind: str) -> str:
    """Attributes and contacts of a device of some kind."""
    fields = [f"{attribute.name}: 2" for attribute in KINDS[kind].attributes
              if attribute.default is None]
    if kind == "limit switch":
        fields.append("contacts: {1-2: {form: nc, acts: {hook: over}}}")
    elif KINDS[kind].takes_contacts:
        fields.append("contacts: {1-2: no}")
    return ", ".join([*fields, "says: x"])
