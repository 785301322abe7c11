"""Put new builds in the record, each under a reference of its own."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import TypeVar

from sqlalchemy import select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from configurator.catalog.models.build import BuildInput
from configurator.errors import RecordError
from configurator.record.changes import Change, Step, change_row
from configurator.record.database import Record, writing
from configurator.record.drafts import StoredDraft
from configurator.record.references import next_number, reference_of
from configurator.record.tables import BuildRow, DraftRow

TRIES_FOR_A_REFERENCE = 20

Added = TypeVar("Added")


def add_build(record: Record, build: BuildInput, *, now: datetime) -> StoredDraft:
    """Put a new build in the record under the next reference.

    Parameters
    ----------
    record : Record
        The open record.
    build : BuildInput
        Its reference is replaced by the one allotted.
    now : datetime
        Aware, UTC.

    Returns
    -------
    StoredDraft
        As it is on disk.

    Raises
    ------
    RecordError
        If it cannot be saved.
    """

    def add(session: Session) -> StoredDraft:
        number = next_number(session, None, record.where)
        return _add(session, number, build, origin=None, now=now)

    return _again_while_overtaken(record, add)


def add_build_once(
    record: Record, build: BuildInput, *, origin: str, now: datetime
) -> tuple[str, bool]:
    """Put a build in the record unless one of the same origin is there.

    Parameters
    ----------
    record : Record
        The open record.
    build : BuildInput
        Keeps its reference while nobody else has it.
    origin : str
        What the build was read from.
    now : datetime
        Aware, UTC.

    Returns
    -------
    tuple of str and bool
        Its reference, and whether it is new; nothing is changed when it was there already.

    Raises
    ------
    RecordError
        If it cannot be saved.
    """

    def add_unless_there(session: Session) -> tuple[str, bool]:
        there = session.scalar(select(BuildRow.reference).filter_by(origin=origin))
        if there is not None:
            return there, False
        number = next_number(session, build.reference, record.where)
        return _add(session, number, build, origin=origin, now=now).reference, True

    return _again_while_overtaken(record, add_unless_there)


def _again_while_overtaken(record: Record, add: Callable[[Session], Added]) -> Added:
    # On a server database two people may be allotted the same number; one of them tries again.
    for _ in range(TRIES_FOR_A_REFERENCE):
        try:
            with writing(record) as session:
                return add(session)
        except RecordError as error:
            if not isinstance(error.__cause__, IntegrityError):
                raise
            overtaken = error
    raise overtaken


def _add(
    session: Session, number: int, build: BuildInput, *, origin: str | None, now: datetime
) -> StoredDraft:
    reference = reference_of(number)
    content = build.model_copy(update={"reference": reference}).model_dump(mode="json")
    row = BuildRow(number=number, reference=reference, origin=origin, started_at=now)
    session.add(row)
    session.flush()
    session.add(DraftRow(build_id=row.id, revision=1, content=content, saved_at=now))
    steps = (Step("reference", None, None, reference),)
    session.add(change_row(row.id, Change(1, "started", steps, None, now)))
    return StoredDraft(reference, content, 1, now)
