"""Processes that make rows, started from where a program with screens starts them."""

import subprocess
import sys

UNDER_SCREENS = """
import sys, threading
from faultkit.prediction.workers import make_by_workers
from tests.prediction.rung import RUNG, machine

class NoFile:
    def write(self, text): pass
    def flush(self): pass
    def fileno(self): return -1

def work():
    made = machine(RUNG)
    tests, tasks = tuple(made.tests.values()), [("", ())] * 20
    found.extend(make_by_workers(made, tests, tasks, 2, lambda done: None))

found = []
if __name__ == "__main__":
    screens = sys.stderr = NoFile()
    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    print(len(found), sys.stderr is screens)
"""


def test_workers_start_while_screens_have_taken_the_place_of_stderr() -> None:
    """From a thread, in a process that has started none before, as on the first evening."""
    ran = subprocess.run([sys.executable, "-c", UNDER_SCREENS], capture_output=True, text=True,
                         timeout=120, check=False)
    assert ran.stdout.split() == ["20", "True"], ran.stderr
