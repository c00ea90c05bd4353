"""The unexpected: one sentence for the person, the details in a file."""

import traceback
from datetime import UTC, datetime
from pathlib import Path

import platformdirs


def log_file() -> Path:
    """Where unexpected errors are written down."""
    return Path(platformdirs.user_log_dir("faultkit", appauthor=False)) / "trouble.log"


def write_down(error: BaseException | None) -> str:
    """Append an error to the log file and give the sentence that points to it."""
    kind = type(error).__name__ if error is not None else "nothing known"
    path = log_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("a", encoding="utf-8") as log:
            log.write(f"--- {datetime.now(UTC).isoformat(timespec='seconds')}\n")
            log.writelines(traceback.format_exception(error) if error else ["no exception\n"])
    except OSError:
        return f"Something unexpected went wrong ({kind}), and no log file could be written."
    return f"Something unexpected went wrong ({kind}). Details are in {path}."
