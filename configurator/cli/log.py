"""Where the details of something unforeseen go."""

from __future__ import annotations

import tempfile
import traceback
from datetime import UTC, datetime
from pathlib import Path

LOG_FILE = "configurator.log"


def log_path(data_folder: Path) -> Path:
    """Name the log file of a data folder."""
    return data_folder / LOG_FILE


def keep_details(data_folder: Path, doing: str, error: BaseException) -> Path:
    """Add an error with its details to the log.

    Parameters
    ----------
    data_folder : Path
        Whose log it is; the system's folder for passing files is taken when it cannot be written.
    doing : str
        What was being done.
    error : BaseException
        What happened.

    Returns
    -------
    Path
        The log file.
    """
    details = "".join(traceback.format_exception(error))
    entry = f"{datetime.now(UTC).isoformat(timespec='seconds')} {doing}\n{details}\n"
    try:
        return _append(log_path(data_folder), entry)
    except OSError:
        return _append(log_path(Path(tempfile.gettempdir())), entry)


def _append(path: Path, entry: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    with path.open("a", encoding="utf-8", errors="backslashreplace") as file:
        file.write(entry)
    return path
