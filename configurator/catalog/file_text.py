"""Read a file's text within bounds; each way it can fail is a fault with its remedy."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from configurator.errors import Fault

GREATEST_BYTES = 2 * 1024 * 1024


@dataclass(frozen=True)
class FileText:
    """A file's bytes and text, or the fault that kept it from being read."""

    file: str
    content: bytes = b""
    text: str = ""
    fault: Fault | None = None


def read_file_text(path: Path, file: str) -> FileText:
    """Read a text file of bounded size.

    Parameters
    ----------
    path : Path
        The file.
    file : str
        How messages name it.

    Returns
    -------
    FileText
        Its bytes and text, or a fault (C003 to C006).
    """
    try:
        if not path.is_file():
            what = (
                "it is a folder or something else that is not a file; a file is wanted here"
                if path.exists()
                else "there is no such file; a file is wanted here"
            )
            return _failed(file, "C003", what, "Put a file of that name in its place.")
        with path.open("rb") as opened:
            content = opened.read(GREATEST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "the name is not usable"
        what = f"it cannot be read ({reason}); the whole catalog is read at once"
        return _failed(file, "C003", what, "Check that it exists and that you may read it.")
    if len(content) > GREATEST_BYTES:
        what = f"it is larger than {GREATEST_BYTES // 1024 // 1024} MiB; people could not edit it"
        return _failed(file, "C004", what, "Split it into several files.")
    return _decoded(file, content)


def _decoded(file: str, content: bytes) -> FileText:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        what = f"byte {content[error.start]:#04x} is not UTF-8; every file must be UTF-8"
        remedy = 'Save the file again with the encoding "UTF-8" in your editor.'
        return FileText(file, fault=Fault("C005", f"{file}:{line}", what, remedy))
    if not text.strip():
        what = "it is empty; a file that is there must say something"
        return _failed(file, "C006", what, "Fill it or delete it.")
    return FileText(file, content, text.replace("\r\n", "\n").replace("\r", "\n"))


def _failed(file: str, code: str, what: str, remedy: str) -> FileText:
    return FileText(file, fault=Fault(code, f"{file}:1", what, remedy))
