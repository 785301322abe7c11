"""Open a backup and check every byte of it before it is used."""

from __future__ import annotations

import hashlib
import json
import re
import struct
import zipfile
import zlib
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from configurator.errors import DocumentError, Fault
from configurator.record.backup import copied_tables, read_row
from configurator.record.migrate import newest_revision
from configurator.workflow.backups import FORMAT, MANIFEST, PIECE_BYTES

Tell = Callable[[str], None]
LONGEST_LINE_BYTES = 1 << 28
LARGEST_MANIFEST_BYTES = 1 << 28
DAMAGED = (zipfile.BadZipFile, zlib.error, EOFError, ValueError, RuntimeError, struct.error)
"""What reading a damaged archive may raise."""
DOCUMENT_NAME = re.compile(r"B-\d{4,}/[^/\\:\x00-\x1f.][^/\\:\x00-\x1f]*")

Sha256 = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")]


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True)


class _TablePart(_Part):
    rows: int = Field(ge=0)
    sha256: Sha256


class _DocumentPart(_Part):
    bytes: int = Field(ge=0)
    sha256: Sha256


class _Book(_Part):
    entries: int
    sha256: Sha256


class _Manifest(_Part):
    format: int
    revision: str
    made_at: str
    book: _Book
    tables: dict[str, _TablePart]
    documents: dict[str, _DocumentPart]
    missing: tuple[str, ...]
    flaws: int


@dataclass(frozen=True)
class OpenBackup:
    """A backup whose every byte was checked."""

    path: Path
    archive: zipfile.ZipFile
    manifest: _Manifest

    @property
    def tables(self) -> tuple[str, ...]:
        """In the order in which their rows can be inserted."""
        return copied_tables()

    @property
    def documents(self) -> Mapping[str, str]:
        """Build and file name → SHA-256."""
        return {name: part.sha256 for name, part in self.manifest.documents.items()}

    @property
    def missing(self) -> tuple[str, ...]:
        """Documents whose files were gone when it was made."""
        return self.manifest.missing

    @property
    def flaws(self) -> int:
        """How many flaws the record had when it was made."""
        return self.manifest.flaws

    @property
    def last_sha256(self) -> str:
        """Of the last entry of the book."""
        return self.manifest.book.sha256

    def lines(self, table: str) -> Iterator[bytes]:
        """Read the rows of a table, one a line."""
        with self.archive.open(f"tables/{table}.jsonl") as member:
            while line := member.readline(LONGEST_LINE_BYTES):
                yield line

    def document_pieces(self, name: str) -> Iterator[bytes]:
        """Read a document piece by piece."""
        with self.archive.open(f"documents/{name}") as member:
            while piece := member.read(PIECE_BYTES):
                yield piece


@contextmanager
def opened_backup(path: Path, tell: Tell = lambda _step: None) -> Iterator[OpenBackup]:
    """Open a backup, and check it wholly first.

    Parameters
    ----------
    path : Path
        The file.
    tell : callable
        Told of each step.

    Raises
    ------
    DocumentError
        If it cannot be read, is no backup of this version, or is not byte for byte what it was.
    """
    with _archive(path) as archive:
        backup = OpenBackup(path, archive, _manifest(path, archive))
        tell("Checking every byte of the backup")
        if faults := list(_faults(backup)):
            raise DocumentError(faults)
        yield backup


def _archive(path: Path) -> zipfile.ZipFile:
    try:
        return zipfile.ZipFile(path)
    except (OSError, *DAMAGED) as error:
        what = f"the backup cannot be read ({getattr(error, 'strerror', None) or error})"
        raise DocumentError([Fault("P045", str(path), what, "Name another backup.")]) from error


def _manifest(path: Path, archive: zipfile.ZipFile) -> _Manifest:
    try:
        info = archive.getinfo(MANIFEST)
        told = json.loads(archive.read(info) if info.file_size < LARGEST_MANIFEST_BYTES else b"")
        manifest = _Manifest.model_validate(told)
    except (OSError, KeyError, *DAMAGED) as error:
        what = "it is no backup of this tool, or its list of contents is damaged"
        raise DocumentError([Fault("P045", str(path), what, "Name another file.")]) from error
    if (manifest.format, manifest.revision) != (FORMAT, newest_revision()):
        what = (
            f"it was made by another version of the tool (revision {manifest.revision[:40]}, "
            f"this one has {newest_revision()})"
        )
        remedy = "Restore it with the version that made it, then open it with this one."
        raise DocumentError([Fault("P048", str(path), what, remedy)])
    return manifest


def _faults(backup: OpenBackup) -> Iterator[Fault]:
    manifest, where = backup.manifest, str(backup.path)
    wanted = {MANIFEST, *(f"tables/{name}.jsonl" for name in copied_tables())}
    wanted |= {f"documents/{name}" for name in manifest.documents}
    there = backup.archive.namelist()
    odd = [name for name in manifest.documents if not DOCUMENT_NAME.fullmatch(name)]
    odd += sorted(wanted ^ set(there))
    if odd or len(there) != len(set(there)) or set(manifest.tables) != set(copied_tables()):
        told = ", ".join(name[:80] for name in odd[:3]) or "a part that stands twice"
        what = f"its parts are not those it must have: {told}"
        yield Fault("P046", where, what, "Take another backup.")
        return
    for name, table in manifest.tables.items():
        if not _is_table(backup, name, table):
            what = "the rows are not those that were copied"
            yield Fault("P046", f"{where}, table {name}", what, "Take another backup.")
    for name, document in manifest.documents.items():
        if not _is_document(backup, name, document):
            what = "the document is not the one that was copied"
            yield Fault("P046", f"{where}, {name}", what, "Take another backup.")


def _is_table(backup: OpenBackup, name: str, part: _TablePart) -> bool:
    digest, rows = hashlib.sha256(), 0
    try:
        for line in backup.lines(name):
            digest.update(line)
            read_row(name, line)
            rows += 1
    except (OSError, KeyError, *DAMAGED):
        return False
    return (rows, digest.hexdigest()) == (part.rows, part.sha256)


def _is_document(backup: OpenBackup, name: str, part: _DocumentPart) -> bool:
    digest, size = hashlib.sha256(), 0
    try:
        for piece in backup.document_pieces(name):
            digest.update(piece)
            size += len(piece)
            if size > part.bytes:
                return False
    except (OSError, KeyError, *DAMAGED):
        return False
    return (size, digest.hexdigest()) == (part.bytes, part.sha256)
