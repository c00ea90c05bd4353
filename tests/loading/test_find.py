"""Where machines are found, and what is said when they are not."""

import time
from pathlib import Path

import pytest

from faultkit.errors import FileError, UsageError
from faultkit.loading import bundled_machines, find_machine, load
from tests.loading.helper import BASE


@pytest.mark.parametrize("name", bundled_machines())
def test_a_bundled_machine_loads_without_any_problem(name: str) -> None:
    result = load(find_machine(name))
    assert result.problems == ()
    assert result.machine is not None
    assert result.machine.id == name


def test_there_is_a_bundled_machine() -> None:
    assert bundled_machines()


def test_loading_the_largest_bundled_machine_is_quick() -> None:
    sizes = {path: sum(file.stat().st_size for file in path.glob("*.yaml"))
             for path in bundled_machines().values() if path.is_dir()}
    largest = max(sizes, key=lambda path: sizes[path])
    started = time.process_time()
    load(largest)
    assert time.process_time() - started < 3.0  # five times the aim, for slow machines


def test_the_knowledge_inside_the_package_comes_first(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "faultkit"
    (tmp_path / "knowledge" / "beside").mkdir(parents=True)
    (tmp_path / "knowledge" / "beside" / "a.yaml").write_text(BASE)
    package.mkdir()
    monkeypatch.setattr("importlib.resources.files", lambda _: package)
    assert list(bundled_machines()) == ["beside"]
    (package / "knowledge").mkdir()
    (package / "knowledge" / "inside.yaml").write_text(BASE)
    assert list(bundled_machines()) == ["inside"]


def test_a_machine_of_the_users_own_is_found_by_name(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("platformdirs.user_data_dir", lambda *_args, **_more: str(tmp_path))
    mine = tmp_path / "machines" / "mine"
    mine.mkdir(parents=True)
    (mine / "a.yaml").write_text(BASE)
    assert find_machine("mine") == mine
    result = load(find_machine("mine"))
    assert result.machine is not None
    assert result.machine.id == "mine"


def test_a_path_is_taken_as_it_is(tmp_path: Path) -> None:
    file = tmp_path / "hoist.yaml"
    file.write_text(BASE)
    assert find_machine(file) == file
    result = load(file)
    assert result.machine is not None
    assert result.machine.id == "hoist"
    assert result.machine.origin.file == str(file)


@pytest.mark.parametrize("name", ["bridge-hoits", "", "\0", "x" * 5000, "~nobody"])
def test_an_unknown_name_is_an_error_of_the_user(name: str) -> None:
    if not name:
        assert find_machine(name) == Path()
        return
    with pytest.raises(UsageError):
        find_machine(name)


def test_a_near_miss_of_a_name_is_suggested() -> None:
    with pytest.raises(UsageError, match="Did you mean 'bridge-hoist'"):
        find_machine("bridge-hoits")


def test_a_folder_without_yaml_and_a_missing_path_are_errors_of_the_user(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"no \.yaml"):
        load(tmp_path)
    with pytest.raises(FileError, match="no file or folder"):
        load(tmp_path / "nowhere")


def test_files_are_merged_in_the_order_of_their_names(tmp_path: Path) -> None:
    (tmp_path / "b.yaml").write_text("remedies:\n  Y1.lining: {says: x}\n")
    (tmp_path / "a.yml").write_text(BASE)
    (tmp_path / ".hidden.yaml").write_text("nonsense")
    (tmp_path / "notes.txt").write_text("nonsense")
    problem, = load(tmp_path).problems
    assert (problem.rule, Path(problem.origin.file).name) == ("duplicate-id", "b.yaml")
