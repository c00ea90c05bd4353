"""Where machines are: bundled with the package, added by the user, or at a path."""

import hashlib
from importlib import resources
from pathlib import Path

import platformdirs

from faultkit.errors import FileError, UsageError
from faultkit.vocabulary.near_miss import did_you_mean

ENDINGS = (".yaml", ".yml")


def knowledge_folder() -> Path:
    """Folder of the bundled machines: inside the package in a wheel, beside it in a checkout."""
    package = Path(str(resources.files("faultkit")))
    inside = package / "knowledge"
    return inside if inside.is_dir() else package.parent / "knowledge"


def user_folder() -> Path:
    """Folder where a user keeps machines of his own; it need not exist."""
    return Path(platformdirs.user_data_dir("faultkit", appauthor=False)) / "machines"


def machine_files(path: Path) -> tuple[Path, ...]:
    """YAML files of a machine, in the order of their names.

    Raises
    ------
    FileError
        If there is no such file or folder, or it holds no YAML.
    """
    try:
        if path.is_file():
            return (path,)
        if not path.is_dir():
            raise FileError(f"There is no file or folder {str(path)!r}.", "Check the path.")
        files = tuple(sorted(entry for entry in path.iterdir()
                             if entry.suffix in ENDINGS and not entry.name.startswith(".")
                             and entry.is_file()))
    except (OSError, ValueError) as error:
        raise FileError(f"{str(path)!r} cannot be read: {error}.", "Check the path.") from error
    if not files:
        raise FileError(f"The folder {str(path)!r} holds no .yaml file.",
                        "Give the folder of a machine, or a file.")
    return files


def bundled_machines() -> dict[str, Path]:
    """Name -> path of the machines that come with the package."""
    return _machines(knowledge_folder())


def user_machines() -> dict[str, Path]:
    """Name -> path of the machines in the user's data folder."""
    return _machines(user_folder())


def _machines(folder: Path) -> dict[str, Path]:
    if not folder.is_dir():
        return {}
    found = {}
    for entry in sorted(folder.iterdir()):
        if entry.name.startswith("."):
            continue
        if entry.is_file() and entry.suffix in ENDINGS:
            found[entry.stem] = entry
        elif entry.is_dir() and any(file.suffix in ENDINGS for file in entry.iterdir()):
            found[entry.name] = entry
    return found


def find_machine(name_or_path: str | Path) -> Path:
    """Path of a machine given by its path, or by the name of an added or a bundled one.

    Raises
    ------
    UsageError
        If neither exists.
    """
    text = str(name_or_path)
    path = Path(text)
    try:
        if path.exists():
            return path
    except (OSError, ValueError):
        pass
    known = {**bundled_machines(), **user_machines()}
    if text in known:
        return known[text]
    raise UsageError(f"There is no machine or path {text!r}.", did_you_mean(text, known))


def digest_of(contents: list[tuple[str, bytes]]) -> str:
    """Hash of (file name, bytes) of all files, as 64 hexadecimal digits."""
    total = hashlib.sha256()
    for name, data in contents:
        total.update(f"{name}\0{len(data)}\0".encode("utf-8", "surrogateescape"))
        total.update(data)
    return total.hexdigest()
