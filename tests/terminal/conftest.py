"""One small machine, opened once for all tests of the fronts."""

from pathlib import Path

import pytest

from faultkit.commands.opening import JobEngine, open_machine
from faultkit.job.knowledge import know
from faultkit.prediction import predict

WINCH = Path(__file__).with_name("winch.yaml")


@pytest.fixture(scope="session")
def winch() -> JobEngine:
    """The small test winch, with everything computed."""
    return JobEngine(know(predict(open_machine(str(WINCH)))))


@pytest.fixture(autouse=True)
def plain_colours(monkeypatch: pytest.MonkeyPatch) -> None:
    """No test depends on the colours of the shell it runs in."""
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
