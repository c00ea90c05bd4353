"""A machine is at hand before everything is computed, and nobody waits in vain."""

import threading
from collections.abc import Callable, Mapping

import pytest

from faultkit.commands import shelf as shelf_module
from faultkit.commands.opening import JobEngine
from faultkit.commands.shelf import ComingEngine, Shelf
from faultkit.errors import CircuitError, FaultkitError, UsageError
from faultkit.job.events import SymptomTold
from faultkit.job.records import JobState
from faultkit.vocabulary.machine import Machine
from tests.commands.conftest import WINCH

Maker = Callable[[Machine, Callable[[str], None], int, Mapping[str, int]], JobEngine]


def opened(monkeypatch: pytest.MonkeyPatch, maker: Maker) -> tuple[Shelf, ComingEngine]:
    monkeypatch.setattr(shelf_module, "engine_of", maker)
    shelf = Shelf(at_once=True)
    engine = shelf.open(WINCH, print)
    assert isinstance(engine, ComingEngine)
    return shelf, engine


def test_the_complaint_is_told_while_the_rest_is_computed(
    winch: JobEngine, monkeypatch: pytest.MonkeyPatch,
) -> None:
    gate = threading.Event()

    def slow(_machine: Machine, say: Callable[[str], None], _every: int,
             _confirmed: Mapping[str, int]) -> JobEngine:
        say("3 of 7")
        gate.wait(20)
        return winch

    shelf, engine = opened(monkeypatch, slow)
    assert engine.machine.title == "Small test winch"
    state = engine.step(JobState(machine="winch"), SymptomTold("no-up", shows=True))
    assert engine.doing
    assert shelf.open(WINCH, print) is engine
    gate.set()
    found, right = engine.assess(state), winch.assess(state)
    assert found.suspects == right.suspects
    assert [one.test for one in found.next] == [one.test for one in right.next]
    assert engine.doing == ""


def test_an_error_of_the_computing_reaches_the_one_who_waits(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def failing(_machine: Machine, _say: Callable[[str], None], _every: int,
                _confirmed: Mapping[str, int]) -> JobEngine:
        raise CircuitError("The island of -G1 floats.")

    _, engine = opened(monkeypatch, failing)
    with pytest.raises(CircuitError, match="floats"):
        engine.assess(JobState(machine="winch"))


def test_closing_lets_go_of_whoever_waits_and_ends_the_computing(
    winch: JobEngine, monkeypatch: pytest.MonkeyPatch,
) -> None:
    gate, ended = threading.Event(), threading.Event()

    def endless(_machine: Machine, say: Callable[[str], None], _every: int,
                _confirmed: Mapping[str, int]) -> JobEngine:
        gate.wait(20)
        try:
            say("still at it")
        finally:
            ended.set()
        return winch

    shelf, engine = opened(monkeypatch, endless)
    shelf.close()
    with pytest.raises(FaultkitError, match="closed"):
        engine.assess(JobState(machine="winch"))
    gate.set()
    assert ended.wait(20)


def test_a_machine_that_is_not_there_is_said_at_once() -> None:
    with pytest.raises(UsageError):
        Shelf(at_once=True).open("no-such-machine", print)
