"""Copy the whole record with its documents into one file, while the tool runs."""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import tempfile
import zipfile
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import IO, Any

import configurator
from configurator.errors import DocumentError, Fault
from configurator.record.backup import copied_tables, row_lines
from configurator.record.database import Record, snapshot
from configurator.record.migrate import newest_revision
from configurator.record.verify import NotedDocument, Verified, verify_within
from configurator.workflow.stored_files import documents_folder, make_the_name_last, unwritable

Tell = Callable[[str], None]
FORMAT = 1
MANIFEST = "manifest.json"
PIECE_BYTES = 1 << 20


@dataclass(frozen=True)
class BackupMade:
    """A backup that was written."""

    path: Path
    rows: int
    documents: int
    missing: tuple[str, ...]
    """Documents that the record knows and whose files are gone."""
    faults: tuple[Fault, ...]
    """Flaws of the record that the copy has too."""


@dataclass
class Manifest:
    """What a backup says it holds."""

    revision: str
    made_at: str
    tables: dict[str, dict[str, Any]] = field(default_factory=dict)
    documents: dict[str, dict[str, Any]] = field(default_factory=dict)
    missing: list[str] = field(default_factory=list)
    flaws: int = 0

    def written(self, verified: Verified) -> bytes:
        """Write it as the file in the backup."""
        told = {
            "format": FORMAT,
            "made_by": f"configurator {configurator.__version__}",
            "made_at": self.made_at,
            "revision": self.revision,
            "book": {"entries": verified.last_number, "sha256": verified.last_sha256},
            "tables": self.tables,
            "documents": self.documents,
            "missing": self.missing,
            "flaws": self.flaws,
        }
        return json.dumps(told, indent=1, ensure_ascii=False).encode()


def back_up(
    record: Record,
    data_folder: Path,
    target: Path,
    *,
    now: datetime,
    tell: Tell = lambda _step: None,
) -> BackupMade:
    """Write a backup: the rows as they are at one moment, and the documents they name.

    Parameters
    ----------
    record : Record
        The open record; others go on working with it.
    data_folder : Path
        Holds the documents.
    target : Path
        The file to write; there must be none of that name.
    now : datetime
        Aware, UTC.
    tell : callable
        Told of each step.

    Returns
    -------
    BackupMade
        On disk, whole, and readable by its owner alone.

    Raises
    ------
    DocumentError
        If there is such a file, or it cannot be written; none is left behind then.
    RecordError
        If the record cannot be read.
    """
    if target.exists():
        what = "there is a file of that name, and a backup never takes the place of another"
        raise DocumentError([Fault("P044", str(target), what, "Name another file.")])
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=target.parent, prefix=".unfinished-", suffix=".zip")
    except OSError as error:
        raise DocumentError([unwritable(target.parent, error)]) from error
    unfinished = Path(name)
    try:
        with os.fdopen(handle, "w+b") as file:
            manifest = Manifest(newest_revision(), now.astimezone(UTC).isoformat())
            verified = _write(record, data_folder, file, manifest, tell)
            file.flush()
            os.fsync(file.fileno())
        unfinished.rename(target)
        make_the_name_last(target.parent)
    except OSError as error:
        raise DocumentError([unwritable(target.parent, error)]) from error
    finally:
        unfinished.unlink(missing_ok=True)
    return BackupMade(
        path=target,
        rows=sum(table["rows"] for table in manifest.tables.values()),
        documents=len(manifest.documents),
        missing=tuple(manifest.missing),
        faults=verified.faults,
    )


def _write(
    record: Record, data_folder: Path, file: IO[bytes], manifest: Manifest, tell: Tell
) -> Verified:
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        with snapshot(record) as connection:
            verified = verify_within(connection, record.where, tell)
            for table in copied_tables():
                tell(f"Copying {table}")
                lines = row_lines(connection, table)
                manifest.tables[table] = _copy_lines(archive, f"tables/{table}.jsonl", lines)
        # Documents are never altered and never taken away, so the moment is theirs too.
        tell("Copying documents")
        for document in verified.documents:
            if document.sha256 not in verified.erased:
                _copy_document(archive, data_folder, document, manifest)
        manifest.flaws = len(verified.faults)
        archive.writestr(MANIFEST, manifest.written(verified))
    return verified


def _copy_lines(archive: zipfile.ZipFile, name: str, lines: Iterable[bytes]) -> dict[str, Any]:
    digest, rows = hashlib.sha256(), 0
    with archive.open(name, "w", force_zip64=True) as member:
        for line in lines:
            digest.update(line)
            member.write(line)
            rows += 1
    return {"rows": rows, "sha256": digest.hexdigest()}


def _copy_document(
    archive: zipfile.ZipFile, data_folder: Path, document: NotedDocument, manifest: Manifest
) -> None:
    name = f"{document.reference}/{document.name}"
    path = documents_folder(data_folder, document.reference) / document.name
    info = zipfile.ZipInfo(f"documents/{name}")
    try:
        source = path.open("rb")
    except OSError:
        manifest.missing.append(name)
        return
    with source, archive.open(info, "w", force_zip64=True) as member:
        shutil.copyfileobj(source, member, PIECE_BYTES)
        size = source.tell()
        source.seek(0)
        digest = hashlib.file_digest(source, "sha256").hexdigest()
    manifest.documents[name] = {"bytes": size, "sha256": digest}
