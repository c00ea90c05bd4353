"""`faultkit report` as a person runs it: which job, in which form, into which file."""

import json
from pathlib import Path

import pytest

from faultkit.commands.main import main
from faultkit.job.events import CalledOut, Closed, ReadingTaken, Repaired, SymptomTold
from faultkit.journal import open_store
from faultkit.vocabulary.diagnosis import Reading
from tests.commands.conftest import WINCH


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """Two jobs on the test winch, the second one last worked on."""
    path = tmp_path / "jobs.sqlite"
    kept = open_store(path)
    for asset in ("Winch 1", "Winch 2"):
        job = kept.begin("winch", "1")
        kept.note(job, 1, CalledOut(asset=asset, complaint="Does not <b>lift</b>"))
        kept.note(job, 2, SymptomTold("no-up", True))
        kept.note(job, 3, ReadingTaken("coil-ohms", Reading(float("inf"))))
        kept.note(job, 4, Closed("not fit for use", "M. Example", "fuse missing"))
    kept.close()
    return path


def report(store: Path, *arguments: str) -> int:
    return main(["report", "--store", str(store), "--machine", WINCH, *arguments])


def test_without_an_id_it_is_the_job_last_worked_on(
    store: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    assert report(store) == 0
    assert "# Report on Winch 2" in capsys.readouterr().out


def test_a_beginning_of_an_id_will_do(store: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kept = open_store(store)
    first = kept.heads()[-1].id
    kept.close()
    assert report(store, first[:10]) == 0
    assert "# Report on Winch 1" in capsys.readouterr().out


def test_the_ending_of_the_file_chooses_the_form(store: Path, tmp_path: Path) -> None:
    page, data = tmp_path / "r.html", tmp_path / "r.json"
    assert report(store, "--output", str(page)) == 0
    assert report(store, "--output", str(data)) == 0
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")
    assert json.loads(data.read_text(encoding="utf-8"))["verdict"]["status"] == "not fit"


def test_a_file_that_is_there_is_never_overwritten_unasked(
    store: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    path = tmp_path / "signed.md"
    path.write_text("signed", encoding="utf-8")
    assert report(store, "--output", str(path)) == 2
    assert path.read_text(encoding="utf-8") == "signed"
    assert "--force" in capsys.readouterr().err
    assert report(store, "--output", str(path), "--force") == 0
    assert path.read_text(encoding="utf-8").startswith("# Report")


def test_an_empty_store_and_an_unknown_machine_are_one_sentence_each(
    store: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["report", "--store", str(tmp_path / "new.sqlite")]) == 2
    assert "No job is kept" in capsys.readouterr().err
    assert main(["report", "--store", str(store)]) == 2
    told = capsys.readouterr().err
    assert "--machine PATH" in told
    assert main(["report", "--store", str(store), "--machine", "travel-drive"]) == 2
    assert "was done on 'winch'" in capsys.readouterr().err


def test_the_repair_of_a_job_does_not_speak_for_its_own_finding(
    store: Path, capsys: pytest.CaptureFixture[str],
) -> None:
    kept = open_store(store)
    job = ""
    for _ in range(2):
        job = kept.begin("winch", "1")
        kept.note(job, 1, SymptomTold("no-up", True))
        kept.note(job, 2, Repaired("S2.replace", True))
        kept.note(job, 3, Closed("fit for use", "M. Example"))
    kept.close()
    assert report(store, job) == 0
    assert "beside 1 confirmed repair of other jobs" in " ".join(capsys.readouterr().out.split())
