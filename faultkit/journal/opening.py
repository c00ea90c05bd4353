"""Open a store by what it is called: nothing, a path or an address."""

from pathlib import Path

from faultkit.journal.file_place import FilePlace
from faultkit.journal.keeper import Keeper
from faultkit.journal.postgres import PREFIXES, PostgresPlace
from faultkit.journal.store import Store
from faultkit.journal.times import now

FILE = "jobs.sqlite"


def default_path() -> Path:
    """Where jobs are kept unless another place is named."""
    import platformdirs  # noqa: PLC0415 - the room stays light: a store named by its path needs none

    return Path(platformdirs.user_data_dir("faultkit", appauthor=False)) / FILE


def open_store(where: Path | str | None = None) -> Store:
    """Open a store, and make it where there is none.

    Parameters
    ----------
    where : Path, str or None
        None: the data folder of this account. A path: that file. An address
        `postgresql://user@host/database`: that server, with the extra `postgres`; while it does
        not answer, jobs are kept in the data folder.

    Raises
    ------
    JournalError
        It belongs to another program, or was made by a newer faultkit; or the extra is missing.
    """
    if where is None:
        return Keeper(FilePlace(default_path(), now, ours=True))
    if str(where).startswith(PREFIXES):
        return Keeper(PostgresPlace(str(where)),
                      spare=lambda: Keeper(FilePlace(default_path(), now, ours=True)))
    return Keeper(FilePlace(Path(where), now))
