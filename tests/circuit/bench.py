"""A bench with a panel on it: what reads what, in which condition, with which faults."""

from collections.abc import Mapping

from faultkit.circuit.circuit import Circuit
from faultkit.circuit.meter import word_of
from faultkit.vocabulary.diagnosis import Change, Test
from faultkit.vocabulary.machine import Device, Machine, Step
from tests.circuit.panels import current, device, machine, measure, timing

Conditions = Mapping[str, tuple[str | None, list[Step]]]


class Bench:
    """A panel compiled once; every question names the faults it is asked with."""

    def __init__(self, panel: Machine, *possible: Change) -> None:
        self.circuit = Circuit(panel, possible)

    def volts(self, a: str, b: str, condition: str, *faults: Change, meter: str = "V DC") -> float:
        """What a voltmeter reads."""
        return self._read(measure(meter, a, b, condition), *faults)

    def ohms(self, a: str, b: str, condition: str, *faults: Change) -> float:
        """What an ohmmeter reads."""
        return self._read(measure("ohm", a, b, condition), *faults)

    def amps(self, pin: str, condition: str, *faults: Change) -> float:
        """What a current clamp reads."""
        return self._read(current(pin, condition), *faults)

    def seconds(self, seen: str, word: str, condition: str, *faults: Change) -> float:
        """What a stopwatch reads."""
        return self._read(timing(seen, word, condition), *faults)

    def word(self, seen: str, condition: str, *faults: Change) -> str:
        """What a look shows, in this one condition and the ones before it."""
        simulation = self.circuit.simulate(faults)
        return word_of(simulation, simulation.at(condition), seen)

    def _read(self, test: Test, *faults: Change) -> float:
        return self.circuit.read(self.circuit.simulate(faults), [test])[0].value


def after(seconds: float) -> Step:
    """The step of waiting."""
    return Step("wait", "", "", seconds)


def put(target: str, value: str, seconds: float = 1.0) -> Step:
    """The step of putting a setting or a maintained switch into a position."""
    return Step("set", target, value, seconds)


def let_go(target: str, seconds: float = 1.0) -> Step:
    """The step of releasing a button."""
    return Step("release", target, "", seconds)


def press(target: str, seconds: float = 1.0) -> Step:
    """The step of pressing a button for a moment."""
    return Step("press", target, "1", seconds)


def on_24_volts(devices: list[Device], plus: list[str], minus: list[str],
                wires: Mapping[str, list[str]], conditions: Conditions,
                settings: Mapping[str, Mapping[str, float]] | None = None,
                **supply: float) -> Machine:
    """A panel on a 24 V supply of 3 A with its minus earthed, fed by 230 V single phase."""
    own = [device("-X0", "mains", voltage=230.0, phases=1.0, impedance=0.01),
           device("-G1", "dc supply", minimum=100.0, rated_input=230.0, **supply)]
    mains = {"L": ["-X0:L1", "-G1:L"], "N": ["-X0:N", "-G1:N"],
             "plus": ["-G1:24", *plus], "minus": ["-G1:0", *minus, "-X0:PE"]}
    return machine([*own, *devices], mains | dict(wires), conditions, settings)


def on_mains(devices: list[Device], phase: list[str], neutral: list[str],
             wires: Mapping[str, list[str]], conditions: Conditions,
             settings: Mapping[str, Mapping[str, float]] | None = None,
             volts: float = 230.0) -> Machine:
    """A panel on stiff single-phase mains."""
    own = device("-X0", "mains", voltage=volts, phases=1.0, impedance=0.01)
    mains = {"L": ["-X0:L1", *phase], "N": ["-X0:N", *neutral]}
    return machine([own, *devices], mains | dict(wires), conditions, settings)
