"""Take a customer's data out of the record, all of it in one transaction."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import datetime
from typing import Any

from sqlalchemy import select, text, update
from sqlalchemy.orm import Session

from configurator.build_life.entries import Erased
from configurator.build_life.erasing import personal_words, without_person
from configurator.build_life.people import Person
from configurator.errors import Fault, RecordError
from configurator.record.book import write_within
from configurator.record.changes import Change, change_row
from configurator.record.contents import keep_content, unpacked
from configurator.record.database import Record, writing
from configurator.record.faults import missing_build, said_plainly
from configurator.record.kept_out import ERASED, refuse_customers_name
from configurator.record.seals import seal_for
from configurator.record.tables import (
    BuildRow,
    ChangeRow,
    ContentRow,
    DocumentRow,
    DraftRow,
    EntryRow,
)
from configurator.record.turns import take_turn

POINTS_TO_SPEC = ("spec_sha256", "from_sha256", "to_sha256")


def erase_customer(
    record: Record, reference: str, *, because: str, by: Person, now: datetime
) -> tuple[str, ...]:
    """Take a customer's name, contact and notes out of everything kept of a build.

    Parameters
    ----------
    record : Record
        The open record.
    reference : str
        Of the build.
    because : str
        Why, such as at whose request; no names.
    by : Person
        Who does it.
    now : datetime
        Aware, UTC.

    Returns
    -------
    tuple of str
        Names of the documents whose files are to be deleted: names are printed in them.

    Raises
    ------
    LifeError
        If the customer's name stands in the reason.
    RecordError
        If there is no such build, or it cannot be saved.
    """
    with writing(record) as session:
        # Nothing may be kept of this person between what is read here and what is written.
        take_turn(session)
        build_id = session.scalar(select(BuildRow.id).where(BuildRow.reference == reference))
        draft = None
        if build_id is not None:
            draft = session.get(DraftRow, build_id, with_for_update=True)
        if build_id is None or draft is None:
            raise RecordError([missing_build(reference, record.where)])
        told = Erased(contents={}, because=because)
        refuse_customers_name(session, build_id, reference, (told,), by)
        words = personal_words(draft.content)
        replaced: dict[str, str | None] = _in_contents(session, build_id, words)
        _in_changes(session, build_id, words)
        draft.content = without_person(draft.content, words)
        draft.revision, draft.saved_at = draft.revision + 1, now
        session.add(change_row(build_id, Change(draft.revision, ERASED, (), None, now)))
        documents = session.scalars(select(DocumentRow).filter_by(build_id=build_id)).all()
        replaced |= {document.sha256: None for document in documents}
        erased = told.model_copy(update={"contents": replaced})
        write_within(session, (build_id, reference), (erased,), by=by, now=now)
        return tuple(document.name for document in documents)


def clear_free_pages(record: Record) -> None:
    """Leave nothing of what was erased in the free pages of the file or in its log.

    PostgreSQL clears its own pages as it goes; its log and backups are for whoever keeps it.

    Raises
    ------
    RecordError
        If others read for so long, or the disk is so full, that it cannot be done; what was erased
        stays erased.
    """
    if record.engine.dialect.name != "sqlite":
        return
    try:
        with said_plainly(record.where), closing(record.engine.raw_connection()) as connection:
            connection.cursor().execute("VACUUM")
            told = connection.cursor().execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    except RecordError as error:
        raise RecordError([_still_in_the_file(record.where)]) from error
    if told is not None and told[0]:
        raise RecordError([_still_in_the_file(record.where)])


def _still_in_the_file(where: str) -> Fault:
    what = (
        "the customer is erased, but the file or its log may still hold what was removed: others "
        "were reading, or the disk is full"
    )
    return Fault("R024", where, what, "Erase once more when nobody else works and there is space.")


def _in_contents(session: Session, build_id: int, words: tuple[str, ...]) -> dict[str, str | None]:
    """Keep each spec of the build without the person, under a hash of its own."""
    replaced: dict[str, str | None] = {}
    for sha256 in _specs_of(session, build_id):
        row = session.get(ContentRow, sha256)
        content = None if row is None else unpacked(row.content)
        if row is None or content is None:
            continue
        told = json.loads(content)
        without = _canonical(without_person(told, [*words, *personal_words(told["build"])]))
        if without != content:
            session.delete(row)
            session.flush()
            replaced[sha256] = keep_content(session, "spec", without)
    return replaced


def _specs_of(session: Session, build_id: int) -> set[str]:
    found: set[str] = set()
    for written in session.scalars(select(EntryRow.written).filter_by(build_id=build_id)):
        body = json.loads(written)["body"]
        found |= {body[field] for field in POINTS_TO_SPEC if field in body}
        if body["kind"] == "erased":
            found |= {new for new in body["contents"].values() if new}
    return found


def _in_changes(session: Session, build_id: int, words: tuple[str, ...]) -> None:
    rows = session.scalars(select(ChangeRow).filter_by(build_id=build_id)).all()
    altered = [(row, new) for row in rows if (new := _steps_without(row.steps, words)) != row.steps]
    if not altered:
        return
    with _rewriting(session, "changes"):
        for row, steps in altered:
            table = ChangeRow.__table__
            values = {column.name: getattr(row, column.name) for column in table.columns}
            seal = seal_for(table, {**values, "steps": steps})  # type: ignore[arg-type]  # a Table
            session.execute(
                update(ChangeRow).where(ChangeRow.id == row.id).values(steps=steps, seal=seal)
            )


def _steps_without(steps: list[dict[str, Any]], words: tuple[str, ...]) -> list[dict[str, Any]]:
    return [
        {**step, "old": "", "new": ""}
        if step.get("field") == "notes"
        else {
            key: without_person(value, words, step.get("field", "")) for key, value in step.items()
        }
        for step in steps
    ]


@contextmanager
def _rewriting(session: Session, table: str) -> Iterator[None]:
    """Let rows be rewritten that the database refuses to rewrite, inside one transaction."""
    if session.get_bind().dialect.name == "postgresql":
        trigger = f"{table}_refuse_rewriting"
        session.execute(text(f"ALTER TABLE {table} DISABLE TRIGGER {trigger}"))
        yield
        session.flush()
        session.execute(text(f"ALTER TABLE {table} ENABLE TRIGGER {trigger}"))
        return
    name = f"{table}_refuse_update"
    made = session.scalar(text("SELECT sql FROM sqlite_master WHERE name = :name"), {"name": name})
    session.execute(text(f"DROP TRIGGER {name}"))
    yield
    session.flush()
    session.execute(text(str(made)))


def _canonical(told: Any) -> bytes:
    written = json.dumps(told, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return written.encode()
