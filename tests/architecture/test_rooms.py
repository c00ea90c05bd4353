"""One way through the house, proved by running it: what a room really loads.

The import contracts in pyproject.toml read the source; these tests start a fresh interpreter
and look at what is loaded afterwards, whichever way it came in.
"""

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.architecture.house import FLOOR, PACKAGE, ROOT, modules, rooms

HEAVY = {
    "errors": {"networkx", "numpy", "platformdirs", "rich", "sqlite3", "textual", "yaml"},
    "vocabulary": {"networkx", "numpy", "platformdirs", "rich", "sqlite3", "textual", "yaml"},
    "loading": {"networkx", "sqlite3"},
    "circuit": {"sqlite3", "yaml"},
    "prediction": {"sqlite3", "yaml"},
    "graph": {"sqlite3", "yaml"},
    "belief": {"sqlite3", "yaml"},
    "choice": {"sqlite3", "yaml"},
    "job": {"sqlite3", "yaml"},
    "journal": {"networkx", "numpy", "platformdirs", "psycopg", "yaml"},
    "reports": {"sqlite3", "yaml"},
    "terminal": {"yaml"},
}
"""What a room must not bring in, besides the screen."""

SCREEN = {"rich", "textual"}


def loaded_after(program: str, home: Path | None = None) -> set[str]:
    """Names of all modules loaded once `program` has run in a fresh interpreter."""
    program += "\nimport sys\nprint('\\n'.join(sorted(sys.modules)), file=sys.stderr)"
    folders = {name: str(home) for name in ("XDG_CACHE_HOME", "XDG_DATA_HOME")} if home else {}
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=False, cwd=ROOT,
        env={**os.environ, **folders},
    )
    assert done.returncode == 0, done.stderr
    return set(done.stderr.split())


def outside(loaded: set[str]) -> set[str]:
    """Top-level names only."""
    return {name.partition(".")[0] for name in loaded}


def rooms_in(loaded: set[str]) -> set[str]:
    """Rooms of the house among the loaded modules."""
    return {name.split(".")[1] for name in loaded if name.startswith("faultkit.")} & set(FLOOR)


@pytest.mark.parametrize("room", rooms())
def test_a_room_loads_only_the_rooms_before_it(room: str) -> None:
    names = modules(room)
    assert names, f"{room} has no modules"
    loaded = loaded_after("import " + ", ".join(names))
    later = {other for other in rooms_in(loaded) - {room} if FLOOR[other] >= FLOOR[room]}
    assert not later
    if room != "commands":
        assert room == "loading" or "loading" not in rooms_in(loaded)


@pytest.mark.parametrize("room", [room for room in rooms() if room != "terminal"])
def test_a_room_that_draws_nothing_never_loads_the_screen(room: str) -> None:
    loaded = outside(loaded_after("import " + ", ".join(modules(room))))
    assert not loaded & (SCREEN | HEAVY.get(room, set()))


COMMANDS = [
    ["--version"],
    ["machines"],
    ["check", "bridge-hoist"],
    ["next", "bridge-hoist", "--format", "json"],
]


@pytest.mark.parametrize("arguments", COMMANDS, ids=" ".join)
def test_a_command_that_needs_no_screen_never_loads_it(
    arguments: list[str], tmp_path: Path
) -> None:
    program = (
        "import contextlib, io\n"
        "from faultkit.commands.main import main\n"
        "with contextlib.redirect_stdout(io.StringIO()), "
        "contextlib.redirect_stderr(io.StringIO()), contextlib.suppress(SystemExit):\n"
        f"    main({arguments!r})"
    )
    assert not outside(loaded_after(program, tmp_path)) & SCREEN


def test_asking_for_the_version_loads_no_numbers_and_no_yaml() -> None:
    program = (
        "import contextlib\n"
        "from faultkit.commands.main import main\n"
        "with contextlib.suppress(SystemExit):\n    main(['--version'])"
    )
    assert not outside(loaded_after(program)) & {"numpy", "networkx", "yaml", "sqlite3"}


def test_every_folder_of_the_package_is_a_room_of_the_plan() -> None:
    folders = {path.parent.relative_to(PACKAGE).parts[0] for path in PACKAGE.glob("*/**/*.py")}
    assert folders <= set(FLOOR)


def test_every_room_stands_in_every_contract_that_concerns_it() -> None:
    settings = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    contracts = {c["id"]: c for c in settings["tool"]["importlinter"]["contracts"]}
    exempt = {
        "loading": {"loading", "commands"},
        "textual": {"terminal", "commands"},
        "yaml": {"loading"},
    }
    for contract, free in exempt.items():
        named = {name.partition(".")[2] for name in contracts[contract]["source_modules"]}
        assert named == set(rooms()) - free, contract


def test_every_folder_with_modules_has_a_front_door_that_says_what_it_is() -> None:
    doors = [folder / "__init__.py" for folder in {p.parent for p in PACKAGE.rglob("*.py")}]
    mute = [str(door.relative_to(ROOT)) for door in sorted(doors)
            if not door.is_file() or not door.read_text(encoding="utf-8").startswith('"""')]
    assert mute == []
