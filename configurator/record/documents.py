"""Which documents were made, from which spec."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from configurator.errors import RecordError
from configurator.record.database import Record, reading, writing
from configurator.record.faults import missing_build
from configurator.record.kept_out import refuse_erased_meanwhile
from configurator.record.tables import BuildRow, DocumentRow
from configurator.record.turns import take_turn


@dataclass(frozen=True)
class DocumentEntry:
    """One document that was made."""

    kind: str
    name: str
    """File name in the build's folder."""
    sha256: str
    spec_sha256: str
    made_at: datetime


def add_document(
    record: Record, reference: str, entry: DocumentEntry, *, revision: int | None = None
) -> DocumentEntry:
    """Note a document; the same name with the same content is noted once.

    Parameters
    ----------
    record : Record
        The open record.
    reference : str
        Of the build.
    entry : DocumentEntry
        Its file is stored already.
    revision : int, optional
        Of the draft that was read before the document was made.

    Returns
    -------
    DocumentEntry
        The one noted first, when it was noted before.

    Raises
    ------
    ErasedMeanwhileError
        If the customer was erased since that revision.
    RecordError
        If the record has no such build, or it cannot be saved.
    """
    with writing(record) as session:
        # Whoever erases must find the document, or be found by it.
        take_turn(session)
        build_id = session.scalar(select(BuildRow.id).where(BuildRow.reference == reference))
        if build_id is None:
            raise RecordError([missing_build(reference, record.where)])
        refuse_erased_meanwhile(session, build_id, reference, revision)
        return note_document(session, build_id, entry)


def note_document(session: Session, build_id: int, entry: DocumentEntry) -> DocumentEntry:
    """Note a document inside a transaction; gives the one noted first."""
    known = session.scalar(select(DocumentRow).filter_by(build_id=build_id, name=entry.name))
    if known is not None and known.sha256 == entry.sha256:
        return _entry(known)
    session.add(
        DocumentRow(
            build_id=build_id,
            kind=entry.kind,
            name=entry.name,
            sha256=entry.sha256,
            spec_sha256=entry.spec_sha256,
            made_at=entry.made_at,
        )
    )
    return entry


def list_entries(record: Record, reference: str) -> tuple[DocumentEntry, ...]:
    """Read the documents of a build, the last made first."""
    with reading(record) as session:
        rows = session.scalars(
            select(DocumentRow)
            .join(BuildRow, BuildRow.id == DocumentRow.build_id)
            .where(BuildRow.reference == reference)
            .order_by(DocumentRow.made_at.desc(), DocumentRow.id.desc())
        )
        return tuple(_entry(row) for row in rows)


def _entry(row: DocumentRow) -> DocumentEntry:
    return DocumentEntry(row.kind, row.name, row.sha256, row.spec_sha256, row.made_at)
