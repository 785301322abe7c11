"""What a long list of builds needs, read in few and small questions."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select

from configurator.build_life.life import Entry
from configurator.record.book import entry_of
from configurator.record.database import Record, reading
from configurator.record.drafts import StoredDraft
from configurator.record.tables import BuildRow, DraftRow, EntryRow

AT_ONCE = 500
"""Drafts asked for in one question; databases bound how many values one may have."""


@dataclass(frozen=True)
class DraftMark:
    """Where a draft stands, without what it holds."""

    reference: str
    revision: int
    saved_at: datetime


def list_marks(record: Record) -> tuple[DraftMark, ...]:
    """List where every draft stands, the last saved first."""
    with reading(record) as session:
        rows = session.execute(
            select(BuildRow.reference, DraftRow.revision, DraftRow.saved_at)
            .join(DraftRow, DraftRow.build_id == BuildRow.id)
            .order_by(DraftRow.saved_at.desc(), BuildRow.number.desc())
        )
        return tuple(DraftMark(*row) for row in rows)


def read_drafts(record: Record, references: Collection[str]) -> dict[str, StoredDraft]:
    """Read some drafts, by reference; those that are not there are left out."""
    wanted, found = sorted(references), {}
    with reading(record) as session:
        for start in range(0, len(wanted), AT_ONCE):
            rows = session.execute(
                select(BuildRow.reference, DraftRow)
                .join(DraftRow, DraftRow.build_id == BuildRow.id)
                .where(BuildRow.reference.in_(wanted[start : start + AT_ONCE]))
            )
            for reference, row in rows:
                found[reference] = StoredDraft(reference, row.content, row.revision, row.saved_at)
    return found


def entries_since(record: Record, number: int) -> tuple[tuple[str, Entry], ...]:
    """Read the entries after one, each with the reference of its build, oldest first."""
    with reading(record) as session:
        rows = session.execute(
            select(BuildRow.reference, EntryRow)
            .join(BuildRow, BuildRow.id == EntryRow.build_id)
            .where(EntryRow.number > number)
            .order_by(EntryRow.number)
        )
        return tuple((reference, entry_of(row)) for reference, row in rows)
