"""What a meter reads at a moment: volts, amperes, ohms, seconds, words.

The meter loads what it measures: 10 Mohm, or 3 kohm on its low-impedance input. Ohms are
measured through every parallel path, with all sources dead, as a real meter sees them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf, nan

import numpy as np

from faultkit.circuit.network import Complex, Network
from faultkit.circuit.simulation import AT_ONCE, Moment, Simulation
from faultkit.circuit.solve import Solution, Solver
from faultkit.errors import CircuitError
from faultkit.vocabulary.diagnosis import Test

INPUT_OHM = {"V AC": 10e6, "V DC": 10e6, "V AC low": 3e3, "V DC low": 3e3}
"""Input resistance: 10 Mohm usual, 2 to 3 kohm low (common practice, no source)."""
HIGHEST_OHM = {"ohm": 40e6, "Mohm": 2e9}
"""Above this a meter shows OL (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Measured:
    """A computed reading."""

    value: float
    """SI unit of the meter; inf for OL or never; nan for a word."""
    level: float
    """Change of `value` per unit of supply level."""
    word: str = ""
    inner: float = 0.0
    """Ohms behind a voltage: large where only insulation joins a point to anything."""


def read_tests(simulation: Simulation, solver: Solver, tests: Sequence[Test]) -> list[Measured]:
    """Return what each computed test reads; the tests may be in any conditions."""
    result: list[Measured | None] = [None] * len(tests)
    by_condition: dict[str, list[int]] = {}
    for k, test in enumerate(tests):
        by_condition.setdefault(test.condition, []).append(k)
    for condition, numbers in by_condition.items():
        moment = simulation.at(condition)
        reader = _Reader(simulation, solver, moment)
        own = [tests[k] for k in numbers]
        for k, measured in zip(numbers, reader.read(own), strict=True):
            result[k] = measured
    return [one for one in result if one is not None]


def supply_share(network: Network, solution: Solution, rows: Complex) -> Complex:
    """Return the (N + 1) part of the solution that follows the mains voltage."""
    fed = np.array([k for k in np.flatnonzero(rows[:, 2]) if _is_mains(network, int(k))],
                   dtype=np.int64)
    return solution.respond(network.count, fed, rows[fed, 2])


def _is_mains(network: Network, number: int) -> bool:
    device = network.branches[number].id.split("/")[0]
    part = network.parts.get(device)
    return part is not None and bool(part.sources) and part.sources[0].form == "ac" and bool(
        network.live[number, 2])


class _Reader:
    """Reads tests at one moment."""

    def __init__(self, simulation: Simulation, solver: Solver, moment: Moment) -> None:
        self._simulation = simulation
        self._network = simulation.network
        self._solver = solver
        self._moment = moment

    def read(self, tests: Sequence[Test]) -> list[Measured]:
        result: dict[int, Measured] = {}
        volts = [k for k, t in enumerate(tests) if t.meter in INPUT_OHM and t.between]
        ohms = [k for k, t in enumerate(tests) if t.meter in HIGHEST_OHM and t.between]
        amps = [k for k, t in enumerate(tests) if t.through]
        if volts or amps:
            self._solve_live()
        if volts:
            result.update(zip(volts, self._volts([tests[k] for k in volts]), strict=True))
        if ohms:
            result.update(zip(ohms, self._ohms([tests[k] for k in ohms]), strict=True))
        for k in amps:
            result[k] = self._amps(tests[k])
        for k, test in enumerate(tests):
            if test.until:
                result[k] = Measured(
                    seconds_until(self._simulation, self._moment, *test.until), 0.0)
            elif test.sees:
                result[k] = Measured(nan, 0.0, word_of(self._simulation, self._moment, test.sees))
            elif k not in result:
                raise CircuitError(f"The test {test.id} cannot be computed.",
                                   "Give it two points, a pin, a device to look at or a time.")
        return [result[k] for k in range(len(tests))]

    def _solve_live(self) -> None:
        rows = self._moment.rows
        self._live = self._solver.refine(self._solver.solve(rows), rows)
        self._share = supply_share(self._network, self._live, rows)

    def _pairs(self, tests: Sequence[Test]) -> tuple[np.ndarray, np.ndarray]:
        node = self._network.node
        try:
            a = np.array([node[t.between[0]] for t in tests if t.between], dtype=np.int64)
            b = np.array([node[t.between[1]] for t in tests if t.between], dtype=np.int64)
        except KeyError as exc:
            raise CircuitError(f"The circuit has no point {exc.args[0]}.",
                               "Wire it, or measure elsewhere.") from exc
        return a, b

    def _volts(self, tests: Sequence[Test]) -> list[Measured]:
        a, b = self._pairs(tests)
        inner = self._live.thevenin(a, b)
        result = []
        for k, test in enumerate(tests):
            own = INPUT_OHM[test.meter]
            load = own / (own + inner[k])
            direct = test.meter.startswith("V DC")
            v = self._seen(self._live.x, a[k], direct) - self._seen(self._live.x, b[k], direct)
            s = self._seen(self._share, a[k], direct) - self._seen(self._share, b[k], direct)
            v, s = complex(v * load), complex(s * load)
            if direct:
                result.append(Measured(v.real, s.real, inner=float(abs(inner[k]))))
            else:
                size = abs(v)
                slope = (v.conjugate() * s).real / size if size > 1e-9 else 0.0
                result.append(Measured(size, slope, inner=float(abs(inner[k]))))
        return result

    def _seen(self, x: Complex, column: int, direct: bool) -> complex:
        """Return the voltage to earth that the meter's setting responds to."""
        if bool(self._network.direct[column]) != direct:
            return 0j
        return complex(x[column]) * (self._turn(column) if direct else 1)

    def _turn(self, column: int) -> complex:
        """Return the factor that takes a rectified island back to real direct voltage."""
        ends = self._network.phase_from.get(int(self._network.island[column]))
        if ends is None:
            return 1
        v = self._live.x[ends[0]] - self._live.x[ends[1]]
        return complex(v.conjugate() / abs(v)) if abs(v) > 1e-6 else 1

    def _ohms(self, tests: Sequence[Test]) -> list[Measured]:
        a, b = self._pairs(tests)
        rows = self._simulation.dead_rows(self._moment)
        z = self._solver.solve(rows).thevenin(a, b).real
        return [Measured(inf if r > HIGHEST_OHM[t.meter] else max(float(r), 0.0), 0.0)
                for r, t in zip(z, tests, strict=True)]

    def _amps(self, test: Test) -> Measured:
        net = self._network
        assert test.through is not None
        device = test.through.split(":")[0]
        total, share = 0j, 0j
        found = False
        for branch in net.branches:
            if not branch.id.startswith((f"{device}:", f"{device}/")):
                continue
            for end, sign in ((branch.a, 1), (branch.b, -1)):
                if end == test.through:
                    found = True
                    total += sign * self._live.x[net.column(branch.id)]
                    share += sign * self._share[net.column(branch.id)]
        if not found:
            raise CircuitError(f"No element of {device} carries the current at {test.through}.",
                               "Measure the current at a device that carries it.")
        size = abs(total)
        slope = (total.conjugate() * share).real / size if size > 1e-12 else 0.0
        return Measured(float(size), float(slope))


def word_of(simulation: Simulation, moment: Moment, device: str) -> str:
    """Return what a look at a device shows at a moment."""
    if device in moment.chattering:
        return "chatters"
    words = [m.word(s) for m, s in zip(simulation.movers, moment.states, strict=True)
             if m.device == device]
    if not words:
        raise CircuitError(f"{device} shows nothing that can be computed.", "")
    word = next((w for w in words if w in ("blown", "tripped")), words[0])
    since = [event.word for event in moment.events
             if event.device == device and event.time > moment.since]
    if word == "out" and "in" in since:
        return "drops again"
    if word == "still" and any(w not in ("still", "hums") for w in since):
        return "stops again"
    if simulation.machine.devices[device].kind == "button":
        return "free" if word == "0" else "pressed"
    return word


def seconds_until(simulation: Simulation, moment: Moment, device: str, word: str) -> float:
    """Return the seconds from the last action until a device shows a word; inf for never.

    0 for a device that shows it already; one that leaves it at once with the action is waited
    for until it comes again.
    """
    shown = [mover.word(mover.start) for mover in simulation.movers if mover.device == device]
    own = [event for event in moment.events if event.device == device]
    shown += [event.word for event in own if event.time <= moment.since + AT_ONCE]
    if shown and shown[-1] == word:
        return 0.0
    return next((event.time - moment.since for event in own
                 if event.word == word and event.time > moment.since + AT_ONCE), inf)
