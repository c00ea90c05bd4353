"""The line-by-line mode as a program: typed in, read out."""

import os
import pty
import select
import signal
import subprocess
import sys
import time

from tests.commands.conftest import ROOT, WINCH, shell

CALLED = "\n\n\n\n.\n"
"""Nothing told of the call-out."""


def test_without_a_terminal_it_goes_on_lines_and_says_so() -> None:
    done = shell("find", WINCH, typed=CALLED + "1\n0\nq\n")
    assert done.returncode == 0
    assert "There is no terminal here. Going on line by line." in done.stderr
    assert "DO NOW:" in done.stdout


def test_the_end_of_the_input_ends_the_job_politely() -> None:
    done = shell("find", WINCH, "--plain", typed=CALLED + "1\n0\n")
    assert done.returncode == 0
    *_, left, kept = done.stdout.rstrip().splitlines()
    assert left == "Left. Make the machine safe before you go."
    assert kept.startswith(f"The job is kept: faultkit find {WINCH} --resume ")
    assert done.stderr == ""


def test_every_letter_answers_and_a_bad_reading_is_asked_again() -> None:
    typed = CALLED + "1\n0\nw\np\nf\n?\nr\nabc\ns\nu\nt\nlook\n1\n2\nr\n1\n1\n\nu\nc\n0\nq\n"
    done = shell("find", WINCH, "--plain", typed=typed)
    assert done.returncode == 0, done.stderr
    for needed in ("Why this one:", "Remedies they call for:", "There is no finding yet.",
                   "Before dead work:", "No reading yet.", "Left out; it is not proposed again",
                   "Can be proposed again", "Look at -Q2", "= out", "is again as it was"):
        assert needed in done.stdout, needed


def test_without_a_machine_it_asks_which() -> None:
    done = shell("--plain", typed="0\n")
    assert done.returncode == 0, done.stderr
    assert "Which machine stands still?" in done.stdout


LISTENING = """
import signal, sys
from faultkit.commands.main import main
signal.signal(signal.SIGINT, signal.default_int_handler)
sys.exit(main(sys.argv[1:]))
"""
"""The program, deaf to interrupts no more: what runs in the background of a script starts so."""


def test_an_interrupt_ends_politely_with_code_130() -> None:
    running = subprocess.Popen(
        [sys.executable, "-c", LISTENING, "find", WINCH, "--plain"], cwd=ROOT, text=True,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert running.stdout is not None
    for line in running.stdout:
        if "The call-out." in line:
            break
    running.send_signal(signal.SIGINT)
    rest, error = running.communicate(timeout=60)
    assert running.returncode == 130
    assert "Interrupted. Make the machine safe" in rest
    assert "Traceback" not in error


def screen_until(master: int, needed: bytes, seconds: float = 60) -> bytes:
    """Read from a pseudo-terminal until something was drawn."""
    data, end = b"", time.monotonic() + seconds
    while needed not in data and time.monotonic() < end:
        try:
            if select.select([master], [], [], 1.0)[0]:
                data += os.read(master, 65536)
        except OSError:
            break
    return data


def test_a_closed_window_leaves_the_terminal_as_it_was() -> None:
    master, slave = pty.openpty()
    running = subprocess.Popen(
        [sys.executable, "-m", "faultkit", "find", WINCH], cwd=ROOT, stdin=slave, stdout=slave,
        stderr=slave, env={**os.environ, "TERM": "xterm-256color", "COLUMNS": "80",
                           "LINES": "24"})
    os.close(slave)
    drawn = screen_until(master, b"call-out")
    assert b"\x1b[?1049h" in drawn
    running.send_signal(signal.SIGTERM)
    rest = screen_until(master, b"\x1b[?1049l")
    assert b"\x1b[?1049l" in rest
    assert running.wait(timeout=60) == 128 + signal.SIGTERM
    os.close(master)
