"""Machines with everything computed, and pages taken apart."""

from pathlib import Path

import pytest

from faultkit.circuit.circuit import Circuit
from faultkit.commands.opening import cache_folder, open_machine
from faultkit.job.knowledge import Knowledge, know
from faultkit.prediction import predict
from faultkit.prediction.pairs import PairPredictor

WINCH = str(Path(__file__).resolve().parents[1] / "terminal" / "winch.yaml")


def computed(name: str, cache: Path | None) -> Knowledge:
    machine = open_machine(name)
    circuit = Circuit(machine)
    prediction = predict(machine, cache, circuit=circuit)
    return know(prediction, PairPredictor(prediction, circuit))


@pytest.fixture(scope="session")
def winch() -> Knowledge:
    """The small test winch."""
    return computed(WINCH, None)


@pytest.fixture(scope="session")
def hoist() -> Knowledge:
    """The bundled hoist, from the cache that the commands use if it is there."""
    return computed("bridge-hoist", cache_folder())


@pytest.fixture(scope="session")
def travel() -> Knowledge:
    """The bundled machine that is written by hand, without wiring."""
    return computed("travel-drive", None)
