"""The house as it stands on disk, for the tests that guard its order."""

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "faultkit"

ORDER = (
    ("errors",), ("vocabulary",), ("loading",), ("circuit",), ("prediction",), ("graph",),
    ("belief",), ("choice",), ("job",), ("journal",), ("training", "reports", "authoring"),
    ("terminal",), ("commands",),
)
"""From the ground up; rooms of one floor are blind to each other."""

FLOOR = {room: floor for floor, rooms in enumerate(ORDER) for room in rooms}


def rooms() -> list[str]:
    """Rooms that exist, from the ground up."""
    return [room for room in FLOOR if (PACKAGE / room).is_dir() or room == "errors"]


def modules(room: str) -> list[str]:
    """Dotted names of all modules of a room."""
    if room == "errors":
        return ["faultkit.errors"]
    names = []
    for path in sorted((PACKAGE / room).rglob("*.py")):
        parts = path.relative_to(ROOT).with_suffix("").parts
        names.append(".".join(parts[:-1] if parts[-1] == "__init__" else parts))
    return names


def files(*folders: str, endings: tuple[str, ...]) -> Iterator[Path]:
    """Files below the folders of the repository, without caches and hidden folders."""
    for folder in folders:
        for path in sorted((ROOT / folder).rglob("*")):
            inside = path.relative_to(ROOT).parts
            hidden = any(part.startswith(".") or part == "__pycache__" for part in inside)
            if path.is_file() and path.suffix in endings and not hidden:
                yield path


def sources() -> list[Path]:
    """Every Python file of the package and of its tests."""
    return list(files("faultkit", "tests", endings=(".py",)))


def functions(tree: ast.AST) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    """Every function and method of a module, nested ones too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node
