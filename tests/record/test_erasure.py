"""A customer's words leave every table; what was built, promised and signed stays provable."""

from __future__ import annotations

import hashlib
import json
import zlib
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from sqlalchemy import select, text

from configurator.build_life.entries import Erased, SpecIssued
from configurator.build_life.people import Person
from configurator.catalog.models.build import BuildInput, Customer
from configurator.errors import RecordError
from configurator.record.book import ToKeep, read_life, write_entries
from configurator.record.changes import Change, Step
from configurator.record.contents import find_content
from configurator.record.database import Record
from configurator.record.drafts import find_draft, save_draft
from configurator.record.erasure import clear_free_pages, erase_customer
from configurator.record.new_builds import add_build
from configurator.record.tables import BuildRow, ChangeRow, DocumentRow, DraftRow, EntryRow
from configurator.record.verify import verify_record

MANAGER = Person(name="Invented Manager", role="manager")
NAME, CONTACT = "Zebedee Sample-Quill", "the blue door, Saltings"


@pytest.fixture
def reference(record: Record, new_build: Callable[..., BuildInput], now: datetime) -> str:
    customer = Customer(name=NAME, contact=CONTACT)
    build = new_build(customer=customer, notes=f"{NAME} likes tea", donor={"description": "Barn"})
    reference = add_build(record, build, now=now).reference
    draft = find_draft(record, reference).build()
    steps = (Step("notes", None, draft.notes, f"Ring {NAME} on Friday"),)
    changed = draft.model_copy(update={"notes": f"Ring {NAME} on Friday"})
    save_draft(record, changed, Change(2, "day", steps, None, now), lambda _: "")
    spec = json.dumps(
        {"build": draft.model_dump(mode="json"), "findings": [f"{NAME.upper()}’s van is heavy"]}
    ).encode()
    (kept,) = (ToKeep("spec", spec),)
    body = SpecIssued(
        letter="A",
        spec_sha256=hashlib.sha256(spec).hexdigest(),
        catalog_sha256="0" * 64,
        revision=2,
        section_sha256={},
        total_gbp="1.00",
    )
    write_entries(record, reference, [body], by=MANAGER, now=now, keep=[kept])
    return reference


def everything(record: Record) -> str:
    """Read every value of every table, contents unpacked."""
    told = []
    with record.engine.connect() as connection:
        for table in (BuildRow, DraftRow, ChangeRow, DocumentRow, EntryRow):
            told += [str(row) for row in connection.execute(select(table.__table__))]
        for (content,) in connection.execute(text("SELECT content FROM contents")):
            told.append(zlib.decompress(bytes(content)).decode())
    return "\n".join(told)


def test_no_word_of_the_person_is_left_in_any_table(
    record: Record, reference: str, now: datetime
) -> None:
    assert NAME in everything(record)
    erase_customer(record, reference, because="asked for in writing", by=MANAGER, now=now)
    left = everything(record).casefold()
    assert NAME.casefold() not in left
    assert CONTACT.casefold() not in left
    assert "barn" in left, "what is technical stays"


def test_the_chain_holds_and_says_what_stands_in_the_place_of_what(
    record: Record, reference: str, now: datetime
) -> None:
    issued = read_life(record, reference).issued
    assert issued is not None
    erase_customer(record, reference, because="asked for in writing", by=MANAGER, now=now)
    life = read_life(record, reference)
    assert issued == life.issued
    (erased,) = life.of(Erased)
    after = life.kept_under(issued.spec_sha256)
    assert after is not None
    assert after == erased.contents[issued.spec_sha256]
    assert b"(removed)" in find_content(record, after)
    with pytest.raises(RecordError):
        find_content(record, issued.spec_sha256)
    faults = [fault for fault in verify_record(record).faults if "catalog" not in fault.what]
    assert [] == faults


def test_erasing_twice_changes_nothing_more(record: Record, reference: str, now: datetime) -> None:
    erase_customer(record, reference, because="asked for in writing", by=MANAGER, now=now)
    erase_customer(record, reference, because="asked again", by=MANAGER, now=now)
    issued = read_life(record, reference).issued
    assert issued is not None
    kept = read_life(record, reference).kept_under(issued.spec_sha256)
    assert kept is not None
    assert find_content(record, kept)


def test_the_database_still_refuses_to_rewrite_changes_afterwards(
    record: Record, reference: str, now: datetime
) -> None:
    erase_customer(record, reference, because="asked for in writing", by=MANAGER, now=now)
    from sqlalchemy.exc import DBAPIError

    with pytest.raises(DBAPIError, match="only ever added"), record.engine.begin() as connection:
        connection.execute(text("UPDATE changes SET kind = 'x'"))


def test_another_build_of_the_record_is_left_as_it_is(
    record: Record, reference: str, new_build: Callable[..., BuildInput], now: datetime
) -> None:
    other = add_build(record, new_build(customer=Customer(name="Somebody Else")), now=now).reference
    erase_customer(record, reference, because="asked for in writing", by=MANAGER, now=now)
    assert "Somebody Else" == find_draft(record, other).build().customer.name


def test_nothing_is_left_in_the_files_of_the_database(
    record: Record, reference: str, now: datetime
) -> None:
    if record.engine.dialect.name != "sqlite":
        return
    erase_customer(record, reference, because="asked for in writing", by=MANAGER, now=now)
    clear_free_pages(record)
    for path in Path(record.where).parent.iterdir():
        assert NAME.encode() not in path.read_bytes(), path.name
