"""Walk through the book: every entry numbered, bound to the one before, and what it says it is."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime

import sqlalchemy as sa
from pydantic import ValidationError

from configurator.build_life.entries import (
    BODY,
    Body,
    Erased,
    PackIssued,
    SpecIssued,
)
from configurator.build_life.once import slot_of
from configurator.build_life.people import Person
from configurator.errors import Fault
from configurator.record.book import BEFORE_THE_FIRST, chained_sha256
from configurator.record.seals import raw_rows
from configurator.record.tables import EntryRow, LastEntryRow
from configurator.record.verify_rows import COMPARE, RawRow, placed

SPEC, CATALOG, DOCUMENT = "spec", "catalog", "document"


@dataclass(frozen=True)
class Pointer:
    """A hash that an entry names."""

    where: str
    to: str
    sha256: str


@dataclass
class BookWalk:
    """What was met on the way."""

    faults: list[Fault] = field(default_factory=list)
    pointers: list[Pointer] = field(default_factory=list)
    erased: set[str] = field(default_factory=set)
    issued: dict[str, tuple[str, str]] = field(default_factory=dict)
    hashes: set[str] = field(default_factory=set)
    counted: int = 0
    last_number: int = 0
    last_sha256: str = BEFORE_THE_FIRST
    computed_sha256: str = BEFORE_THE_FIRST
    """What the last entry's hash would have to be."""


def walk_book(connection: sa.Connection, references: Mapping[int, str]) -> BookWalk:
    """Read the entries in order.

    Parameters
    ----------
    connection : Connection
        In a transaction.
    references : mapping
        Id of a build → its reference.
    """
    walk = BookWalk()
    for row in _rows(connection, EntryRow):
        _pass(walk, row, references)
    walk.faults += _end_faults(connection, walk)
    return walk


def _pass(walk: BookWalk, row: RawRow, references: Mapping[int, str]) -> None:
    number, sha256 = row.number("number") or 0, row.text("sha256")
    reference = references.get(row.number("build_id") or 0, "an unknown build")
    where = placed("entries", row.key, reference)
    written = row.text("written")
    computed = chained_sha256(walk.last_sha256, written)
    if number != walk.last_number + 1:
        lost = f"{walk.last_number + 1} to {number - 1}"
        what = f"the book has a gap before it: entries {lost} are missing"
        walk.faults.append(Fault("R015", where, what, COMPARE))
    elif sha256 not in {computed, chained_sha256(walk.computed_sha256, written)}:
        what = "the entry or its hash was altered: it does not follow from the one before"
        walk.faults.append(Fault("R015", where, what, COMPARE))
    for what in _contradictions(walk, row, where, reference):
        walk.faults.append(Fault("R015", where, what, COMPARE))
    walk.counted += 1
    walk.hashes.add(sha256)
    walk.last_number, walk.last_sha256, walk.computed_sha256 = number, sha256, computed


def _contradictions(walk: BookWalk, row: RawRow, where: str, reference: str) -> Iterator[str]:
    """Compare the columns with what is written, and note what the entry points to."""
    try:
        told = json.loads(row.values["written"] or b"")
        body = BODY.validate_python(told["body"])
        Person.model_validate(told["by"])
        datetime.fromisoformat(told["made_at"])
        said = {
            "number": str(told["number"]),
            "build": told["build"],
            "kind": body.kind,
            "slot": slot_of(body),
        }
    except (ValueError, KeyError, TypeError, ValidationError):
        yield "what is written does not read as an entry of the book"
        return
    slot = None if row.values["slot"] is None else row.text("slot")
    kept = {"number": row.key, "build": reference, "kind": row.text("kind"), "slot": slot}
    for name, value in kept.items():
        if said[name] != value:
            yield f"its {name} is “{value}”, but “{said[name]}” is written in it"
    _note(walk, body, where, reference)


def _note(walk: BookWalk, body: Body, where: str, reference: str) -> None:
    for name, to in (
        ("spec_sha256", SPEC),
        ("from_sha256", SPEC),
        ("to_sha256", SPEC),
        ("catalog_sha256", CATALOG),
        ("document_sha256", DOCUMENT),
    ):
        if (sha256 := getattr(body, name, None)) is not None:
            walk.pointers.append(Pointer(where, to, sha256))
    if isinstance(body, SpecIssued):
        walk.issued[body.spec_sha256] = (reference, f"spec {body.letter}")
    elif isinstance(body, PackIssued):
        words = f"spec {body.letter} as built, handover pack revision {body.revision}"
        walk.issued[body.spec_sha256] = (reference, words)
    elif isinstance(body, Erased):
        walk.erased |= set(body.contents)
        walk.pointers += [
            Pointer(where, SPEC, sha256) for sha256 in body.contents.values() if sha256
        ]


def _end_faults(connection: sa.Connection, walk: BookWalk) -> Iterator[Fault]:
    noted = list(_rows(connection, LastEntryRow))
    if [row.key for row in noted] != ["1"]:
        what = (
            f"it holds {len(noted)} rows; it must hold row 1 alone, which says where the book ends"
        )
        yield Fault("R016", "table last_entry", what, COMPARE)
        return
    number, sha256 = noted[0].number("number"), noted[0].text("sha256")
    if (number, sha256) == (walk.last_number, walk.last_sha256):
        return
    what = f"the book ended with entry {number} ({sha256[:12]}) when it was written last"
    if number is not None and number > walk.last_number:
        lost = f"entries {walk.last_number + 1} to {number} were cut off"
        what = f"{what}, and now ends with {walk.last_number}: {lost}"
    else:
        what = f"{what}, and now ends with {walk.last_number} ({walk.last_sha256[:12]})"
    yield Fault("R016", placed("last_entry", "1"), what, COMPARE)


def _rows(connection: sa.Connection, kind: type[EntryRow | LastEntryRow]) -> Iterator[RawRow]:
    table = kind.metadata.tables[kind.__tablename__]
    key = next(iter(table.primary_key.columns)).name
    for raw in raw_rows(connection, table.name, tuple(table.columns), key):
        yield RawRow(table.name, key, raw)
