"""The network given to the circuit simulator ngspice, and its answer read back.

Where the simulator is not installed, its stored output is read instead: `stored/NAME.cir` is
the netlist it was given and `stored/NAME.raw` what it wrote. A stored answer counts only while
the netlist beside it is the one that would be given today.
"""

import math
import os
import re
import shutil
import subprocess
import tempfile
from pathlib import Path

import pytest

from tests.outside.network import REFERENCE, Impedance, Injection, Network, Source, Transformer

STORED = Path(__file__).parent / "stored"
STORE_AGAIN = "FAULTKIT_STORE_SPICE"
"""Environment variable; when set, live answers are written into `stored/`."""


def simulator() -> str | None:
    """Path of ngspice, or None where it is missing."""
    return shutil.which("ngspice")


def solve_by_simulator(network: Network, stored_as: str) -> dict[str, complex]:
    """Voltage of every node against the reference, in volt, as ngspice works it out.

    Skips the test, and says why, where there is neither a simulator nor a stored answer to
    exactly this netlist. `.ci/run` installs the simulator.
    """
    text, names = netlist(network, stored_as)
    kept = STORED / f"{stored_as}.cir"
    if simulator() is None:
        if not kept.is_file() or kept.read_text(encoding="utf-8") != text:
            pytest.skip(f"no ngspice here, and stored/{kept.name} is not this netlist")
        raw = kept.with_suffix(".raw").read_text(encoding="utf-8")
    else:
        raw = run(text)
        if os.environ.get(STORE_AGAIN):
            STORED.mkdir(exist_ok=True)
            kept.write_text(text, encoding="utf-8")
            kept.with_suffix(".raw").write_text(raw, encoding="utf-8")
    voltages = parse_raw(raw)
    return {REFERENCE: 0j} | {node: voltages[f"v({name})"] for node, name in names.items()}


def netlist(network: Network, title: str) -> tuple[str, dict[str, str]]:
    """The text for ngspice, and the simulator's name of each node.

    Direct current becomes an operating point; anything else one point of an AC analysis, with
    reactances as inductors and capacitors at that frequency.
    """
    names = {node: f"n{row}" for row, node in enumerate(network.nodes(), start=1)}
    at = {**names, REFERENCE: "0"}
    direct = network.frequency == 0
    lines = [f"* {title}"]
    lines += [f"* {name} is {node}" for node, name in names.items()]
    for number, element in enumerate(network.elements, start=1):
        a, b = at[element.a], at[element.b]
        match element:
            case Impedance():
                lines += _impedance(number, a, b, element.ohms, network.frequency)
            case Source():
                lines.append(f"V{number} {a} {b} {_level(element.volts, direct=direct)}")
            case Injection():
                lines.append(f"I{number} {a} {b} {_level(element.amps, direct=direct)}")
            case Transformer():
                c, d = at[element.c], at[element.d]
                # V senses the secondary current: it flows from x to c inside
                lines += [
                    f"E{number} x{number} {d} {a} {b} {element.ratio!r}",
                    f"V{number} x{number} {c} DC 0 AC 0",
                    f"F{number} {a} {b} V{number} {element.ratio!r}",
                ]
    analysis = "op" if direct else f"ac lin 1 {network.frequency!r} {network.frequency!r}"
    lines += [
        ".options reltol=1e-9 abstol=1e-15 vntol=1e-12 gmin=1e-18",
        ".control", "set filetype=ascii", "set numdgt=10", analysis, "write answer.raw",
        ".endc", ".end", "",
    ]
    return "\n".join(lines), names


def _impedance(number: int, a: str, b: str, ohms: complex, frequency: float) -> list[str]:
    if not ohms:
        return [f"V{number} {a} {b} DC 0 AC 0"]
    if not ohms.imag:
        return [f"R{number} {a} {b} {ohms.real!r}"]
    omega = 2 * math.pi * frequency
    assert omega, "a reactance has no value at direct current"
    middle = f"m{number}" if ohms.real else a
    lines = [f"R{number} {a} {middle} {ohms.real!r}"] if ohms.real else []
    if ohms.imag > 0:
        return [*lines, f"L{number} {middle} {b} {ohms.imag / omega!r}"]
    return [*lines, f"C{number} {middle} {b} {-1 / (omega * ohms.imag)!r}"]


def _level(value: complex, *, direct: bool) -> str:
    if direct:
        assert not value.imag, "a phase has no meaning at direct current"
        return f"DC {value.real!r}"
    degrees = math.degrees(math.atan2(value.imag, value.real))
    return f"DC 0 AC {abs(value)!r} {degrees!r}"


def run(text: str) -> str:
    """What ngspice writes when it is given this netlist in batch."""
    program = simulator()
    assert program is not None
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        (place / "circuit.cir").write_text(text, encoding="utf-8")
        done = subprocess.run([program, "-b", "circuit.cir"], cwd=place, capture_output=True,
                              text=True, timeout=60, check=False)
        answer = place / "answer.raw"
        assert answer.is_file(), f"ngspice gave no answer:\n{done.stdout}\n{done.stderr}"
        written = answer.read_text(encoding="utf-8")
    # the date would make every stored answer look changed
    return re.sub(r"(?m)^Date:.*$", "Date: -", written)


def parse_raw(raw: str) -> dict[str, complex]:
    """Variables of an ASCII raw file with a single point, by their lower-case names."""
    head, _, values = raw.partition("Values:\n")
    listed = head.partition("Variables:\n")[2]
    names = [line.split()[1].lower() for line in listed.splitlines() if line.strip()]
    tokens = values.split()[1:]
    assert len(tokens) >= len(names), "the raw file ends too early"
    found = {}
    for name, token in zip(names, tokens, strict=False):
        real, _, imaginary = token.partition(",")
        found[name] = complex(float(real), float(imaginary or 0))
    return found
