"""What changed in a draft, kept for undo and for the history."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from datetime import datetime
from typing import Any, Literal

from sqlalchemy import select
from sqlalchemy.orm import Session

from configurator.record.database import Record, reading
from configurator.record.tables import BuildRow, ChangeRow

ChangeKind = Literal[
    "started",
    "picked",
    "cleared",
    "way-out",
    "house-choices",
    "must-keep",
    "wishes",
    "wished-build",
    "day",
    "measurements",
    "donor",
    "survey",
    "discount",
    "priced-anew",
    "erased",
    "undone",
]


@dataclass(frozen=True)
class Step:
    """One value of a build that changed; `key` names the entry where the field is a mapping."""

    field: str
    key: str | None
    old: Any
    new: Any


@dataclass(frozen=True)
class Change:
    """What one person did at one moment; all its steps are one change."""

    revision: int
    """The revision that it led to."""
    kind: str
    steps: tuple[Step, ...]
    undoes: int | None
    made_at: datetime


def list_changes(record: Record, reference: str) -> tuple[Change, ...]:
    """Read every change of a build, oldest first; empty for an unknown build."""
    with reading(record) as session:
        return changes_after(session, reference, revision=0)


def changes_after(session: Session, reference: str, revision: int) -> tuple[Change, ...]:
    """Read the changes that led beyond a revision, oldest first."""
    rows = session.scalars(
        select(ChangeRow)
        .join(BuildRow, BuildRow.id == ChangeRow.build_id)
        .where(BuildRow.reference == reference, ChangeRow.revision > revision)
        .order_by(ChangeRow.revision)
    )
    return tuple(_change(row) for row in rows)


def change_row(build_id: int, change: Change) -> ChangeRow:
    """Make the row that keeps a change."""
    return ChangeRow(
        build_id=build_id,
        revision=change.revision,
        kind=change.kind,
        steps=[asdict(step) for step in change.steps],
        undoes=change.undoes,
        made_at=change.made_at,
    )


def _change(row: ChangeRow) -> Change:
    steps = tuple(Step(**step) for step in row.steps)
    return Change(row.revision, row.kind, steps, row.undoes, row.made_at)
