"""Open a store by what it is called: nothing, a path or an address."""

from pathlib import Path

from faultkit.journal.ledger import Ledger
from faultkit.journal.sqlite import SqliteBank
from faultkit.journal.store import Store

FILE = "jobs.sqlite"


def default_path() -> Path:
    """Where jobs are kept unless another place is named."""
    import platformdirs  # noqa: PLC0415 - only where it is asked for

    return Path(platformdirs.user_data_dir("faultkit", appauthor=False)) / FILE


def open_store(where: Path | str | None = None) -> Store:
    """Open a store, and make it where there is none.

    Parameters
    ----------
    where : Path, str or None
        None: the data folder of this account. A path: that file.

    Raises
    ------
    JournalError
        It belongs to another program, or was made by a newer faultkit.
    """
    path = default_path() if where is None else Path(where)
    path.parent.mkdir(parents=True, exist_ok=True)
    return Ledger(SqliteBank(path))
