"""Mutated files: never a traceback, never a hang, always a machine or a problem in its place.

FAULTKIT_FUZZ sets the number of mutated files: 2,000 unless it says otherwise, 20,000 or more
in the complete run. Most of them are mutations of small files, so that many fit into a minute; one
in two hundred mutates a whole bundled file.
"""

import os
import random
import time

import pytest

from faultkit.loading import bundled_machines
from faultkit.loading.compose import LOADERS
from faultkit.loading.load import Loaded, load_texts
from faultkit.loading.problem_text import as_data, as_github, as_text
from tests.loading.helper import BASE
from tests.loading.test_rules import CASES
from tests.loading.test_yaml_traps import TRAPS

FILES = int(os.environ.get("FAULTKIT_FUZZ", "2000"))
PARTS = 8
"""The files are split over so many tests, for runs on several cores."""

SLOWEST = 20.0
"""Processor seconds for one file; a mutated bundled file takes a tenth of one."""

PIECES = ["{", "}", "[", "]", ": ", ":", ", ", ",", "- ", "-", "\n", "\n  ", "  ", " ", "#", " #",
          "\"", "'", "&a ", "*a", "!x ", "<<: ", "---\n", "...\n", "? ", "|", ">", "%", "@", "`",
          "\t", "\r", "\0", "\ufeff", "\u00a0", "\u2028", "\u0085", "К", "–", "Ω", "\U0001f3d7",
          "no", "010", "12:30", "1e999", "-1", "0", "9" * 30, "..", "0.6 .. 0.3", "OL", "-X1:*",
          "-Q2", "kind", "relay", "motor", "cable", "after", "x0.5", "PE", "/", "step 9", "{}",
          "[]", "''", "devices:\n", "machine: x\n", "weight: 0", "\\", "\"\\x\"", "[" * 40]


BASE_FILE = ("1.yaml", BASE.encode())


def _seeds() -> list[bytes]:
    """Small files: the sections of the base, and every sample of the other tests."""
    heads = [index for index, row in enumerate(BASE.split("\n")) if row[:1] not in {"", " "}]
    rows = BASE.split("\n")
    sections = ["\n".join(rows[start:end]) + "\n"
                for start, end in zip(heads, [*heads[1:], len(rows)], strict=True)]
    samples = [text for text, _ in TRAPS.values()] + [text for text, _ in CASES.values()]
    texts = [*sections, *[BASE] * 60, *samples]
    return [text if isinstance(text, bytes) else text.encode() for text in texts]


def _bundled() -> list[bytes]:
    return [file.read_bytes() for path in bundled_machines().values() if path.is_dir()
            for file in sorted(path.glob("*.yaml"))]


def mutate(data: bytes, other: bytes, chance: random.Random) -> bytes:
    """Change a file in one to six places, by bytes, by pieces of YAML, or by whole lines."""
    for _ in range(chance.choice([1, 1, 1, 2, 3, 6])):
        size = len(data)
        start = chance.randint(0, size)
        end = min(size, start + chance.choice([0, 1, 1, 2, 5, 20, 80]))
        match chance.randint(0, 7):
            case 0:
                data = data[:start] + bytes([chance.randint(0, 255)]) + data[start + 1:]
            case 1:
                data = data[:start] + data[end:]
            case 2 | 3:
                data = data[:start] + chance.choice(PIECES).encode() + data[end:]
            case 4:
                data = data[:start] + data[start:end] * chance.randint(2, 5) + data[end:]
            case 5:
                at = chance.randint(0, len(other))
                data = data[:start] + other[at: at + chance.randint(1, 60)] + data[end:]
            case 6:
                lines = data.split(b"\n")
                first, second = chance.randrange(len(lines)), chance.randrange(len(lines))
                lines[first], lines[second] = lines[second], lines[first]
                data = b"\n".join(lines)
            case _:
                lines = data.split(b"\n")
                line = chance.randrange(len(lines))
                lines[line] = b" " * chance.randint(0, 9) + lines[line].lstrip()
                data = b"\n".join(lines)
    return data


def explain(result: Loaded) -> str:
    """What is wrong with a result; nothing where it is a machine or a problem in its place."""
    errors = [problem for problem in result.problems if problem.severity == "error"]
    if (result.machine is None) != bool(errors):
        return f"machine {result.machine is not None}, but {len(errors)} errors"
    for problem in result.problems:
        file, line, column = (problem.origin.file, problem.origin.line, problem.origin.column)
        if not file or (line == 0) != (column == 0) or line < 0 or column < 0:
            return f"no position: {problem}"
        rows = result.sources.get(file)
        if rows is not None and line and not (line <= len(rows)
                                              and column <= len(rows[line - 1]) + 1):
            return f"position outside the file: {problem}"
        if not problem.says or not problem.rule:
            return f"nothing said: {problem}"
    return ""


@pytest.mark.parametrize("part", range(PARTS))
def test_a_mutated_file_gives_a_machine_or_a_problem_in_its_place(part: int) -> None:
    chance = random.Random(part)
    seeds, bundled = _seeds(), _bundled()
    for number in range(-(-FILES // PARTS)):
        large = bundled and number % 200 == 7
        data = mutate(chance.choice(bundled if large else seeds), chance.choice(seeds), chance)
        beside = [] if b"machine:" in data or chance.random() < 0.1 else [BASE_FILE]
        started = time.process_time()
        try:
            result = load_texts([*beside, ("2.yaml", data)], "folder", "folder",
                                LOADERS[number % 10 == 0 and len(LOADERS) - 1])
            shown = (as_text(result.problems, result.sources), as_data(result.problems),
                     as_github(result.problems))
        except Exception as error:
            error.add_note(f"part {part}, file {number}: {data!r}")
            raise
        assert explain(result) == "", data
        assert bool(result.problems) == bool(shown[0]) == bool(shown[2]), data
        assert time.process_time() - started < SLOWEST, data


def test_the_fuzzing_itself_reaches_many_rules() -> None:
    chance, seeds = random.Random(99), _seeds()
    rules: set[str] = set()
    loads = 0
    for _ in range(600):
        data = mutate(chance.choice(seeds), chance.choice(seeds), chance)
        beside = [] if b"machine:" in data else [BASE_FILE]
        result = load_texts([*beside, ("2.yaml", data)], "folder", "folder")
        rules |= {problem.rule for problem in result.problems}
        loads += result.machine is not None
    assert len(rules) > 40
    assert loads > 20
