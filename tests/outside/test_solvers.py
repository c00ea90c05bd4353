"""The two solvers that everything else here is compared with, against circuits worked by hand."""

import cmath
import math
from collections.abc import Callable

import pytest

from tests.outside.exact import solve_exactly
from tests.outside.network import Impedance, Injection, Network, Source, Transformer
from tests.outside.spice import parse_raw, solve_by_simulator

pytestmark = pytest.mark.outside


def divider() -> tuple[Network, str, complex]:
    """110 V over 100 ohm and 900 ohm: 99 V across the lower one (Ohm's law)."""
    network = Network(50.0)
    network.add(Source("top", "0", 110 + 0j), Impedance("top", "middle", 100 + 0j),
                Impedance("middle", "0", 900 + 0j))
    return network, "middle", 99 + 0j


def coil() -> tuple[Network, str, complex]:
    """R = 30 ohm and X = 40 ohm in series at 100 V: 2 A, 80 V across X, leading by 36.87 deg."""
    network = Network(50.0)
    network.add(Source("top", "0", 100 + 0j), Impedance("top", "middle", 30 + 0j),
                Impedance("middle", "0", 40j))
    return network, "middle", cmath.rect(80.0, math.atan2(3, 4))


def loaded_transformer() -> tuple[Network, str, complex]:
    """400/110 V over 25 ohm primary and 1 ohm secondary resistance, 100 ohm load.

    Primary resistance seen from the secondary: 25 (110/400)^2 = 1.890625 ohm.
    """
    ratio = 110 / 400
    network = Network(50.0)
    network.add(Source("l1", "l2", 400 + 0j), Impedance("l2", "0", 0j),
                Impedance("l1", "p", 25 + 0j), Transformer("p", "l2", "s", "0", ratio),
                Impedance("s", "out", 1 + 0j), Impedance("out", "0", 100 + 0j))
    return network, "out", 110 * 100 / (100 + 1 + 25 * ratio**2) + 0j


def star() -> tuple[Network, str, complex]:
    """Three phases of 230 V on an unequal star: its point by Millman's theorem."""
    network = Network(50.0)
    ohms = (10.0, 20.0, 20.0)
    volts = [cmath.rect(230.0, math.radians(-120 * k)) for k in range(3)]
    for name, u, r in zip("abc", volts, ohms, strict=True):
        network.add(Source(name, "0", u), Impedance(name, "star", complex(r)))
    up = sum(u / r for u, r in zip(volts, ohms, strict=True))
    return network, "star", up / sum(1 / r for r in ohms)


def loop() -> tuple[Network, str, complex]:
    """4 to 20 mA loop at 12 mA over a 100 ohm burden: 1.2 V, direct current."""
    network = Network(0.0)
    network.add(Injection("0", "signal", 0.012 + 0j), Impedance("signal", "0", 100 + 0j))
    return network, "signal", 1.2 + 0j


Case = Callable[[], tuple[Network, str, complex]]

CASES: list[Case] = [divider, coil, loaded_transformer, star, loop]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.__name__)
def test_the_exact_solve_gives_what_is_worked_out_by_hand(case: Case) -> None:
    network, node, volts = case()
    assert solve_exactly(network)[node] == pytest.approx(volts, rel=1e-14)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.__name__)
def test_the_simulator_gives_what_is_worked_out_by_hand(case: Case) -> None:
    network, node, volts = case()
    answer = solve_by_simulator(network, f"by-hand-{case.__name__}")
    assert answer[node] == pytest.approx(volts, rel=1e-6)


def test_a_floating_island_has_no_exact_solution() -> None:
    network, _, _ = divider()
    network.add(Impedance("here", "there", 5 + 0j))
    with pytest.raises(ZeroDivisionError):
        solve_exactly(network)


def test_a_raw_file_is_read_by_the_names_in_it() -> None:
    raw = ("Title: t\nFlags: complex\nVariables:\n\t0\tfrequency\tfrequency\n"
           "\t1\tv(n1)\tvoltage\nValues:\n 0\t5.0e+01,0.0\n\t1.5,-2.5\n")
    assert parse_raw(raw)["v(n1)"] == 1.5 - 2.5j
