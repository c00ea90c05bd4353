"""`faultkit check`: every problem where it stands, in three formats."""

import json
from pathlib import Path

import pytest

from faultkit.commands.main import main
from tests.commands.conftest import WINCH

BROKEN = """machine: Broken, 50 % of it
places: {panel: {says: Panel}}
conditions: {ready: {says: On}}
devices:
  -Q2: {kind: contactr, place: panel}
  -Q3: {kind: contactor, place: pannel}
"""


@pytest.fixture
def broken(tmp_path: Path) -> Path:
    file = tmp_path / "broken.yaml"
    file.write_text(BROKEN, encoding="utf-8")
    return file


def test_a_sound_machine_has_no_problems(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", WINCH]) == 0
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err == "No problems.\n"


def test_text_shows_place_line_and_caret_of_every_problem(
    broken: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["check", str(broken)]) == 1
    captured = capsys.readouterr()
    lines = captured.out.splitlines()
    heads = [n for n, line in enumerate(lines)
             if line.startswith((f"{broken}:5:", f"{broken}:6:"))]
    assert len(heads) == 2
    for head in heads:
        _, line, column, _ = lines[head][len(str(broken)):].split(":", 3)
        assert lines[head + 1][4:] == BROKEN.splitlines()[int(line) - 1]
        assert lines[head + 2].index("^") == int(column) + 3
    assert "contactor" in captured.out
    assert captured.err == "2 errors and 2 warnings in 1 file.\n"


def test_json_lists_every_problem_with_its_position(
    broken: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["check", str(broken), WINCH, "--format", "json"]) == 1
    data = json.loads(capsys.readouterr().out)
    assert data["schema_version"] == 1
    assert {5, 6} <= {one["line"] for one in data["problems"]}
    assert data["problems"] == sorted(data["problems"], key=lambda one: one["line"] or 0)
    assert list(data["problems"][0]) == ["file", "line", "column", "severity", "rule", "says",
                                         "way_out"]


def test_annotations_for_a_build_server_keep_to_one_line(
    broken: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["check", str(broken), "--format", "github"]) == 1
    lines = capsys.readouterr().out.splitlines()
    kinds = [line.split(" ")[0] for line in lines]
    assert kinds == ["::error", "::error", "::warning", "::warning"]
    assert sum(",line=5," in line for line in lines) == 1
    assert sum(",line=6," in line for line in lines) == 1


def test_a_path_that_is_not_there_is_code_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["check", str(tmp_path / "nothing.yaml")]) == 2
    assert "nothing.yaml" in capsys.readouterr().err
