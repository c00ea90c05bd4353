"""The entry: codes, sentences, no traceback, no screen where none is needed."""

import errno
import json
import os
import re
import stat
import sys
from io import BytesIO, TextIOWrapper
from pathlib import Path

import pytest

from faultkit import __version__
from faultkit.commands import find
from faultkit.commands.main import COMMANDS, main
from tests.commands.conftest import ROOT, WINCH, shell


def test_the_version_is_told_without_anything_heavy() -> None:
    done = shell("--version")
    assert done.stdout.strip() == f"faultkit {__version__}"
    assert done.returncode == 0


def test_no_command_without_a_screen_loads_textual() -> None:
    program = (
        "import sys\nfrom faultkit.commands.main import main\n"
        f"main(['machines']); main(['check', {WINCH!r}]);"
        f"main(['predict', {WINCH!r}, '--test', 'up-coil']);"
        f"main(['next', {WINCH!r}, '--symptom', 'no-up']);"
        "assert not {'textual', 'rich'} & set(sys.modules), 'a screen was loaded'\n"
    )
    import subprocess

    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True,
                          check=False, cwd=ROOT)
    assert done.returncode == 0, done.stderr


def test_every_command_helps(capsys: pytest.CaptureFixture[str]) -> None:
    for command in COMMANDS:
        with pytest.raises(SystemExit) as left:
            main([command, "--help"])
        assert left.value.code == 0
        assert f"faultkit {command}" in capsys.readouterr().out


@pytest.mark.parametrize("arguments", [["nonsense"], ["next"], ["check"], ["predict", "--what"]])
def test_wrong_usage_is_one_line_and_code_2(
    arguments: list[str], capsys: pytest.CaptureFixture[str],
) -> None:
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert left.value.code == 2
    assert len(capsys.readouterr().err.strip().splitlines()) == 1


@pytest.mark.parametrize("command", ["next", "predict", "find"])
def test_an_unknown_machine_is_one_sentence_with_what_was_meant(
    command: str, capsys: pytest.CaptureFixture[str],
) -> None:
    more = ["--plain"] if command == "find" else []
    assert main([command, "bridge-hoits", *more]) == 2
    error = capsys.readouterr().err
    assert "There is no machine or path 'bridge-hoits'" in error
    assert "Did you mean 'bridge-hoist'?" in error


@pytest.mark.skipif(os.geteuid() == 0, reason="root can read everything")
def test_an_unreadable_file_is_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    file = tmp_path / "locked.yaml"
    file.write_text("machine: x", encoding="utf-8")
    file.chmod(0)
    assert main(["check", str(file)]) == 2
    assert "cannot be read" in capsys.readouterr().err
    file.chmod(stat.S_IRUSR | stat.S_IWUSR)


def test_a_machine_that_does_not_load_is_code_2_and_points_to_check(
    tmp_path: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    file = tmp_path / "broken.yaml"
    file.write_text("machine: x\ndevicez: {}\n", encoding="utf-8")
    assert main(["next", str(file)]) == 2
    assert f"Run: faultkit check {file}" in capsys.readouterr().err


def test_a_home_that_cannot_be_written_only_costs_the_cache(
    own_folders: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    own_folders.write_text("a file where the home should be", encoding="utf-8")
    assert main(["next", WINCH, "--symptom", "no-up", "--format", "json"]) == 0
    assert json.loads(capsys.readouterr().out)["machine"] == "winch"


def test_machines_lists_what_is_bundled_and_what_was_added(
    own_folders: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    added = own_folders / "faultkit" / "machines"
    added.mkdir(parents=True)
    (added / "my-winch.yaml").write_text(Path(WINCH).read_text("utf-8"), encoding="utf-8")
    (added / "wreck.yaml").write_text("machine: [", encoding="utf-8")
    assert main(["machines", "--format", "json"]) == 0
    listed = {one["name"]: one for one in json.loads(capsys.readouterr().out)["machines"]}
    assert listed["bridge-hoist"]["origin"] == "bundled"
    assert listed["my-winch"]["origin"] == "added"
    assert listed["my-winch"]["title"] == "Small test winch"
    assert listed["wreck"]["loads"] is False
    assert main(["machines"]) == 0
    assert "does not load: faultkit check wreck" in capsys.readouterr().out


def test_the_unexpected_is_one_sentence_and_a_log_file(
    own_folders: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
) -> None:
    def explode() -> None:
        raise ZeroDivisionError("secret detail")

    monkeypatch.setattr("faultkit.commands.machines.listed", explode)
    assert main(["machines"]) == 2
    error = capsys.readouterr().err
    assert len(error.strip().splitlines()) == 1
    assert "ZeroDivisionError" in error
    assert "Traceback" not in error
    logs = list(own_folders.rglob("trouble.log"))
    assert len(logs) == 1
    assert "secret detail" in logs[0].read_text("utf-8")


def test_a_full_disk_is_named_and_no_mystery(
    own_folders: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
) -> None:
    def full() -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("faultkit.commands.machines.listed", full)
    assert main(["machines"]) == 2
    assert os.strerror(errno.ENOSPC) in capsys.readouterr().err
    assert not list(own_folders.rglob("trouble.log"))


def test_a_sign_that_the_terminal_lacks_becomes_a_question_mark(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    written = BytesIO()
    monkeypatch.setattr("sys.stdout", TextIOWrapper(written, encoding="ascii"))
    assert main(["predict", WINCH, "--test", "coil-ohms"]) == 0
    assert re.match(rb"[\d.]+ k?\?", written.getvalue())


def test_a_closed_input_is_no_terminal_and_ends_the_lines(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("sys.stdin", None)
    assert find.why_not_screens()
    with pytest.raises(EOFError):
        find.ask_on_line("")


def test_an_interrupt_is_code_130(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str],
) -> None:
    def interrupt() -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("faultkit.commands.machines.listed", interrupt)
    assert main(["machines"]) == 130
    assert "interrupted" in capsys.readouterr().err


class Terminal:
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(("term", "size", "says"), [
    ("dumb", (80, 24), "cannot move its cursor"),
    ("", (80, 24), "cannot move its cursor"),
    ("xterm", (30, 8), "only 30 by 8"),
    ("xterm", (48, 18), ""),
])
def test_a_terminal_that_cannot_show_screens_is_told_why(
    term: str, size: tuple[int, int], says: str, monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("sys.stdin", Terminal())
    monkeypatch.setattr("sys.stderr", Terminal())
    monkeypatch.setenv("TERM", term)
    monkeypatch.setenv("COLUMNS", str(size[0]))
    monkeypatch.setenv("LINES", str(size[1]))
    reason = find.why_not_screens()
    assert says in reason
    assert bool(reason) == bool(says)
