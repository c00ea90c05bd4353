"""Where nothing can be kept the job goes on in memory, and says so until it can be kept again."""

import os
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from faultkit.job.events import Remarked
from faultkit.journal import open_store
from faultkit.journal import sqlite as sqlite_room
from tests.architecture.house import ROOT
from tests.journal.making import events_of, ledger

resource = pytest.importorskip("resource", reason="this system has no such limits")
NOBODY = 65534

GO_ON = """
import os, sys, tempfile
from pathlib import Path
from faultkit.job.events import Remarked
from faultkit.job.events import Remarked
from faultkit.journal import open_store
from faultkit.journal import sqlite as sqlite_room
from faultkit.journal.keeper import Keeper

path = Path(sys.argv[1])
"""


def run(script: str, *arguments: str) -> str:
    """Run a script in a process of its own, which may tie its own hands."""
    done = subprocess.run([sys.executable, "-c", GO_ON + script, *arguments], cwd=ROOT,
                          capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that another user can reach."""
    with tempfile.TemporaryDirectory(prefix="faultkit-test-") as folder:
        path = Path(folder)
        path.chmod(0o755)
        yield path
        path.chmod(0o755)


AS_NOBODY = f"""
tempfile.gettempdir()
if os.geteuid() == 0:
    os.seteuid({NOBODY})  # root may write everywhere
"""


def test_in_a_read_only_folder_old_jobs_are_seen_and_a_new_one_goes_on_in_memory(
        open_folder: Path) -> None:
    path = open_folder / "jobs.sqlite"
    store = ledger(path)
    old = store.begin("m", "1")
    store.close()
    path.chmod(0o444)
    open_folder.chmod(0o555)
    out = run(AS_NOBODY + """
store = open_store(path)
print(store.warning)
print([head.id for head in store.heads()])
job = store.begin("m", "1")
print(store.note(job, 1, Remarked("x")).number, store.note(job, 2, Remarked("y")).number)
print([one.event.text for one in store.read(job)], store.heads()[0].id == job, len(store.heads()))
print(store.head(job[:8]).events)
store.close()
""", str(path)).splitlines()
    assert out[0] == ("Nothing is being saved: the folder is read-only. "
                      "The job is kept in memory only.")
    assert out[1] == str([old])
    assert out[2:] == ["1 2", "['x', 'y'] True 2", "2"]
    assert sorted(one.name for one in open_folder.iterdir()) == ["jobs.sqlite"]


def test_a_folder_that_cannot_be_made_is_no_reason_to_stop(open_folder: Path) -> None:
    open_folder.chmod(0o555)
    out = run(AS_NOBODY + """
store = open_store(path)
print(store.warning)
job = store.begin("m", "1")
store.note(job, 1, Remarked("x"))
print(len(store.read(job)), len(store.heads()))
""", str(open_folder / "deep" / "er" / "jobs.sqlite")).splitlines()
    assert "Nothing is being saved" in out[0]
    assert out[1] == "1 1"


def test_a_store_that_may_be_written_again_gets_what_was_noted_meanwhile(
        open_folder: Path) -> None:
    (open_folder / "in").mkdir()
    out = run("""
folder = path.parent
if os.geteuid() == 0:
    os.chown(folder, 65534, 65534)
""" + AS_NOBODY + """
folder.chmod(0o555)
store = open_store(path)
job = store.begin("m", "1")
store.note(job, 1, Remarked("in memory"))
print(store.warning)
folder.chmod(0o755)
store.note(job, 2, Remarked("on disk"))
print(store.warning or "all is well")
store.close()
print(job)
""", str(open_folder / "in" / "jobs.sqlite")).splitlines()
    assert "in memory only" in out[0]
    assert out[1] == "all is well"
    store = open_store(open_folder / "in" / "jobs.sqlite")
    assert len(store.read(out[2])) == 2
    store.close()


FILL = """
store = open_store(path)
job = store.begin("m", "1")
number = 0
while "in memory" not in store.warning:
    number += 1
    store.note(job, number, Remarked("x" * 3000))
    assert number < 5000
print(store.warning)
acknowledged = number
for number in range(number + 1, number + 6):
    store.note(job, number, Remarked("meanwhile"))
assert len(store.read(job)) == number
assert store.heads()[0].events == number
"""


def test_where_the_disk_is_full_the_job_goes_on_in_memory_until_there_is_room(
        tmp_path: Path) -> None:
    """A limit on the size of a file stands for the full disk, as any user may set one."""
    path = tmp_path / "jobs.sqlite"
    limit = resource.getrlimit(resource.RLIMIT_FSIZE)
    out = run(f"""
import resource
resource.setrlimit(resource.RLIMIT_FSIZE, (400_000, {limit[1]}))
""" + FILL + f"""
resource.setrlimit(resource.RLIMIT_FSIZE, ({limit[0]}, {limit[1]}))
store.note(job, number + 1, Remarked("room again"))
print(store.warning or "all is well")
store.close()
print(job, number + 1)
""", str(path)).splitlines()
    assert out[0].startswith("Nothing is being saved: the disk")
    assert out[1] == "all is well"
    job, events = out[2].split()
    store = open_store(path)
    assert store.warning == ""
    assert len(store.read(job)) == int(events)
    store.close()


@pytest.mark.skipif(sys.platform != "linux" or os.geteuid() != 0, reason="only root may mount")
def test_a_full_disk_keeps_what_was_acknowledged_before(tmp_path: Path) -> None:
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=1m", "tmpfs", str(tmp_path)],
                             capture_output=True, check=False)
    if mounted.returncode != 0:
        pytest.skip("this container may not mount")
    try:
        path = tmp_path / "jobs.sqlite"
        out = run(FILL + """
print(job, acknowledged)
store.close()
""", str(path)).splitlines()
        assert out[0].startswith("Nothing is being saved: the disk is full")
        job, acknowledged = out[1].split()
        store = open_store(path)
        noted = store.read(job)
        assert len(noted) >= int(acknowledged) - 1  # the last one is that which found it full
        assert len(events_of(noted)) == noted[-1].number
        store.close()
    finally:
        subprocess.run(["umount", str(tmp_path)], check=True)


def test_a_store_that_someone_keeps_busy_is_no_reason_to_stop(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sqlite_room, "PATIENCE", 0.1)
    path = tmp_path / "jobs.sqlite"
    store = open_store(path)
    job = store.begin("m", "1")
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    store.note(job, 1, Remarked("meanwhile"))
    assert "another program keeps the store busy" in store.warning
    other.execute("ROLLBACK")
    other.close()
    store.note(job, 2, Remarked("now"))
    assert store.warning == ""
    store.close()
    again = ledger(path)
    assert len(again.read(job)) == 2
    again.close()
