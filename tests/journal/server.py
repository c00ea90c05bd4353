"""A PostgreSQL server of the tests' own: no network, a folder that goes with it."""

import os
import pwd
import shutil
import subprocess
import tempfile
from pathlib import Path

USER = "postgres"


def programs() -> Path | None:
    """Folder of the server's programs; None where there are none that could be run."""
    if os.geteuid() == 0 and USER not in {user.pw_name for user in pwd.getpwall()}:
        return None
    found = shutil.which("initdb")
    candidates = [Path(found).resolve()] if found else []
    candidates += sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), reverse=True)
    return candidates[0].parent if candidates else None


class Server:
    """Started when made; takes connections through a socket in its folder."""

    def __init__(self, bin_folder: Path) -> None:
        self._bin = bin_folder
        self.folder = Path(tempfile.mkdtemp(prefix="faultkit-pg-"))
        if os.geteuid() == 0:  # a server never runs as root
            shutil.chown(self.folder, USER)
        self._run("initdb", "--pgdata", str(self.folder / "data"), "--auth", "trust",
                  "--username", USER, "--encoding", "UTF8", "--no-sync")
        self.start()

    def start(self) -> None:
        """Start it and wait until it answers."""
        self._run("pg_ctl", "--pgdata", str(self.folder / "data"), "--wait", "--silent",
                  "--log", str(self.folder / "log"), "--options",
                  f"-k {self.folder} -c listen_addresses='' "
                  "-c recovery_init_sync_method=syncfs", "start")

    def stop(self, how: str = "immediate") -> None:
        """Stop it; `immediate` is as if the power had failed."""
        self._run("pg_ctl", "--pgdata", str(self.folder / "data"), "--wait", "--silent",
                  "--mode", how, "stop")

    def remove(self) -> None:
        """Stop it, and remove its folder."""
        self.stop()
        shutil.rmtree(self.folder)

    def schema(self, name: str) -> str:
        """Make an empty schema; gives the address that leads to it."""
        self.sql(f"CREATE SCHEMA {name}")
        return self.address(name)

    def address(self, schema: str, user: str = USER) -> str:
        """Address that leads to a schema."""
        return (f"postgresql://{user}@/postgres?host={self.folder}"
                f"&options=-csearch_path%3D{schema}")

    def sql(self, statement: str, schema: str = "public") -> str:
        """Run a statement from outside."""
        return self._run("psql", "--host", str(self.folder), "--username", USER, "--no-psqlrc",
                         "--quiet", "--tuples-only", "--no-align", "--set", "ON_ERROR_STOP=1",
                         "--command", f"SET search_path = {schema}", "--command", statement)

    def _run(self, program: str, *arguments: str) -> str:
        done = subprocess.run(
            [self._bin / program, *arguments], cwd=self.folder, text=True, timeout=120,
            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
            check=False, user=USER if os.geteuid() == 0 else None)
        if done.returncode != 0:
            raise RuntimeError(f"{program}: {done.stdout}")
        return done.stdout.strip()
