"""Read the drafts of builds, and save changes without losing anybody's."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Any, cast

from pydantic import ValidationError
from sqlalchemy import Table, select, update
from sqlalchemy.orm import Session

from configurator.catalog.models.build import BuildInput
from configurator.errors import Fault, RecordError, StaleDraftError
from configurator.record.changes import Change, change_row, changes_after
from configurator.record.database import Record, reading, writing
from configurator.record.faults import missing_build
from configurator.record.seals import seal_for
from configurator.record.tables import BuildRow, DraftRow

DRAFTS = cast("Table", DraftRow.__table__)


@dataclass(frozen=True)
class StoredDraft:
    """A draft as it lies in the record."""

    reference: str
    content: dict[str, Any]
    revision: int
    saved_at: datetime

    def build(self) -> BuildInput:
        """Read the content as a build.

        Raises
        ------
        RecordError
            If it does not read as one.
        """
        try:
            return BuildInput.model_validate(self.content)
        except ValidationError as error:
            raise RecordError(
                _unreadable(self.reference, detail) for detail in error.errors()
            ) from error


def find_draft(record: Record, reference: str) -> StoredDraft:
    """Read the draft of a build.

    Raises
    ------
    RecordError
        If the record has no such build.
    """
    with reading(record) as session:
        return _draft_in(session, reference, record.where)


def list_drafts(record: Record) -> tuple[StoredDraft, ...]:
    """Read all drafts, the last saved first."""
    with reading(record) as session:
        rows = session.execute(
            select(BuildRow.reference, DraftRow)
            .join(DraftRow, DraftRow.build_id == BuildRow.id)
            .order_by(DraftRow.saved_at.desc(), BuildRow.number.desc())
        )
        return tuple(_stored(reference, row) for reference, row in rows)


def save_draft(
    record: Record,
    build: BuildInput,
    change: Change,
    tell: Callable[[Change], str],
) -> StoredDraft:
    """Save a changed build together with what changed.

    Parameters
    ----------
    record : Record
        The open record.
    build : BuildInput
        The whole build after the change.
    change : Change
        What changed; its revision is one more than the revision it was made on.
    tell : callable
        Says a change of somebody else in words.

    Returns
    -------
    StoredDraft
        As it is on disk now.

    Raises
    ------
    StaleDraftError
        If somebody else changed the draft since; says what, and changes nothing.
    RecordError
        If it cannot be saved.
    """
    content = build.model_dump(mode="json")
    with writing(record) as session:
        build_id = _build_id(session, build.reference, record.where)
        values = {"revision": change.revision, "content": content, "saved_at": change.made_at}
        seal = seal_for(DRAFTS, {"build_id": build_id, **values})
        saved = session.execute(
            update(DraftRow)
            .where(DraftRow.build_id == build_id, DraftRow.revision == change.revision - 1)
            .values(**values, seal=seal)
            .returning(DraftRow.build_id)
        )
        if saved.first() is None:
            seen = change.revision - 1
            raise stale(build.reference, changes_after(session, build.reference, seen), tell)
        session.add(change_row(build_id, change))
    return StoredDraft(build.reference, content, change.revision, change.made_at)


def stale(
    reference: str, since: tuple[Change, ...], tell: Callable[[Change], str]
) -> StaleDraftError:
    """Make the error that tells what others changed meanwhile."""
    told = "; ".join(tell(change) for change in since) or "the draft is not the one you saw"
    return StaleDraftError(
        [
            Fault(
                "R007",
                reference,
                f"the build was changed meanwhile: {told}. Your step was not taken, theirs is kept",
                "Look at the build as it is now and, if you still want to, do the step again.",
            )
        ]
    )


def _draft_in(session: Session, reference: str, where: str) -> StoredDraft:
    row = session.get(DraftRow, _build_id(session, reference, where))
    if row is None:
        raise RecordError([missing_build(reference, where)])
    return _stored(reference, row)


def _build_id(session: Session, reference: str, where: str) -> int:
    build_id = session.scalar(select(BuildRow.id).where(BuildRow.reference == reference))
    if build_id is None:
        raise RecordError([missing_build(reference, where)])
    return build_id


def _stored(reference: str, row: DraftRow) -> StoredDraft:
    return StoredDraft(reference, row.content, row.revision, row.saved_at)


def _unreadable(reference: str, detail: Any) -> Fault:
    place = ".".join(str(part) for part in detail["loc"]) or "the draft"
    return Fault(
        "R009",
        f"{reference}, {place}",
        f"the stored draft does not read as a build: {detail['msg']}",
        "It is kept as it is; open it with the version of the tool that wrote it.",
    )
