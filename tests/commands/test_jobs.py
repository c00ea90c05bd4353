"""`faultkit jobs`: listed, shown, carried, counted."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from faultkit.commands.main import main
from faultkit.job.events import CalledOut, Closed, Event, ReadingTaken, Remarked, Repaired
from faultkit.journal import Store, open_store
from faultkit.vocabulary.diagnosis import Reading
from tests.commands.conftest import ROOT, WINCH, shell

HOSTILE = "\x1b[31mred\x1b[0m [bold]x[/bold]\n\u202egnp\x9b2J\0"
FIT = Closed("fit for use", "A. Person")


@pytest.fixture
def path(tmp_path: Path) -> str:
    return str(tmp_path / "jobs.sqlite")


def keep(where: str | None, *events: Event, machine: str = "bridge-hoist") -> str:
    store: Store = open_store(where)
    job = store.begin(machine, "1")
    for number, event in enumerate(events, start=1):
        store.note(job, number, event)
    store.close()
    return job


def told(capsys: pytest.CaptureFixture[str], *arguments: str, code: int = 0) -> tuple[str, str]:
    assert main(["jobs", *arguments]) == code
    out, err = capsys.readouterr()
    return out, err


def test_jobs_are_listed_with_the_one_last_worked_on_first(
        path: str, capsys: pytest.CaptureFixture[str]) -> None:
    old = keep(path, CalledOut(asset="H-1", site="bay 3", complaint="UP does nothing"), FIT)
    new = keep(path, CalledOut(asset="H-2"), machine="crane")
    out, _ = told(capsys, "--store", path)
    first, second = out.splitlines()
    assert first.startswith(new[:8])
    assert "crane  open  H-2" in first
    assert second.startswith(old[:8])
    assert "bridge-hoist  fit for use  H-1  bay 3  UP does nothing" in second
    assert told(capsys, "list", "--store", path) == (out, "")
    assert told(capsys, "list", "--open", "--store", path)[0] == first + "\n"
    assert told(capsys, "--asset", "H-1", "--store", path)[0] == second + "\n"


def test_only_the_last_are_listed_unless_all_are_asked_for(
        path: str, capsys: pytest.CaptureFixture[str]) -> None:
    for _ in range(22):
        keep(path)
    out, err = told(capsys, "--store", path)
    assert len(out.splitlines()) == 20
    assert "--all" in err
    assert len(told(capsys, "--all", "--store", path)[0].splitlines()) == 22
    data = json.loads(told(capsys, "--format", "json", "--store", path)[0])
    assert (len(data["jobs"]), data["more"], data["schema_version"]) == (20, True, 1)


def test_no_job_yet_is_said_beside_the_data(capsys: pytest.CaptureFixture[str]) -> None:
    assert told(capsys) == ("", "No job is kept here.\n")


def test_the_own_folder_is_taken_where_no_store_is_named(
        own_folders: Path, capsys: pytest.CaptureFixture[str]) -> None:
    job = keep(None)
    assert (own_folders / "faultkit" / "jobs.sqlite").is_file()
    assert told(capsys)[0].startswith(job[:8])


def test_text_from_a_store_is_never_obeyed_by_the_terminal(
        path: str, capsys: pytest.CaptureFixture[str]) -> None:
    job = keep(path, CalledOut(HOSTILE, HOSTILE, HOSTILE, HOSTILE), Remarked(HOSTILE),
               machine=HOSTILE)
    out = told(capsys, "--store", path)[0] + told(capsys, "show", job[:8], "--store", path)[0]
    assert all(sign.isprintable() or sign == "\n" for sign in out)
    assert "[bold]x[/bold]" in out
    assert len(told(capsys, "--store", path)[0].splitlines()) == 1
    data = json.loads(told(capsys, "show", job, "--format", "json", "--store", path)[0])
    assert data["happened"][1]["event"] == {"kind": "Remarked", "text": HOSTILE}


def test_a_job_is_shown_with_everything_that_happened(
        path: str, capsys: pytest.CaptureFixture[str]) -> None:
    job = keep(path, ReadingTaken("up-coil", Reading(112.9)), Repaired("Q3.replace", cured=True))
    out, _ = told(capsys, "show", job[:10], "--store", path)
    assert f"Job {job} on bridge-hoist (version 1)" in out
    assert "Reading taken: up-coil; 112.9" in out
    assert "Repaired: Q3.replace; cured yes" in out


@pytest.mark.parametrize(("name", "says"), [
    ("zz", "no id of a job"), ("0", "no job '0'"), ("../x", "no id of a job")])
def test_a_job_that_is_not_there_ends_in_one_sentence(
        path: str, capsys: pytest.CaptureFixture[str], name: str, says: str) -> None:
    out, err = told(capsys, "show", name, "--store", path, code=2)
    assert out == ""
    assert says in err
    assert err.count("\n") == 1


def test_jobs_are_carried_from_store_to_store(tmp_path: Path,
                                              capsys: pytest.CaptureFixture[str]) -> None:
    here, there, file = (str(tmp_path / name) for name in ("a.sqlite", "b.sqlite", "x.jsonl"))
    job = keep(here, CalledOut(asset="H-1"), FIT)
    other = keep(here)
    assert told(capsys, "export", file, "--store", here) == ("", "2 jobs written.\n")
    out, _ = told(capsys, "import", file, "--store", there)
    assert out == "2 events taken in, 2 jobs new; 0 events known already.\n"
    out, _ = told(capsys, "import", file, "--store", there)
    assert out == "0 events taken in, 0 jobs new; 2 events known already.\n"
    assert told(capsys, "--store", there) == told(capsys, "--store", here)
    told(capsys, "export", file, job[:12], "--force", "--store", here)
    assert other not in Path(file).read_text(encoding="utf-8")


def test_jobs_are_carried_through_a_pipe(tmp_path: Path) -> None:
    here, there = str(tmp_path / "a.sqlite"), str(tmp_path / "b.sqlite")
    keep(here, CalledOut(asset="H-1"))
    written = shell("jobs", "export", "-", "--store", here)
    assert written.stderr == "1 job written.\n"
    taken = shell("jobs", "import", "-", "--store", there, typed=written.stdout)
    assert (taken.returncode, taken.stderr) == (0, "")
    assert taken.stdout.startswith("1 event taken in, 1 job new")


def test_a_job_that_went_on_in_two_ways_is_a_finding(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    here, there, file = (str(tmp_path / name) for name in ("a.sqlite", "b.sqlite", "x.jsonl"))
    job = keep(here)
    told(capsys, "export", file, "--store", here)
    told(capsys, "import", file, "--store", there)
    for where in (here, there):
        store = open_store(where)
        store.note(job, 1, Remarked(where))
        store.close()
    told(capsys, "export", file, "--force", "--store", here)
    out, _ = told(capsys, "import", file, "--store", there, code=1)
    assert f"Job {job[:8]} went on in two ways from its event 1" in out
    assert told(capsys, "import", file, "--store", there)[0].startswith("0 events")


def test_a_file_that_exists_is_not_overwritten(path: str, tmp_path: Path,
                                               capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "mine.txt"
    file.write_text("mine", encoding="utf-8")
    _, err = told(capsys, "export", str(file), "--store", path, code=2)
    assert "exists" in err
    assert file.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(("content", "says"), [
    (b"what is this?\n", "Line 1: This is no JSON"), (b"\xff\xfe\x00", "is no text"),
    (None, "cannot be read")])
def test_what_is_no_export_is_refused_in_one_sentence(
        path: str, tmp_path: Path, capsys: pytest.CaptureFixture[str],
        content: bytes | None, says: str) -> None:
    file = tmp_path / "x.jsonl"
    if content is not None:
        file.write_bytes(content)
    out, err = told(capsys, "import", str(file), "--store", path, code=2)
    assert out == ""
    assert says in err
    assert err.count("\n") == 1


def test_an_export_that_fails_leaves_nothing_behind(path: str, tmp_path: Path,
                                                    capsys: pytest.CaptureFixture[str]) -> None:
    told(capsys, "export", str(tmp_path / "no" / "x.jsonl"), "--store", path, code=2)
    assert not (tmp_path / "no").exists()


def test_faults_are_counted_by_device_and_month(path: str,
                                                capsys: pytest.CaptureFixture[str]) -> None:
    reading = ReadingTaken("t", Reading(1.0))
    keep(path, reading, reading, Repaired("Q3.replace", cured=True), FIT)
    keep(path, CalledOut(asset="H-2"), Repaired("Q3.contact", cured=True), FIT)
    keep(path, Repaired("W1.14.core", cured=True))
    out, _ = told(capsys, "stats", "--store", path)
    lines = out.splitlines()
    assert lines[0] == "Jobs: 3, 1 of them open; closed: 2 fit for use"
    assert "Tests a job: 1.0" in lines
    assert lines[-1].split()[:2] == ["-Q3", "2"]
    data = json.loads(told(capsys, "stats", "--format", "json", "--store", path)[0])
    assert {(f["device"], f["remedy"]) for f in data["faults"]} == {
        ("-Q3", "Q3.replace"), ("-Q3", "Q3.contact")}
    assert json.loads(told(capsys, "stats", "--asset", "H-2", "--format", "json",
                           "--store", path)[0])["jobs"] == 1


def test_learned_weights_stand_beside_the_authors(path: str,
                                                  capsys: pytest.CaptureFixture[str]) -> None:
    from faultkit.commands.opening import open_machine

    machine = open_machine(WINCH)
    cause = next(iter(machine.causes.values()))
    for _ in range(3):
        keep(path, Repaired(cause.remedy, cured=True), FIT, machine=machine.id)
    data = json.loads(told(capsys, "weights", WINCH, "--format", "json", "--store", path)[0])
    assert data["confirmed"] == {cause.remedy: 3}
    assert sum(one["count"] for one in data["causes"]) == pytest.approx(3)
    assert sum(one["learned"] for one in data["causes"]) == pytest.approx(1, abs=1e-4)
    found = next(one for one in data["causes"] if one["id"] == cause.id)
    assert found["learned"] > found["author"]
    out, err = told(capsys, "weights", WINCH, "--store", path)
    assert f"[{cause.id}]" in out
    assert "3 repairs that cured" in err


def test_a_store_that_cannot_be_used_is_named_in_one_sentence(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "notes.txt"
    file.write_text("my notes\n" * 100, encoding="utf-8")
    out, err = told(capsys, "--store", str(file), code=2)
    assert out == ""
    assert "no store of jobs" in err
    assert file.read_text(encoding="utf-8") == "my notes\n" * 100


def test_jobs_are_listed_without_the_mathematics_or_a_screen(path: str) -> None:
    program = (
        "import sys\nfrom faultkit.commands.main import main\n"
        f"main(['jobs', '--store', {path!r}]); main(['jobs', 'stats', '--store', {path!r}])\n"
        "heavy = {'numpy', 'networkx', 'textual', 'yaml', 'psycopg'} & set(sys.modules)\n"
        "assert not heavy, heavy\n")
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True,
                          check=False, cwd=ROOT)
    assert done.returncode == 0, done.stderr
