"""Go through the whole record, in one moment of it, and name every row that is not as it was."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

import sqlalchemy as sa

from configurator.errors import Fault
from configurator.record.database import Record, snapshot
from configurator.record.faults import said_plainly
from configurator.record.seals import SEAL, raw_rows, seal_of, sealed_columns
from configurator.record.tables import Table
from configurator.record.verify_book import BookWalk, walk_book
from configurator.record.verify_contents import contents_by_hash, pointer_faults
from configurator.record.verify_guards import guard_faults
from configurator.record.verify_rows import Found, RawRow, altered, belonging_faults

Tell = Callable[[str], None]
READ_FIRST = tuple(
    table.name
    for table in Table.metadata.sorted_tables
    if SEAL in table.columns and table.name != "contents"
)
"""What a row points to comes before it."""


@dataclass(frozen=True)
class NotedDocument:
    """A document as the record has it; its file is looked at elsewhere."""

    row: str
    reference: str
    kind: str
    name: str
    sha256: str
    spec_sha256: str


@dataclass(frozen=True)
class Verified:
    """What the record was found to be."""

    faults: tuple[Fault, ...]
    counts: Mapping[str, int]
    """Table → rows."""
    documents: tuple[NotedDocument, ...]
    erased: frozenset[str]
    """Hashes that an entry names as erased."""
    issued: Mapping[str, tuple[str, str]]
    """Hash of an issued spec → build, and its letter or the pack's revision in words."""
    entry_hashes: frozenset[str]
    last_number: int
    last_sha256: str


def verify_record(record: Record, tell: Tell = lambda _step: None) -> Verified:
    """Read every row, recompute every seal and hash, and follow every pointer.

    Parameters
    ----------
    record : Record
        The open record; others may go on working with it.
    tell : callable
        Told of each step.

    Returns
    -------
    Verified
        With every flaw as a fault that names table, row and build.

    Raises
    ------
    RecordError
        If the database cannot be read any further.
    """
    with said_plainly(record.where), snapshot(record) as connection:
        return verify_within(connection, record.where, tell)


def verify_within(connection: sa.Connection, where: str, tell: Tell) -> Verified:
    """Verify the record as one transaction sees it."""
    faults: list[Fault] = []
    tell("Looking at the database file")
    faults += [*_damage(connection, where), *guard_faults(connection)]
    found = Found()
    counts: dict[str, int] = {}
    for table in READ_FIRST:
        tell(f"Reading {table}")
        counts[table] = 0
        for row in _sealed_rows(connection, table, faults, found):
            found.take(row)
            counts[table] += 1
    tell("Reading contents")
    kept = contents_by_hash(_sealed_rows(connection, "contents", faults, found), faults)
    counts["contents"] = len(kept)
    tell("Walking through the book")
    walk = walk_book(connection, found.references)
    counts["entries"] = walk.counted
    faults += [*walk.faults, *belonging_faults(found)]
    faults += pointer_faults(walk.pointers, kept, found.document_hashes, walk.erased)
    return _verified(faults, counts, found, walk)


def _verified(
    faults: list[Fault], counts: dict[str, int], found: Found, walk: BookWalk
) -> Verified:
    documents = tuple(
        NotedDocument(
            row.key,
            found.name_of(row),
            row.text("kind"),
            row.text("name"),
            row.text("sha256"),
            row.text("spec_sha256"),
        )
        for row in found.documents
    )
    return Verified(
        faults=tuple(faults),
        counts=counts,
        documents=documents,
        erased=frozenset(walk.erased),
        issued=walk.issued,
        entry_hashes=frozenset(walk.hashes),
        last_number=walk.last_number,
        last_sha256=walk.last_sha256,
    )


def _sealed_rows(
    connection: sa.Connection, name: str, faults: list[Fault], found: Found
) -> Iterator[RawRow]:
    table = Table.metadata.tables[name]
    columns = tuple(table.columns)
    key = next(iter(table.primary_key.columns)).name
    sealed = [column.name for column in sealed_columns(table)]
    for raw in raw_rows(connection, name, columns, key):
        row = RawRow(name, key, raw)
        if raw[SEAL] != seal_of(name, {column: raw[column] for column in sealed}).encode():
            faults.append(altered(row, found.name_of(row)))
        yield row


def _damage(connection: sa.Connection, where: str) -> list[Fault]:
    if connection.dialect.name != "sqlite":
        return []
    try:
        said = [str(row[0]) for row in connection.exec_driver_sql("PRAGMA integrity_check(20)")]
    except sa.exc.DatabaseError as error:
        said = [str(error.orig)]
    remedy = "Keep the file for evidence, and put your last backup in its place with `restore`."
    return [
        Fault("R002", where, f"the database file is damaged: {line}", remedy)
        for line in said
        if line != "ok"
    ]
