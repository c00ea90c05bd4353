"""Tables kept on disk under the hash of what they were made from.

The key covers the machine's text and the program's own models, so a table never outlives
either. Files appear whole or not at all; a damaged one is made anew; a folder that cannot be
written is no error.
"""

import hashlib
import os
import tempfile
from contextlib import suppress
from functools import cache as remember
from pathlib import Path
from zipfile import BadZipFile

import numpy as np
from numpy.typing import NDArray

from faultkit.vocabulary.machine import Machine

KEPT_FILES = 40
"""Tables kept in a folder; the longest unused go first."""
NAMES = ("value", "level", "sigma", "word_p", "symptom_p", "by_hand", "chatters", "blows", "kept")
ROOMS = ("vocabulary", "loading", "circuit", "prediction")

Arrays = dict[str, NDArray[np.generic]]


@remember
def models_digest() -> str:
    """Return a hash of the source of the rooms that shape a table.

    Loading is one of them: it makes causes and tests of the machine's text, in an order.
    """
    package = Path(__file__).parent.parent
    digest = hashlib.sha256()
    for room in ROOMS:
        for path in sorted((package / room).rglob("*.py")):
            digest.update(path.relative_to(package).as_posix().encode())
            digest.update(path.read_bytes())
    return digest.hexdigest()


def key_of(machine: Machine) -> str:
    """Return the key of a machine's table; empty if the machine has no digest."""
    if not machine.digest:
        return ""
    return hashlib.sha256(f"{machine.digest} {models_digest()}".encode()).hexdigest()[:32]


def fetch(folder: Path | None, key: str) -> Arrays | None:
    """Return the arrays of a table, or None if there is none that is sound."""
    if folder is None or not key:
        return None
    path = folder / f"{key}.npz"
    try:
        with path.open("rb") as raw, np.load(raw, allow_pickle=False) as file:
            arrays = {name: file[name] for name in NAMES}
            said = file["said"]
        words = np.zeros((*arrays["value"].shape, arrays["word_p"].shape[2]))
        words[:, said] = arrays["word_p"]
    except (OSError, ValueError, KeyError, IndexError, BadZipFile, EOFError, RuntimeError):
        # whatever a damaged archive looks like: among others encrypted, or of another version
        return None
    with suppress(OSError):  # a folder that can only be read still serves
        os.utime(path)
    return arrays | {"word_p": words}


def keep(folder: Path | None, key: str, arrays: Arrays) -> str:
    """Write a table; gives the system's reason where it cannot be written, and never fails."""
    if folder is None or not key:
        return ""
    # most tests give numbers: only the columns of those that give words are worth their bytes
    said = np.flatnonzero(np.asarray(arrays["word_p"], dtype=float).any(axis=(0, 2)))
    narrow = arrays | {"word_p": arrays["word_p"][:, said]}
    try:
        folder.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=folder, suffix=".part")
        try:
            with os.fdopen(handle, "wb") as file:
                np.savez(file, allow_pickle=False, said=said,
                         **{n: narrow[n] for n in NAMES})
            Path(name).replace(folder / f"{key}.npz")
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
        _drop_old(folder)
    except OSError as error:
        return error.strerror or str(error)
    return ""


def _drop_old(folder: Path) -> None:
    def last_use(path: Path) -> float:
        return path.stat().st_mtime

    for path in sorted(folder.glob("*.npz"), key=last_use, reverse=True)[KEPT_FILES:]:
        path.unlink(missing_ok=True)
