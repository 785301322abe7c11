"""The book: entries are added at its end, each hashed together with the one before."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.exc import IntegrityError
from sqlalchemy.orm import Session

from configurator.build_life.entries import BODY, Body
from configurator.build_life.life import Entry, Life
from configurator.build_life.once import slot_of
from configurator.build_life.people import Person
from configurator.errors import Fault, OvertakenError, RecordError
from configurator.record.contents import ContentKind, keep_content
from configurator.record.database import Record, reading, writing
from configurator.record.documents import DocumentEntry, note_document
from configurator.record.faults import missing_build
from configurator.record.kept_out import (
    drawn_from,
    refuse_customers_name,
    refuse_erased_meanwhile,
)
from configurator.record.tables import BuildRow, EntryRow, LastEntryRow
from configurator.record.turns import take_turn

BEFORE_THE_FIRST = "0" * 64


@dataclass(frozen=True)
class ToKeep:
    """Bytes that entries point to; kept in the same transaction."""

    what: ContentKind
    content: bytes


def write_entries(
    record: Record,
    reference: str,
    bodies: Callable[[Life], Sequence[Body]] | Sequence[Body],
    *,
    by: Person,
    now: datetime,
    keep: Iterable[ToKeep] = (),
    documents: Iterable[DocumentEntry] = (),
) -> tuple[Entry, ...]:
    """Add entries to a build's book, all of them or none; they are on disk when this returns.

    Parameters
    ----------
    record : Record
        The open record.
    reference : str
        Of the build.
    bodies : sequence of Body, or callable
        The callable is given the life as it is now, while nobody else can add to it, and may
        refuse by raising.
    by : Person
        Who does it.
    now : datetime
        Aware, UTC.
    keep : iterable of ToKeep
        What the entries point to.
    documents : iterable of DocumentEntry
        Noted with the entries that point to them; their files are stored already.

    Raises
    ------
    OvertakenError
        If somebody else did the same a moment before; nothing was written.
    ErasedMeanwhileError
        If a spec to keep names a customer who was erased since its draft was read.
    LifeError
        If the customer's name stands in words that are typed beside a step.
    RecordError
        If there is no such build, or it cannot be saved.
    """
    try:
        with writing(record) as session:
            take_turn(session)
            build_id = _build_id(session, reference, record.where)
            life = _life(session, build_id)
            wanted = bodies(life) if callable(bodies) else bodies
            refuse_customers_name(session, build_id, reference, wanted, by)
            for item in keep:
                if item.what == "spec":
                    refuse_erased_meanwhile(session, build_id, reference, drawn_from(wanted))
                keep_content(session, item.what, item.content)
            for document in documents:
                note_document(session, build_id, document)
            return _add(session, (build_id, reference), wanted, by, now)
    except RecordError as error:
        if isinstance(error.__cause__, IntegrityError):
            raise OvertakenError([_overtaken(reference)]) from error
        raise


def write_within(
    session: Session,
    build: tuple[int, str],
    bodies: Sequence[Body],
    *,
    by: Person,
    now: datetime,
) -> tuple[Entry, ...]:
    """Add entries inside a transaction that does more than that; `build` is its id and reference.

    Raises
    ------
    RecordError
        If the book does not end where it ended last.
    """
    take_turn(session)
    return _add(session, build, bodies, by, now)


def read_life(record: Record, reference: str) -> Life:
    """Read the book of one build.

    Raises
    ------
    RecordError
        If there is no such build.
    """
    with reading(record) as session:
        return _life(session, _build_id(session, reference, record.where))


def chained_sha256(before: str, written: str) -> str:
    """Hash an entry with the hash of the one before it.

    Examples
    --------
    >>> chained_sha256(BEFORE_THE_FIRST, "{}")[:8]
    '5649d09e'
    """
    return hashlib.sha256(f"{before}\n{written}".encode()).hexdigest()


def written_entry(number: int, reference: str, body: Body, by: Person, made_at: datetime) -> str:
    """Write an entry so that the same entry always gives the same text."""
    told: dict[str, Any] = {
        "number": number,
        "build": reference,
        "body": body.model_dump(mode="json"),
        "by": by.model_dump(mode="json"),
        "made_at": made_at.astimezone(UTC).isoformat(),
    }
    return json.dumps(told, sort_keys=True, ensure_ascii=False, separators=(",", ":"))


def _add(
    session: Session, build: tuple[int, str], bodies: Sequence[Body], by: Person, now: datetime
) -> tuple[Entry, ...]:
    build_id, reference = build
    last = _last_entry(session)
    number, before = last.number, last.sha256
    entries = []
    for body in bodies:
        number += 1
        written = written_entry(number, reference, body, by, now)
        before = chained_sha256(before, written)
        session.add(
            EntryRow(
                number=number,
                build_id=build_id,
                kind=body.kind,
                slot=slot_of(body),
                written=written,
                sha256=before,
            )
        )
        entries.append(Entry(number, body, by, now, before))
    last.number, last.sha256 = number, before
    session.flush()
    return tuple(entries)


def _last_entry(session: Session) -> LastEntryRow:
    noted = session.get(LastEntryRow, 1)
    number = session.scalar(select(func.max(EntryRow.number))) or 0
    found = session.get(EntryRow, number)
    sha256 = BEFORE_THE_FIRST if found is None else found.sha256
    if noted is None or (number, sha256) != (noted.number, noted.sha256):
        raise RecordError([_cut(number)])
    return noted


def _life(session: Session, build_id: int) -> Life:
    rows = session.scalars(select(EntryRow).filter_by(build_id=build_id).order_by(EntryRow.number))
    return Life(tuple(entry_of(row) for row in rows))


def entry_of(row: EntryRow) -> Entry:
    """Read an entry from its row."""
    told = json.loads(row.written)
    return Entry(
        number=row.number,
        body=BODY.validate_python(told["body"]),
        by=Person.model_validate(told["by"]),
        made_at=datetime.fromisoformat(told["made_at"]),
        sha256=row.sha256,
    )


def _build_id(session: Session, reference: str, where: str) -> int:
    build_id = session.scalar(select(BuildRow.id).where(BuildRow.reference == reference))
    if build_id is None:
        raise RecordError([missing_build(reference, where)])
    return build_id


def _cut(number: int) -> Fault:
    return Fault(
        "R016",
        f"the book, entry {number}",
        "the book does not end with the entry that was written last; nothing is added to it",
        "Run `configurator verify`, keep the record as it is for evidence, and restore a backup.",
    )


def _overtaken(reference: str) -> Fault:
    return Fault(
        "R013",
        reference,
        "somebody else did this a moment before; nothing was written",
        "Look at the build as it is now.",
    )
