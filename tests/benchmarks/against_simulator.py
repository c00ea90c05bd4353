"""How long a full prediction takes beside ngspice doing the same solves.

    python -m tests.benchmarks.against_simulator [repeats]

A prediction brings every fault of the bundled hoist into every condition that a test needs and
solves the circuit after each move of a relay. Each of those solves is one AC analysis for the
simulator. Its time is measured on a sample of the same circuits, all in one process (start of
the program and reading of its own file left out) and with a process for each, and scaled.

Figures depend on the machine and on what else it does; nothing here is asserted. The simulator
is a general-purpose program: most of its time per circuit is reading the netlist and setting up,
not linear algebra.
"""

import platform
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np
from threadpoolctl import threadpool_info

from faultkit.circuit.circuit import Circuit
from faultkit.loading import find_machine, load
from faultkit.prediction import predict
from faultkit.vocabulary.machine import Machine
from tests.outside.comparing import brought, network_at
from tests.outside.spice import netlist, run, simulator

SAMPLE = 60


def timed(work: Callable[[], object], repeats: int) -> list[float]:
    """Seconds of each of several runs."""
    seconds = []
    for _ in range(repeats):
        begin = time.perf_counter()
        work()
        seconds.append(time.perf_counter() - begin)
    return seconds


def sampled_netlists(machine: Machine) -> list[str]:
    """Netlists of random faults in random conditions."""
    chance = random.Random(1)
    circuit = Circuit(machine)
    causes = [cause for cause in machine.causes.values() if cause.variants]
    conditions = [c.id for c in machine.conditions.values() if not c.dead]
    texts = []
    for _ in range(SAMPLE):
        changes = chance.choice(chance.choice(causes).variants)
        simulation, moment = brought(circuit, chance.choice(conditions), changes)
        texts.append(netlist(network_at(simulation, moment, changes)[1], "sample")[0])
    return texts


def all_in_one_process(texts: list[str]) -> None:
    """Let one ngspice read and analyse every netlist."""
    program = simulator()
    assert program is not None
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        lines = ["* all", ".control", "set filetype=ascii"]
        for number, text in enumerate(texts):
            circuit = text.partition(".control")[0]
            (place / f"{number}.cir").write_text(f"{circuit}.end\n", encoding="utf-8")
            lines += [f"source {number}.cir", "ac lin 1 50 50", f"write {number}.raw",
                      "destroy all", "remcirc"]
        (place / "all.cir").write_text("\n".join([*lines, "quit", ".endc", ".end", ""]),
                                       encoding="utf-8")
        subprocess.run([program, "-b", "all.cir"], cwd=place, check=False, capture_output=True)
        missing = [n for n in range(len(texts)) if not (place / f"{n}.raw").is_file()]
        assert not missing, f"ngspice gave no answer for {missing}"


def main() -> None:
    """Measure and print."""
    repeats = int(sys.argv[1]) if len(sys.argv) > 1 else 3
    machine = load(find_machine("bridge-hoist")).machine
    assert machine is not None
    blas = {info["internal_api"]: info.get("architecture", "") for info in threadpool_info()}
    print(f"Python {platform.python_version()}, numpy {np.__version__}, {blas}")
    circuit = Circuit(machine)
    own = timed(lambda: predict(machine, circuit=circuit), repeats)
    solves = circuit.solver.solves / repeats
    network = circuit.network
    print(f"{len(machine.causes)} causes x {len(machine.tests)} tests, {network.count} nodes, "
          f"{len(network.branches)} branches, {solves:.0f} solves")
    print(f"faultkit, whole prediction: {spread(own)} s, "
          f"{statistics.median(own) / solves * 1e6:.0f} us for each solve, all included")
    if simulator() is None:
        print("ngspice is not installed: nothing to compare with")
        return
    texts = sampled_netlists(machine)
    start = timed(lambda: all_in_one_process([]), repeats)
    one = [seconds - min(start) for seconds in timed(lambda: all_in_one_process(texts), repeats)]
    each = timed(lambda: [run(text) for text in texts], repeats)
    for what, seconds in (("one process", one), ("a process for each", each)):
        per = statistics.median(seconds) / SAMPLE
        print(f"ngspice, {what}: {per * 1e6:.0f} us for each solve, so {per * solves:.0f} s for "
              f"the same solves: {per * solves / statistics.median(own):.0f} times as long")


def spread(seconds: list[float]) -> str:
    """Least, median and most."""
    return f"{min(seconds):.1f} / {statistics.median(seconds):.1f} / {max(seconds):.1f}"


if __name__ == "__main__":
    main()
