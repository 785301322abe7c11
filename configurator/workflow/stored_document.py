"""A document that was made and kept, read again only as it was made."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from configurator.errors import DocumentError, Fault
from configurator.record.documents import DocumentEntry


@dataclass(frozen=True)
class StoredDocument:
    """A document that was made and kept."""

    kind: str
    name: str
    path: Path
    sha256: str
    spec_sha256: str
    made_at: datetime

    @property
    def content(self) -> bytes:
        """The bytes, exactly as they were made.

        Raises
        ------
        DocumentError
            If the file is missing or was altered since.
        """
        try:
            content = self.path.read_bytes()
        except OSError as error:
            raise DocumentError([_lost(self.path, "cannot be read")]) from error
        if hashlib.sha256(content).hexdigest() != self.sha256:
            raise DocumentError([_lost(self.path, "was altered since it was made")])
        return content


def stored_document(folder: Path, entry: DocumentEntry) -> StoredDocument:
    """Read what is noted of a document in the folder of its build."""
    return StoredDocument(
        kind=entry.kind,
        name=entry.name,
        path=folder / entry.name,
        sha256=entry.sha256,
        spec_sha256=entry.spec_sha256,
        made_at=entry.made_at,
    )


def _lost(path: Path, what: str) -> Fault:
    return Fault(
        "P010",
        str(path),
        f"the document {what}",
        "Put it back from a backup, or make the document again.",
    )
