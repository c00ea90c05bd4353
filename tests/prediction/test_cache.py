"""Tables on disk: found again bit for bit, never trusted when damaged, never in the way."""

import os
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import fields, replace
from pathlib import Path
from typing import NoReturn

import numpy as np
import pytest

from faultkit.circuit.circuit import Circuit
from faultkit.prediction import Prediction, predict
from faultkit.prediction import cache as cache_room
from faultkit.prediction.cache import KEPT_FILES, Arrays, fetch, keep, key_of
from faultkit.vocabulary.diagnosis import Change
from tests.prediction.rung import RUNG, machine, rung, table

ROOT = Path(__file__).parents[2]


class Untouched(Circuit):
    """A circuit that must not be asked."""

    def simulate(self, changes: Sequence[Change] = (), *, fuses_hold: bool = False) -> NoReturn:
        raise AssertionError(f"computed although the table was there: {changes} {fuses_hold}")


def assert_same_bits(one: Prediction, other: Prediction) -> None:
    for field in fields(Prediction):
        a, b = getattr(one, field.name), getattr(other, field.name)
        if isinstance(a, np.ndarray):
            assert a.dtype == b.dtype, field.name
            assert a.tobytes() == b.tobytes(), field.name
            assert a.shape == b.shape, field.name
        else:
            assert a == b, field.name


def stored(folder: Path) -> Path:
    (path,) = folder.glob("*.npz")
    return path


def test_a_table_found_on_disk_is_bit_for_bit_the_one_that_was_made(tmp_path: Path) -> None:
    made = predict(rung(), tmp_path)
    found = predict(rung(), tmp_path, circuit=Untouched(rung()))
    assert_same_bits(made, found)
    assert_same_bits(made, table())


def test_without_a_folder_nothing_is_kept_and_all_is_computed(tmp_path: Path) -> None:
    with pytest.raises(AssertionError, match="computed although"):
        predict(rung(), None, circuit=Untouched(rung()))
    assert list(tmp_path.iterdir()) == []


def test_no_half_written_file_stays_behind(tmp_path: Path) -> None:
    predict(rung(), tmp_path)
    assert [path.suffix for path in tmp_path.iterdir()] == [".npz"]


@pytest.mark.parametrize("damage", ["empty", "half", "last byte gone", "text", "folder",
                                    "a reading changed"])
def test_a_damaged_table_is_made_anew_and_mended(damage: str, tmp_path: Path) -> None:
    made = predict(rung(), tmp_path)
    path = stored(tmp_path)
    raw = path.read_bytes()
    if damage == "folder":
        path.unlink()
        path.mkdir()
    else:
        at = raw.index(b"value.npy") + 300
        path.write_bytes({"empty": b"", "half": raw[:len(raw) // 2], "last byte gone": raw[:-1],
                          "text": b"no archive\n" * 100,
                          "a reading changed": raw[:at] + bytes([raw[at] ^ 1]) + raw[at + 1:],
                          }[damage])
    assert fetch(tmp_path, key_of(rung())) is None
    assert_same_bits(predict(rung(), tmp_path), made)
    if damage != "folder":
        assert_same_bits(predict(rung(), tmp_path, circuit=Untouched(rung())), made)


def test_whatever_byte_of_a_table_is_damaged_it_is_the_same_or_none(tmp_path: Path) -> None:
    """Among them archives that call themselves encrypted or of a later version."""
    arrays: Arrays = {name: np.arange(12.0).reshape(2, 3, 2) + 1 for name in cache_room.NAMES}
    keep(tmp_path, "k", arrays)
    path = tmp_path / "k.npz"
    raw = path.read_bytes()
    spoiled = 0
    for at in range(0, len(raw), 3):
        for byte in {0, 255, raw[at] ^ 1} - {raw[at]}:
            path.write_bytes(raw[:at] + bytes([byte]) + raw[at + 1:])
            found = fetch(tmp_path, "k")
            spoiled += found is None
            assert found is None or all(np.array_equal(found[n], arrays[n]) for n in arrays)
    assert spoiled > 100


def test_a_folder_that_cannot_be_written_is_no_error(tmp_path: Path) -> None:
    """A file stands where the folder would be: true for root as well."""
    blocked = tmp_path / "file"
    blocked.write_text("in the way", encoding="utf-8")
    said: list[str] = []
    assert_same_bits(predict(rung(), blocked / "tables", unkept=said.append), table())
    assert_same_bits(predict(rung(), blocked, unkept=said.append), table())
    assert said == ["Not a directory", "File exists"]


def test_a_folder_that_can_only_be_read_still_serves(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
) -> None:
    made = predict(rung(), tmp_path)

    def refuse(path: object) -> None:
        raise PermissionError(path)

    monkeypatch.setattr(os, "utime", refuse)
    assert_same_bits(predict(rung(), tmp_path, circuit=Untouched(rung())), made)


def test_a_full_disk_leaves_no_rubbish(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(np, "savez", full)
    said: list[str] = []
    assert_same_bits(predict(rung(), tmp_path, unkept=said.append), table())
    assert said == ["No space left on device"]
    assert list(tmp_path.iterdir()) == []


def test_another_text_of_the_machine_has_another_key(tmp_path: Path) -> None:
    other = machine(RUNG.replace("rating: 2 A", "rating: 4 A"))
    assert key_of(rung()) != key_of(other)
    predict(rung(), tmp_path)
    predict(other, tmp_path)
    assert len(list(tmp_path.glob("*.npz"))) == 2


def test_the_same_text_has_the_same_key_wherever_it_lies() -> None:
    assert key_of(machine()) == key_of(rung())


def test_other_models_have_another_key(monkeypatch: pytest.MonkeyPatch) -> None:
    before = key_of(rung())
    monkeypatch.setattr(cache_room, "models_digest", lambda: "other models")
    assert key_of(rung()) != before


@pytest.mark.parametrize("room", ["vocabulary", "loading", "circuit", "prediction"])
def test_a_change_in_a_room_that_shapes_the_table_is_a_change_of_the_models(
    room: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Loading too: causes and tests come from it, and rows and columns are in their order."""
    package = tmp_path / "faultkit"
    for name in ("vocabulary", "loading", "circuit", "prediction", "terminal"):
        (package / name).mkdir(parents=True)
        (package / name / "model.py").write_text("x = 1\n", encoding="utf-8")
    monkeypatch.setattr(cache_room, "__file__", str(package / "prediction" / "cache.py"))
    digest = cache_room.models_digest.__wrapped__
    before = digest()
    (package / "terminal" / "model.py").write_text("x = 2\n", encoding="utf-8")
    assert digest() == before
    (package / room / "model.py").write_text("x = 2\n", encoding="utf-8")
    assert digest() != before


def test_a_machine_that_comes_from_no_text_is_never_kept(tmp_path: Path) -> None:
    predict(replace(rung(), digest=""), tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_the_tables_longest_unused_go_first(tmp_path: Path) -> None:
    arrays: Arrays = {name: np.ones((1, 1, 1)) for name in cache_room.NAMES}
    for k in range(KEPT_FILES):
        keep(tmp_path, f"old{k}", arrays)
        os.utime(tmp_path / f"old{k}.npz", (k, k))
    assert fetch(tmp_path, "old0") is not None  # used again: no longer the oldest
    keep(tmp_path, "new", arrays)
    names = {path.stem for path in tmp_path.glob("*.npz")}
    assert len(names) == KEPT_FILES
    assert "old1" not in names
    assert {"old0", "old2", "new"} <= names


AT_ONCE = """
import sys
from pathlib import Path
from faultkit.prediction import predict
from tests.prediction.rung import rung
print("ready", flush=True)
sys.stdin.readline()
for _ in range(3):
    table = predict(rung(), Path(sys.argv[1]))
sys.stdout.write(table.value.tobytes().hex())
"""


def test_two_processes_at_once_get_the_same_table_and_leave_one_sound_file(
    tmp_path: Path,
) -> None:
    def start() -> "subprocess.Popen[str]":
        return subprocess.Popen([sys.executable, "-c", AT_ONCE, str(tmp_path)], cwd=ROOT,
                                stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)

    with start() as one, start() as other:
        both = (one, other)
        for process in both:
            assert process.stdout is not None
            assert process.stdout.readline() == "ready\n"
        for process in both:
            assert process.stdin is not None
            process.stdin.write("go\n")
            process.stdin.flush()
        said = [process.communicate(timeout=60)[0] for process in both]
    assert [process.returncode for process in both] == [0, 0]
    assert said == [table().value.tobytes().hex()] * 2
    assert [path.suffix for path in tmp_path.iterdir()] == [".npz"]
    assert_same_bits(predict(rung(), tmp_path, circuit=Untouched(rung())), table())
