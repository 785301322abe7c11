"""Put a backup in place: all of it is checked before anything is written."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from configurator.errors import DocumentError, Fault, RecordError
from configurator.record.backup import put_rows, refuse_used, replacing
from configurator.record.database import Record
from configurator.record.verify import verify_within
from configurator.workflow.backup_file import OpenBackup
from configurator.workflow.stored_files import make_the_name_last, unwritable
from configurator.workflow.verifying import sha256_of

Tell = Callable[[str], None]


@dataclass(frozen=True)
class Restored:
    """What was put in place."""

    rows: int
    documents: int
    faults: tuple[Fault, ...]
    """Flaws that the record had when the backup was made."""
    missing: tuple[str, ...]
    """Documents whose files were gone by then."""


def restore(
    backup: OpenBackup,
    record: Record,
    data_folder: Path,
    *,
    over: bool,
    tell: Tell = lambda _step: None,
) -> Restored:
    """Put a checked backup in place of what a record holds, all of it or nothing.

    Parameters
    ----------
    backup : OpenBackup
        Checked.
    record : Record
        Where its rows go, whichever kind of database.
    data_folder : Path
        Where its documents go.
    over : bool
        Whether what the record holds may be lost.
    tell : callable
        Told of each step.

    Raises
    ------
    RecordError
        If the record holds something that may not be lost, or cannot be written.
    DocumentError
        If a document cannot be written, or another file is in its place.
    """
    if not over:
        refuse_used(record)
    files = _Files(data_folder / "documents", over=over)
    try:
        tell("Writing documents")
        for name in backup.documents:
            files.put(name, backup)
        rows, faults = _put_rows(backup, record, over=over, tell=tell)
    except BaseException:
        files.take_back()
        raise
    files.exchange()
    return Restored(rows, len(backup.documents), faults, backup.missing)


def _put_rows(
    backup: OpenBackup, record: Record, *, over: bool, tell: Tell
) -> tuple[int, tuple[Fault, ...]]:
    with replacing(record, over=over) as connection:
        rows = 0
        for table in backup.tables:
            tell(f"Writing {table}")
            rows += put_rows(connection, table, backup.lines(table))
        verified = verify_within(connection, record.where, tell)
        # What forbids rewriting is away while rows are exchanged.
        faults = tuple(fault for fault in verified.faults if fault.code != "R018")
        if len(faults) > backup.flaws or verified.last_sha256 != backup.last_sha256:
            raise RecordError(faults or [_another_book(backup.path)])
    return rows, faults


class _Files:
    """Documents put in place before the rows; taken back if those cannot be written."""

    def __init__(self, folder: Path, *, over: bool) -> None:
        self.folder, self.over = folder, over
        self.new: list[Path] = []
        self.waiting: list[tuple[Path, Path]] = []

    def put(self, name: str, backup: OpenBackup) -> None:
        path = self.folder / name
        found = sha256_of(path) if path.exists() else None
        if found == backup.documents[name]:
            return
        waits = path.with_name(f".restored-{path.name}")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            if path.exists() and not self.over:
                what = "another file is in the place of a document of the backup"
                remedy = "Name another folder with --data, or add --over-what-is-there."
                raise DocumentError([Fault("P047", str(path), what, remedy)])
            self.waiting.append((waits, path))
            _write(waits, backup.document_pieces(name))
            if not path.exists():
                waits.rename(path)
                self.waiting.pop()
                self.new.append(path)
            make_the_name_last(path.parent)
        except OSError as error:
            raise DocumentError([unwritable(path.parent, error)]) from error

    def exchange(self) -> None:
        """Put what waited beside another file in its place, now that the rows are there."""
        for waits, path in self.waiting:
            waits.replace(path)

    def take_back(self) -> None:
        for path in [*self.new, *(waits for waits, _ in self.waiting)]:
            path.unlink(missing_ok=True)


def _write(path: Path, pieces: Iterator[bytes]) -> None:
    with path.open("wb") as file:
        for piece in pieces:
            file.write(piece)
        file.flush()
        os.fsync(file.fileno())


def _another_book(path: Path) -> Fault:
    what = "its rows do not lead to the last entry that it names"
    return Fault("P046", str(path), what, "Take another backup.")
