"""Free entry: any two points, predicted on the spot."""

import numpy as np
import pytest

from faultkit.circuit.circuit import Circuit
from faultkit.errors import UsageError
from faultkit.job.assess import assess, consider
from faultkit.job.events import ConditionChanged, Event, ReadingTaken, SymptomTold
from faultkit.job.knowledge import Knowledge, know
from faultkit.job.named import named_test
from faultkit.job.permit import refuse
from faultkit.job.probe import LONG_LEAD, find_points, parse_probe, probe_id
from faultkit.job.records import JobState
from faultkit.job.step import step
from faultkit.prediction.pairs import PairPredictor
from faultkit.vocabulary.diagnosis import Reading
from tests.job.small_hoist import small_hoist
from tests.loading import helper
from tests.prediction.rung import rung, table

COIL = probe_id("-Q1:A1", "-Q1:A2", "V AC", "held")
"""The same two points as the rung's own test `coil`, which has its author's word for one cause."""
BUTTON = probe_id("-S1:13", "-S1:14", "ohm", "isolated")


@pytest.fixture(scope="module")
def on() -> Knowledge:
    prediction = table()
    return know(prediction, PairPredictor(prediction, Circuit(rung())))


def after(*events: Event) -> JobState:
    state = JobState("m")
    for event in events:
        state = step(state, event)
    return state


def test_an_id_says_where_the_leads_go_and_comes_back_as_a_test() -> None:
    assert COIL == "probe:-Q1:A1|-Q1:A2|V AC|held"
    test = parse_probe(COIL, rung())
    assert (test.id, test.between, test.meter, test.condition) == (
        COIL, ("-Q1:A1", "-Q1:A2"), "V AC", "held")
    assert named_test(rung(), COIL) == test
    assert named_test(rung(), "coil") is rung().tests["coil"]


@pytest.mark.parametrize(("wrong", "says"), [
    ("probe:-Q1:A1|-Q1:A2|V AC", "is no free entry"),
    ("probe:-Q11:A1|-Q1:A2|V AC|held", "Did you mean '-Q1'"),
    ("probe:-Q1:A3|-Q1:A2|V AC|held", "has no point 'A3'"),
    ("probe:-Q1:A1|-Q1:A1|V AC|held", "two different points"),
    ("probe:-Q1:A1|-Q1:A2|words|held", "does not read 'words'"),
    ("probe:-Q1:A1|-Q1:A2|V AC|hold", "Did you mean 'held'"),
    ("probe:-Q1:A1|-Q1:A2|ohm|held", "never measured on a live machine"),
    ("probe:-Q1:A1|-Q1:A2|Mohm|rest", "never measured on a live machine"),
    ("no-such-test", "no test 'no-such-test'"),
])
def test_what_cannot_or_must_not_be_measured_is_refused_with_a_way_out(
        wrong: str, says: str) -> None:
    with pytest.raises(UsageError, match=says):
        named_test(rung(), wrong)


def test_no_lead_reaches_from_the_panel_to_the_pendant_but_a_long_one_for_ohms() -> None:
    machine = small_hoist()
    with pytest.raises(UsageError, match="no lead is so long"):
        parse_probe(probe_id("-X1:14", "-X3:14", "V AC", "ready"), machine)
    assert parse_probe(probe_id("-X1:14", "-X3:14", "ohm", "isolated"),
                       machine).cautions == (LONG_LEAD,)


def test_a_machine_without_wiring_has_no_free_entry() -> None:
    machine = helper.machine("devices:\n  -U1: {kind: other, pins: [L1, L2]}\n")
    with pytest.raises(UsageError, match="without wiring"):
        parse_probe(probe_id("-U1:L1", "-U1:L2", "V AC", "ready"), machine)
    assert find_points(machine, "U1") == ()


def test_a_free_entry_is_predicted_like_the_same_test_of_the_machine(on: Knowledge) -> None:
    wider = on.with_probe(COIL)
    free, own = (wider.prediction.tests.index(wider.machine.tests[name])
                 for name in (COIL, "coil"))
    rows = ~wider.prediction.by_hand[:, own]
    assert rows.sum() > 5
    for name in ("value", "level", "sigma"):
        found = getattr(wider.prediction, name)
        assert found[rows, free] == pytest.approx(found[rows, own], abs=1e-6)


def test_a_blown_fuse_is_found_blown_in_a_free_entry_too(on: Knowledge) -> None:
    fuse = probe_id("-F3:1", "-F3:2", "ohm", "isolated")
    wider = on.with_probe(fuse)
    prediction, column = wider.prediction, wider.space.test_index[fuse]
    short = next(i for i, o in enumerate(prediction.owner)
                 if prediction.causes[o].id == "Q1.coil-short")
    assert np.isinf(prediction.value[short, column])
    assert prediction.value[-1, column] < 1.0


def test_free_entries_count_in_any_order_and_what_was_computed_is_kept(on: Knowledge) -> None:
    one = on.with_probes([COIL, BUTTON])
    assert on.with_probe(BUTTON).with_probe(COIL) is one
    assert one.with_probe(COIL) is one
    assert one.with_probes([]) is one


def test_a_reading_of_a_free_entry_moves_the_suspects(on: Knowledge) -> None:
    told = SymptomTold("no-pull", shows=True)
    before = assess(after(told), on)
    view = assess(after(told, ReadingTaken(COIL, Reading(110.0))), on)
    share = {s.cause: s.probability for s in view.suspects}
    # 110 V at the coil of a contactor that stays out: the coil or its magnet, never the fuse
    assert share.get("F3.1-2.open", 0.0) < 0.01
    assert share["Q1.stuck-out"] > {s.cause: s.probability for s in before.suspects}["Q1.stuck-out"]


def test_a_free_entry_can_be_considered_before_it_is_made(on: Knowledge) -> None:
    state = after(SymptomTold("no-pull", shows=True))
    name = probe_id("-S1:14", "-T1:4", "V AC", "held")
    free, own = consider(state, on, name), consider(state, on, "walk/-S1:14/held")
    assert own.gain_bits > 0.1
    assert free.gain_bits == pytest.approx(own.gain_bits, rel=1e-4)
    assert name not in on.machine.tests


def test_two_faults_are_weighed_with_free_entries_too(on: Knowledge) -> None:
    fuse = probe_id("-F3:1", "-F3:2", "ohm", "isolated")
    coil = probe_id("-Q1:A1", "-Q1:A2", "ohm", "isolated")
    lamp = probe_id("-T1:3", "-T1:4", "V AC", "rest")
    view = assess(after(
        SymptomTold("no-pull", shows=True), ReadingTaken(fuse, Reading(float("inf"))),
        ReadingTaken(fuse, Reading(float("inf"))), ReadingTaken(coil, Reading(6050.0)),
        ReadingTaken("coil-ohm", Reading(6050.0)), ReadingTaken(lamp, Reading(113.0))), on)
    assert any(" + " in s.cause for s in view.suspects)


def test_a_free_entry_needs_its_condition_as_any_test_does() -> None:
    machine = small_hoist()
    ohms = probe_id("-X1:14", "-X1:15", "ohm", "isolated")
    with pytest.raises(UsageError, match="machine is live"):
        refuse(JobState("m"), ReadingTaken(ohms, Reading(1.0)), machine)
    dead = after(ConditionChanged("isolated", dead=True, steps=()))
    refuse(dead, ReadingTaken(ohms, Reading(1.0)), machine)
    with pytest.raises(UsageError, match="read in ohm"):
        refuse(dead, ReadingTaken(ohms, Reading(None, "in")), machine)


def test_points_are_found_by_terminal_by_wire_number_and_by_device() -> None:
    machine = small_hoist()
    assert find_points(machine, "-X1:14")[0] == "-X1:14"
    assert find_points(machine, "x1 14")[0] == "-X1:14"
    assert find_points(machine, "16")[:2] == ("-X1:16", "-Q2:A1")
    assert set(find_points(machine, "q2")) == {f"-Q2:{p}" for p in machine.devices["-Q2"].pins}
    assert "-Q2:A1" in find_points(machine, "hoist UP")
    assert find_points(machine, " ") == find_points(machine, "-Z9") == ()
