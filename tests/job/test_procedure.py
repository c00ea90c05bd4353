"""Into a safe condition and back."""

import pytest

from faultkit.errors import UsageError
from faultkit.job.events import LoadSecured
from faultkit.job.procedure import needed, procedure
from faultkit.job.records import JobState
from faultkit.loading import bundled_machines, find_machine, load
from tests.job.small_hoist import small_hoist, with_points

STATE = JobState("folder")


def ids(*, to_dead: bool, condition: str, state: JobState = STATE) -> list[str]:
    machine = with_points(small_hoist())
    return [s.id for s in procedure(machine, state, to_dead, condition).steps]


def test_the_five_rules_come_in_their_order() -> None:
    # EN 50110-1: disconnect, secure, prove dead, earth and short, cover (from memory)
    steps = ids(to_dead=True, condition="isolated")
    rules = ["off:-Q0", "lock", "dead:-Q2:1", "dead:-Q2:3", "earth", "cover"]
    assert [s for s in steps if s in rules] == rules


def test_the_load_is_landed_and_people_are_told_before_anything_is_switched_off() -> None:
    assert ids(to_dead=True, condition="isolated")[:3] == ["load", "people", "off:-Q0"]


def test_the_tester_is_proved_before_and_after_all_it_measures() -> None:
    steps = ids(to_dead=True, condition="isolated")
    before, after = steps.index("tester-before"), steps.index("tester-after")
    measured = [i for i, s in enumerate(steps) if s == "charge" or s.startswith("dead")]
    assert len(measured) == 3
    assert all(before < i < after for i in measured)


def test_a_charge_is_waited_for_with_the_machine_locked_and_measured_before_proving_dead() -> None:
    steps = ids(to_dead=True, condition="isolated")
    assert steps.index("lock") < steps.index("wait") < steps.index("charge") \
        < steps.index("dead:-Q2:1")


def test_the_charge_may_be_sixty_volts_at_most() -> None:
    # EN 60204-1, 6.2.4 (from memory): to 60 V or less within 5 s, else a warning with the time
    machine = with_points(small_hoist())
    charge = next(s for s in procedure(machine, STATE, to_dead=True, condition="isolated").steps
                  if s.id == "charge")
    assert "below 60 V" in charge.says
    assert "-Q2:A1 and -Q2:A2" in charge.says
    wait = next(s for s in procedure(machine, STATE, to_dead=True, condition="isolated").steps
                if s.id == "wait")
    assert "5 min" in wait.says


def test_without_named_points_dead_is_still_proved_and_nothing_is_waited_for() -> None:
    steps = [s.id for s in procedure(small_hoist(), STATE, to_dead=True,
                                     condition="isolated").steps]
    assert "dead" in steps
    assert "wait" not in steps


def test_what_a_dead_condition_moves_beyond_the_isolator_is_moved_only_on_a_dead_machine() -> None:
    steps = ids(to_dead=True, condition="isolated-unlinked")
    assert steps.index("set:-X5") > steps.index("cover")
    assert "set:-X5" not in ids(to_dead=True, condition="isolated-up")


def test_cautions_stand_at_the_step_they_belong_to() -> None:
    machine = load(find_machine("bridge-hoist")).machine
    assert machine is not None
    steps = procedure(machine, STATE, to_dead=True, condition="isolated-unlinked").steps
    own = machine.conditions["isolated-unlinked"].cautions
    assert own
    assert steps[-1].cautions == own
    assert steps[0].cautions == machine.conditions["isolated"].cautions


def test_the_way_back_puts_everything_back_before_the_lock_comes_off() -> None:
    steps = ids(to_dead=False, condition="ready")
    wanted = ["tools", "earths-off", "back:-X5", "covers", "clear", "load", "unlock", "on:-Q0",
              "watch"]
    assert steps == wanted


def test_the_line_side_of_the_isolator_is_said_to_stay_live() -> None:
    cover = procedure(small_hoist(), STATE, to_dead=True, condition="isolated").steps[-1]
    assert "line side of -Q0 stays live" in cover.says


def test_a_load_that_was_secured_is_looked_at_again() -> None:
    state = JobState("folder", secured=LoadSecured("held otherwise"))
    first = procedure(small_hoist(), state, to_dead=True, condition="isolated").steps[0]
    assert "held otherwise" in first.says


def test_minutes_are_those_of_the_condition() -> None:
    assert procedure(small_hoist(), STATE, to_dead=True, condition="isolated-up").minutes == 8.0
    assert procedure(small_hoist(), STATE, to_dead=False, condition="ready").minutes == 3.5


def test_a_live_condition_is_no_safe_one_and_unknown_ones_are_refused_with_a_near_miss() -> None:
    with pytest.raises(UsageError, match="is not dead"):
        procedure(small_hoist(), STATE, to_dead=True, condition="ready")
    with pytest.raises(UsageError, match="Did you mean 'isolated'"):
        procedure(small_hoist(), STATE, to_dead=True, condition="isolate")


def test_without_a_condition_the_first_fitting_one_is_taken() -> None:
    assert ids(to_dead=True, condition="") == ids(to_dead=True, condition="isolated")


def test_a_procedure_is_needed_only_where_the_machine_has_to_change() -> None:
    machine, dead = small_hoist(), JobState("folder", dead=True)
    assert needed(STATE, machine, "coil-ohm") is True
    assert needed(STATE, machine, "up-coil") is None
    assert needed(dead, machine, "coil-ohm") is None
    assert needed(dead, machine, "up-coil") is False


def test_the_charge_of_a_drive_is_waited_for_and_measured_at_its_bus() -> None:
    machine = load(find_machine("travel-drive")).machine
    assert machine is not None
    steps = procedure(machine, STATE, to_dead=True, condition="isolated").steps
    says = {s.id: s.says for s in steps}
    assert "10 min" in says["wait"]
    assert "-U1:+DC and -U1:-DC" in says["charge"]
    # dead on the line side of the contactor too: it is open whenever the drive stands
    assert {"dead:-F11:1", "dead:-F11:3", "dead:-F11:5"} < set(says)


@pytest.mark.parametrize("name", bundled_machines())
def test_every_dead_condition_of_a_bundled_machine_has_a_way_in_and_out(name: str) -> None:
    machine = load(find_machine(name)).machine
    assert machine is not None
    for condition in machine.conditions.values():
        way = procedure(machine, STATE, to_dead=condition.dead, condition=condition.id)
        found = [s.id for s in way.steps]
        assert len(found) == len(set(found))
        assert way.minutes > 0.0
        assert all(s.says.endswith(".") for s in way.steps)
