"""Commands run as a person runs them, with folders of their own."""

import subprocess
import sys
from pathlib import Path

import pytest

from faultkit.commands.opening import JobEngine, open_machine
from faultkit.job.knowledge import know
from faultkit.prediction import predict

ROOT = Path(__file__).resolve().parents[2]
WINCH = str(ROOT / "tests" / "terminal" / "winch.yaml")


@pytest.fixture(autouse=True)
def own_folders(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Nothing is read from or written to the real home."""
    for name in ("XDG_CACHE_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME", "HOME"):
        monkeypatch.setenv(name, str(tmp_path / "home"))
    return tmp_path / "home"


@pytest.fixture(scope="session")
def winch() -> JobEngine:
    """The small test winch, with everything computed."""
    return JobEngine(know(predict(open_machine(WINCH))))


def shell(
    *arguments: str, typed: str = "", timeout: float = 120,
) -> "subprocess.CompletedProcess[str]":
    """Run `python -m faultkit` without a terminal."""
    return subprocess.run(
        [sys.executable, "-m", "faultkit", *arguments], input=typed, capture_output=True,
        text=True, check=False, cwd=ROOT, timeout=timeout)
