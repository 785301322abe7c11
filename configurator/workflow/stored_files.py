"""Write files whole or not at all, and never over something else."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Collection
from pathlib import Path

from configurator.errors import DocumentError, Fault


def documents_folder(data_folder: Path, reference: str) -> Path:
    """Name the folder that holds a build's documents.

    Examples
    --------
    >>> documents_folder(Path("outputs"), "B-0007").as_posix()
    'outputs/documents/B-0007'
    """
    return data_folder / "documents" / reference


def write_once(
    folder: Path, stem: str, suffix: str, content: bytes, *, taken: Collection[str] = ()
) -> Path:
    """Write a file under its name; a different file of that name is kept and a number added.

    Parameters
    ----------
    folder : Path
        Made when it is missing.
    stem, suffix : str
        The name, such as `B-0007-spec-sheet-1a2b3c4d` and `.pdf`.
    content : bytes
        On disk, whole, when this returns.
    taken : collection of str
        Names that something else had, whose file may be gone.

    Returns
    -------
    Path
        Of the file that holds exactly this content.

    Raises
    ------
    DocumentError
        If the folder cannot be written.

    Examples
    --------
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     first = write_once(Path(folder), "sheet", ".txt", b"one")
    ...     again = write_once(Path(folder), "sheet", ".txt", b"one")
    ...     other = write_once(Path(folder), "sheet", ".txt", b"two")
    ...     (first.name, again.name, other.name)
    ('sheet.txt', 'sheet.txt', 'sheet-2.txt')
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        number = 1
        while True:
            path = folder / (f"{stem}{suffix}" if number == 1 else f"{stem}-{number}{suffix}")
            number += 1
            if path.name in taken:
                continue
            if not path.exists():
                _put(path, content)
            if path.read_bytes() == content:
                return path
    except OSError as error:
        raise DocumentError([unwritable(folder, error)]) from error


def unwritable(folder: Path, error: OSError) -> Fault:
    """Say that nothing can be written to a folder."""
    return Fault(
        "P009",
        str(folder),
        f"the folder cannot be written ({error.strerror or error}); no document was changed",
        "Name a folder that may be written and has space.",
    )


def _put(path: Path, content: bytes) -> None:
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=".unfinished-", suffix=path.suffix)
    unfinished = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        unfinished.chmod(0o644)
        _name_it(unfinished, path)
    finally:
        unfinished.unlink(missing_ok=True)
    make_the_name_last(path.parent)


def _name_it(unfinished: Path, path: Path) -> None:
    try:
        # Unlike a rename, a link never replaces what another process has just written.
        path.hardlink_to(unfinished)
    except FileExistsError:
        return
    except OSError:
        # Some file systems know no links.
        if not path.exists():
            unfinished.rename(path)


def make_the_name_last(folder: Path) -> None:
    """Have the names in a folder on disk, so that a power cut takes none away."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
