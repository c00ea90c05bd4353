"""A job typed into the program itself: read up to the question, answer, and so on."""

import os
import signal
import subprocess
import sys
import time
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from tests.jobs.electrician import Electrician

ROOT = Path(__file__).resolve().parents[2]
QUESTION = (": ", "? ", "(y/N) ", "(Y/n) ", "(y/n) ")
PATIENCE = 60.0


@dataclass
class Typed:
    """A run of the program, and what it said."""

    arguments: tuple[str, ...]
    said: str = ""
    running: "subprocess.Popen[bytes]" = field(init=False)

    def __post_init__(self) -> None:
        self.running = subprocess.Popen(
            [sys.executable, "-m", "faultkit", *self.arguments], cwd=ROOT,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)

    def until_asked(self) -> str:
        """Read up to the next question; empty at the end of the program."""
        assert self.running.stdout is not None
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            data = os.read(self.running.stdout.fileno(), 65536)
            if not data:
                return ""
            self.said += data.decode(errors="replace")
            last = self.said.rpartition("\n")[2]
            if last.endswith(QUESTION):
                return last
        raise AssertionError(f"no question for {PATIENCE} s after {self.said[-300:]!r}")

    def type(self, answer: str) -> None:
        """Type a line; a program that has gone hears nothing."""
        assert self.running.stdin is not None
        try:
            self.running.stdin.write(f"{answer}\n".encode())
            self.running.stdin.flush()
        except BrokenPipeError:
            return
        self.said += "\n"

    def work(self, electrician: Electrician, answers: int | None = None) -> None:
        """Answer up to the end of the program, or so many questions."""
        while answers is None or answers > 0:
            prompt = self.until_asked()
            if not prompt:
                return
            self.type(electrician.answer(self.said, prompt))
            answers = None if answers is None else answers - 1

    def end(self, number: int) -> int:
        """Send a signal and read what is still said; the exit code."""
        self.running.send_signal(number)
        return self.rest()

    def rest(self) -> int:
        """Read up to the end of the program; the exit code."""
        assert self.running.stdout is not None
        assert self.running.stdin is not None
        self.said += self.running.stdout.read().decode(errors="replace")
        self.running.stdout.close()
        with suppress(BrokenPipeError):
            self.running.stdin.close()
        return self.running.wait(timeout=PATIENCE)

    @property
    def acknowledged(self) -> list[str]:
        """The first line of each echo: what was said to be kept."""
        whole = self.said if self.said.endswith("\n") else self.said.rpartition("\n")[0]
        return [row[2:] for row in whole.splitlines() if row.startswith("= ")]


KILL = signal.SIGKILL
