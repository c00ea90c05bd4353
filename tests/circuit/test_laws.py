"""What must hold in any circuit: no source, no voltage; order and history do not matter."""

from functools import cache
from itertools import pairwise

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from faultkit.circuit.circuit import Circuit
from faultkit.circuit.elements import CLOSED, OPEN
from faultkit.circuit.network import Complex
from faultkit.circuit.solve import Solver
from faultkit.vocabulary.diagnosis import Change
from faultkit.vocabulary.machine import Machine, Step
from tests.circuit.bench import after, let_go, on_24_volts, press, put
from tests.circuit.panels import contact, device, hold, machine

HOOK = {"low": 0.0, "middle": 50.0, "top": 118.0}
VOLTS = 1e-6


def hoist(steps: dict[str, tuple[str | None, list[Step]]]) -> Machine:
    """Both kinds of current, holding contacts, a pause, a limiter, a brake, a limit switch."""
    return on_24_volts(
        [device("-T1", "transformer", primary_voltage=230.0),
         device("-F3", "fuse", contact("1-2", "main"), rating=2.0),
         device("-S0", "selector", contact("1-2", "no")),
         device("-S1", "button", contact("13-14", "no"), contact("21-22", "nc")),
         device("-S2", "button", contact("13-14", "no"), contact("23-24", "no", step=2)),
         device("-B1", "limit switch", contact("21-22", "nc", acts=("hook", "top", "top"))),
         device("-Q1", "contactor", contact("1-2", "main"), contact("13-14", "no"),
                contact("21-22", "nc")),
         device("-K4", "timer", contact("15-18", "no"), time=1.5, function="pause",
                input="B1-A2"),
         device("-A1", "limiter", contact("11-14", "no")), device("-B4", "load pin",
                                                                  measures="hook"),
         device("-T3", "rectifier"), device("-Y1", "brake", voltage=49.5),
         device("-H1", "lamp", voltage=24.0)],
        ["-A1:A1", "-B4:1", "-K4:A1", "-S2:23", "-H1:X1"],
        ["-A1:A2", "-A1:S2", "-K4:A2", "-H1:X2"],
        {"p": ["-X0:L1", "-T1:1"], "q": ["-X0:N", "-T1:2"], "1": ["-T1:3", "-F3:1"],
         "2": ["-F3:2", "-S0:1"], "3": ["-S0:2", "-S1:21", "-Q1:1"], "4": ["-S1:22", "-B1:21"],
         "5": ["-B1:22", "-A1:11"], "6": ["-A1:14", "-K4:15"],
         "7": ["-K4:18", "-S2:13", "-Q1:13"], "8": ["-S2:14", "-Q1:14", "-Q1:A1"],
         "9": ["-Q1:2", "-T3:1"], "10": ["-T1:4", "-Q1:A2", "-T3:2"], "11": ["-T3:3", "-Y1:1"],
         "12": ["-T3:4", "-Y1:2"], "13": ["-S2:24", "-K4:B1"], "14": ["-B4:2", "-A1:S1"]},
        steps, {"hook": HOOK})


READY: dict[str, tuple[str | None, list[Step]]] = {
    "ready": (None, []), "up": ("ready", [after(2.0), hold("-S2", "2")])}

FAULTS = (
    Change("hop", "8:-Q1:14/-Q1:A1", "open"), Change("contact", "-B1:21-22", "150"),
    Change("contact", "-Q1:1-2", "closed"), Change("contact", "-Q1:21-22", "closed"),
    Change("contact", "-S1:21-22", "open"), Change("element", "-Q1/coil", "short"),
    Change("element", "-T1/secondary", "open"), Change("element", "-B4/leak", "1600"),
    Change("element", "-Y1/coil", "x0.55"), Change("element", "-H1/lamp", "open"),
    Change("bridge", "-B1:21/-B1:22", "0.1"), Change("bridge", "-Q1:A1/PE", "0.1"),
    Change("attribute", "-K4/time", "x8"), Change("attribute", "-Y1/pick-up", "1.15"),
    Change("attribute", "-Y1/release time", "0.9"), Change("attribute", "-X0/level", "0.9"),
    Change("state", "-A1", "in"), Change("state", "-Y1", "set"))


@cache
def circuit() -> Circuit:
    return Circuit(hoist(READY), FAULTS)


FAULTY = st.lists(st.sampled_from(FAULTS), unique_by=lambda c: c.target, max_size=5)


@settings(deadline=None, max_examples=60)
@given(FAULTY, st.sampled_from(["ready", "up"]))
def test_without_a_source_there_is_no_voltage_and_no_current_anywhere(
    faults: list[Change], condition: str,
) -> None:
    faults = [fault for fault in faults if fault.target != "-X0/level"]
    moment = circuit().simulate([*faults, Change("attribute", "-X0/level", "0")]).at(condition)
    assert moment.solution is not None
    assert np.abs(moment.solution.x).max() < 1e-9


@settings(deadline=None, max_examples=60)
@given(st.data())
def test_the_order_in_which_faults_are_named_does_not_matter(data: st.DataObject) -> None:
    faults = data.draw(FAULTY)
    other = data.draw(st.permutations(faults))
    first, second = (circuit().simulate(one).at("up") for one in (faults, other))
    assert first.states == second.states
    assert [(e.device, e.word) for e in first.events] == [(e.device, e.word)
                                                          for e in second.events]
    assert first.solution is not None
    assert second.solution is not None
    assert np.allclose(first.solution.x, second.solution.x, atol=VOLTS, rtol=0)


def test_a_break_contact_that_says_itself_what_it_does_is_no_mirror_of_a_welded_one() -> None:
    welded, other = Change("contact", "-Q1:1-2", "closed"), Change("contact", "-Q1:21-22", "closed")
    number = circuit().network.index["-Q1:21-22"]
    for faults in ((welded, other), (other, welded)):
        assert circuit().simulate(faults).at("ready").rows[number, 0] == 1
    assert circuit().simulate([welded]).at("ready").rows[number, 0] == 0


ACTIONS = st.lists(st.one_of(
    st.builds(hold, st.sampled_from(["-S1", "-S2"]), st.just("1"), st.floats(0.01, 3)),
    st.builds(press, st.sampled_from(["-S1", "-S2"]), st.floats(0.01, 1)),
    st.builds(let_go, st.sampled_from(["-S1", "-S2"]), st.floats(0.01, 1)),
    st.builds(put, st.just("hook"), st.sampled_from(list(HOOK)), st.floats(0.01, 1)),
    st.builds(put, st.just("-S0"), st.sampled_from(["off", "on"]), st.floats(0.01, 1)),
    st.builds(after, st.floats(0.01, 3))), min_size=1, max_size=6)


@settings(deadline=None, max_examples=40)
@given(ACTIONS, st.data())
def test_conditions_that_build_on_each_other_equal_their_steps_done_from_rest(
    steps: list[Step], data: st.DataObject,
) -> None:
    """The first step is a wait, since what is set at rest is set before the supply comes."""
    steps = [after(1.0), *steps]
    cuts = sorted(data.draw(st.sets(st.integers(1, len(steps)), max_size=3)))
    ends = [0, *cuts, len(steps)]
    chain: dict[str, tuple[str | None, list[Step]]] = {"all": (None, steps)}
    before: str | None = None
    for a, b in pairwise(ends):
        before, above = f"part {a} {b}", before
        chain[before] = (above, steps[a:b])
    assert before is not None
    split = Circuit(hoist(chain)).simulate()
    apart, whole = split.at(before), split.at("all")
    assert apart.states == whole.states
    assert apart.events == whole.events
    assert apart.now == whole.now
    assert apart.chattering == whole.chattering
    assert np.array_equal(apart.rows, whole.rows)


def test_conditions_that_build_on_each_other_share_their_beginnings() -> None:
    steps = [after(1.0), hold("-S2", "2"), let_go("-S2")]
    shared = Circuit(hoist({"a": (None, steps), "b": ("a", []), "c": ("a", []), "d": ("c", [])}))
    shared.simulate().at("a")
    alone = shared.solver.solves
    simulation = shared.simulate()
    for condition in "abcd":
        simulation.at(condition)
    assert shared.solver.solves == 2 * alone


def test_a_condition_is_the_same_whichever_was_asked_for_first() -> None:
    forward, backward = circuit().simulate(), circuit().simulate()
    one = [forward.at(name) for name in ("ready", "up")]
    two = [backward.at(name) for name in ("up", "ready")][::-1]
    assert [m.states for m in one] == [m.states for m in two]
    assert [m.events for m in one] == [m.events for m in two]


def altered(rows: Complex, choice: list[tuple[int, bool]]) -> Complex:
    rows = rows.copy()
    for number, closed in choice:
        rows[number] = CLOSED if closed else OPEN
    return rows


@settings(deadline=None, max_examples=100)
@given(st.data())
def test_a_solution_altered_from_a_near_state_is_that_of_a_fresh_inverse(
    data: st.DataObject,
) -> None:
    """Contacts and broken hops in any state, floating pieces among them."""
    network = circuit().network
    contacts = [k for k, branch in enumerate(network.branches)
                if branch.dead in (CLOSED, OPEN) and branch.ac in (CLOSED, OPEN)
                and branch.dc in (CLOSED, OPEN)]
    assert len(contacts) > 12
    change = st.lists(st.tuples(st.sampled_from(contacts), st.booleans()),
                      unique_by=lambda one: one[0], max_size=12)
    near, fresh = Solver(network), Solver(network)
    first = altered(network.live, data.draw(change))
    near.solve(first)
    for k, branch in enumerate(network.branches):
        if branch.id == "-G1/output":
            first[k] = (1, 0.05, 24, 0)
    near.solve(first)
    rows = altered(first, data.draw(change))
    solution = near.refine(near.solve(rows), rows)
    exact = fresh.refine(fresh.solve(rows), rows)
    assert exact.alteration is None
    assert np.abs(solution.x - exact.x)[:network.count].max() < VOLTS


@settings(deadline=None, max_examples=100)
@given(st.data())
def test_kirchhoff_holds_at_every_node_of_an_altered_solution(data: st.DataObject) -> None:
    network = circuit().network
    moment = circuit().simulate(data.draw(FAULTY)).at(data.draw(st.sampled_from(["ready", "up"])))
    solver = circuit().solver
    solution = solver.refine(solver.solve(moment.rows), moment.rows)
    assert np.abs(network.balance @ solution.x[:-1]).max() < 1e-9


def test_a_panel_without_any_wiring_is_no_problem() -> None:
    empty = Circuit(machine([device("-Z1", "other")], {}, {"rest": (None, [])}))
    assert empty.simulate().at("rest").events == ()


def test_the_panel_of_these_laws_moves() -> None:
    """A law about a panel where nothing happens would prove little."""
    up = circuit().simulate().at("up")
    moved = {event.device: event.word for event in up.events}
    assert moved == {"-G1": "on", "-A1": "in", "-B4": "regulates", "-K4": "in", "-Q1": "in",
                     "-Y1": "released", "-H1": "lit"}
