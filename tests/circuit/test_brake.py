"""Brake, its rectifier and the relay that watches it."""

from math import inf, pi, sqrt

import pytest

from faultkit.vocabulary.diagnosis import Change
from tests.circuit.bench import Bench, after, let_go, on_24_volts, on_mains, put
from tests.circuit.panels import contact, device, hold, machine

MEAN = sqrt(2) / pi
"""Half-wave mean over the effective value (mathematics)."""


@pytest.fixture(scope="module")
def brake() -> Bench:
    """400 V, rectifier, brake; -S1 opens the AC side, -S2 the DC side."""
    return Bench(on_mains(
        [device("-S1", "button", contact("13-14", "no")),
         device("-S2", "button", contact("13-14", "no")),
         device("-T3", "rectifier"), device("-Y1", "brake", fast_contact="-S2:13-14")],
        ["-S1:13"], ["-T3:2"],
        {"1": ["-S1:14", "-T3:1"], "2": ["-T3:3", "-S2:13"], "3": ["-S2:14", "-Y1:1"],
         "4": ["-T3:4", "-Y1:2"]},
        {"rest": (None, []), "held": ("rest", [hold("-S2", seconds=0.5), hold("-S1")]),
         "AC side": ("held", [let_go("-S1", 3.0)]), "DC side": ("held", [let_go("-S2", 3.0)]),
         "DC side a little later": ("held", [let_go("-S1", 0.1), let_go("-S2", 3.0)])}, volts=400))


def test_a_brake_releases_after_its_time_at_the_mean_of_the_sine(brake: Bench) -> None:
    assert brake.word("-Y1", "rest") == "set"
    assert brake.seconds("-Y1", "released", "held") == pytest.approx(0.15)
    amps = 400 * MEAN / (360 + 0.5)  # 0.5 ohm in the rectifier (kind's table)
    assert brake.amps("-Y1:1", "held") == pytest.approx(amps, rel=1e-3)
    assert brake.volts("-Y1:1", "-Y1:2", "held") == pytest.approx(amps * 360, rel=1e-3)


def test_a_rectifier_takes_from_the_mains_what_it_gives_and_loses(brake: Bench) -> None:
    """Energy is conserved: V I on the AC side is V I on the DC side and R I squared between."""
    taken = brake.amps("-T3:1", "held") * brake.volts("-T3:1", "-T3:2", "held", meter="V AC")
    amps = brake.amps("-Y1:1", "held")
    assert taken == pytest.approx(amps**2 * 360.5, rel=1e-3)


def test_switched_on_the_dc_side_a_brake_sets_many_times_as_fast(brake: Bench) -> None:
    """0.05 and 0.35 s; 4 to 10 times (common practice, no source)."""
    assert brake.seconds("-Y1", "set", "DC side") == pytest.approx(0.05)
    assert brake.seconds("-Y1", "set", "AC side") == pytest.approx(0.35)


def test_opening_the_dc_side_hurries_a_brake_that_is_setting_slowly(brake: Bench) -> None:
    """0.1 s after the AC side the coil's current still flows; the DC side ends it in 0.05 s."""
    assert brake.seconds("-Y1", "set", "DC side a little later") == pytest.approx(0.05)


def test_a_dc_side_contact_that_does_not_open_makes_the_brake_set_late(brake: Bench) -> None:
    welded = Change("contact", "-S2:13-14", "closed")
    assert brake.seconds("-Y1", "set", "AC side", welded) == pytest.approx(0.35)
    assert brake.word("-Y1", "DC side", welded) == "released"


@pytest.mark.parametrize(("fault", "word", "volts"), [
    # turns shorted to 0.55 of the ohms: the voltage stays, the current rises
    (Change("element", "-Y1/coil", "x0.55"), "released", 400 * MEAN * 198 / 198.5),
    (Change("element", "-Y1/coil", "open"), "set", 400 * MEAN),
    (Change("attribute", "-T3/factor", "open diode"), "set", 0.0),
    (Change("state", "-Y1", "set"), "set", 400 * MEAN * 360 / 360.5),
    # 1000 ohm instead of 360: 0.18 A, as if 65 V stood across a sound coil; it needs 126 V
    (Change("element", "-Y1/coil", "1000"), "set", 400 * MEAN * 1000 / 1000.5)])
def test_a_faulty_brake_is_told_by_what_it_does_and_by_its_voltage(
    fault: Change, word: str, volts: float, brake: Bench,
) -> None:
    assert brake.word("-Y1", "held", fault) == word
    assert brake.volts("-Y1:1", "-Y1:2", "held", fault) == pytest.approx(volts, rel=2e-3, abs=0.1)


def test_with_too_wide_a_gap_the_brake_is_late_or_never_releases(brake: Bench) -> None:
    assert brake.seconds("-Y1", "released", "held",
                         Change("attribute", "-Y1/release time", "0.9")) == pytest.approx(0.9)
    assert brake.seconds("-Y1", "released", "held",
                         Change("attribute", "-Y1/pick-up", "1.15")) == inf


def test_a_full_wave_rectifier_with_one_diode_open_gives_half() -> None:
    """2 sqrt2/pi and half of it (mathematics); the coil's drop-out keeps what is released."""
    bench = Bench(machine(
        [device("-X0", "mains", voltage=207 / (2 * MEAN), phases=1.0, impedance=0.01),
         device("-T3", "rectifier", form="full"), device("-Y1", "brake", voltage=207.0)],
        {"1": ["-X0:L1", "-T3:1"], "2": ["-X0:N", "-T3:2"], "3": ["-T3:3", "-Y1:1"],
         "4": ["-T3:4", "-Y1:2"]}, {"on": (None, [])}))
    half = Change("attribute", "-T3/factor", "open diode")
    assert bench.volts("-Y1:1", "-Y1:2", "on") == pytest.approx(207, rel=3e-3)
    assert bench.volts("-Y1:1", "-Y1:2", "on", half) == pytest.approx(103.5, rel=3e-3)
    assert bench.word("-Y1", "on") == "released"
    assert bench.word("-Y1", "on", half) == "set"


@pytest.fixture(scope="module")
def watched() -> Bench:
    """A 24 V brake with a released-switch; command and feedback go to a monitor."""
    return Bench(on_24_volts(
        [device("-S0", "selector", contact("13-14", "no")),
         device("-S1", "button", contact("13-14", "no")),
         device("-Y1", "brake", voltage=24.0, resistance=20.0),
         device("-B9", "limit switch",
                contact("13-14", "no", acts=("-Y1", "released", "released"))),
         device("-A2", "brake monitor", contact("13-14", "no"))],
        ["-S0:13", "-S1:13", "-B9:13"], ["-Y1:2", "-A2:A2", "-A2:C2", "-A2:F2"],
        {"a": ["-S0:14", "-A2:A1"], "c": ["-S1:14", "-Y1:1", "-A2:C1"], "f": ["-B9:14", "-A2:F1"]},
        {"ready": (None, []), "held": ("ready", [hold("-S1")]),
         "let go": ("held", [let_go("-S1", 2.0)]), "later": ("let go", [after(60.0)]),
         "supply off": ("let go", [put("-S0", "off")]),
         "supply on": ("supply off", [put("-S0", "on")])}))


STUCK = Change("state", "-Y1", "set")


def test_a_monitor_stays_in_while_the_brake_does_what_it_is_told(watched: Bench) -> None:
    for condition in ("ready", "held", "let go", "later"):
        assert watched.word("-A2", condition) == "in"
    assert watched.ohms("-A2:13", "-A2:14", "held") < 0.1


def test_a_monitor_trips_when_the_brake_does_not_confirm_in_time(watched: Bench) -> None:
    assert watched.seconds("-A2", "out", "held", STUCK) == pytest.approx(0.5)
    late = Change("attribute", "-Y1/release time", "0.9")
    assert watched.seconds("-A2", "out", "held", late) == pytest.approx(0.5)
    assert watched.word("-A2", "held", Change("attribute", "-Y1/release time", "0.4")) == "in"


def test_a_monitor_trips_when_the_brake_confirms_what_nobody_told_it(watched: Bench) -> None:
    welded = Change("contact", "-B9:13-14", "closed")
    assert watched.word("-A2", "ready", welded) == "out"


def test_a_monitor_trips_when_the_brake_sets_too_late(watched: Bench) -> None:
    # 0.8 s after release; the monitor waits 0.5 s
    slow = Change("attribute", "-Y1/set time", "0.8")
    assert watched.seconds("-A2", "out", "let go", slow) == pytest.approx(0.5)


def test_a_tripped_monitor_stays_out_until_its_supply_was_off(watched: Bench) -> None:
    for condition in ("held", "let go", "later", "supply off"):
        assert watched.word("-A2", condition, STUCK) in ("out", "drops again")
    assert watched.word("-A2", "later", STUCK) == "out"
    assert watched.word("-A2", "supply on", STUCK) == "in"


def test_a_bridged_released_switch_is_found_at_rest_by_the_monitor() -> None:
    """A defeated switch confirms a set brake: nothing is allowed before it is taken away."""
    bridge = Change("bridge", "-B9:13/-B9:14", "0.1")
    bench = Bench(on_24_volts(
        [device("-B9", "limit switch", contact("13-14", "no", acts=("hook", "up", "up"))),
         device("-A2", "brake monitor", contact("13-14", "no"))],
        ["-A2:A1", "-B9:13"], ["-A2:A2", "-A2:C2", "-A2:F2"], {"f": ["-B9:14", "-A2:F1"]},
        {"ready": (None, [])}, {"hook": {"down": 0.0, "up": 1.0}}), bridge)
    assert bench.word("-A2", "ready") == "in"
    assert bench.word("-A2", "ready", bridge) == "out"


@pytest.mark.parametrize("input_", ["command", "feedback"])
def test_a_monitor_with_a_dead_input_trips_on_a_sound_brake(input_: str, watched: Bench) -> None:
    dead = Change("element", f"-A2/{input_}", "open")
    assert watched.word("-A2", "ready", dead) == "in"
    assert watched.seconds("-A2", "out", "held", dead) == pytest.approx(
        0.5 + (0.15 if input_ == "command" else 0.0))


def test_a_brake_that_never_released_is_set_at_once(brake: Bench) -> None:
    assert brake.seconds("-Y1", "set", "AC side", Change("state", "-Y1", "set")) == 0
    assert brake.seconds("-Y1", "set", "AC side", Change("state", "-Y1", "released")) == inf
