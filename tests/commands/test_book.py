"""Where a job is said to be, once something of it was noted."""

from pathlib import Path

from faultkit.commands.book import JobBook
from faultkit.job.events import Remarked
from faultkit.journal import open_store


def test_a_job_that_cannot_be_kept_is_not_said_to_be_kept(tmp_path: Path) -> None:
    """A file stands where the folder would be: true for root as well."""
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    book = JobBook(open_store(tmp_path / "file" / "jobs.sqlite"), "winch", "1")
    assert book.way_back == ""
    book.hear(Remarked("a word"))
    assert "kept in memory only" in book.way_back
    assert "--resume" not in book.way_back


def test_a_job_on_disk_is_found_again_by_the_command_that_is_named(tmp_path: Path) -> None:
    book = JobBook(open_store(tmp_path / "jobs.sqlite"), "winch", "1", ("winch",))
    book.hear(Remarked("a word"))
    assert book.way_back == f"The job is kept: faultkit find winch --resume {book.id[:8]}"
