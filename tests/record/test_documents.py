from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from configurator.catalog.models.build import BuildInput
from configurator.errors import RecordError
from configurator.record.database import Record
from configurator.record.documents import DocumentEntry, add_document, list_entries
from configurator.record.new_builds import add_build


@pytest.fixture
def entry(now: datetime) -> DocumentEntry:
    return DocumentEntry("spec-sheet", "B-0001-spec-sheet-11111111.pdf", "a" * 64, "1" * 64, now)


def test_documents_are_listed_last_made_first(
    record: Record, new_build: Callable[..., BuildInput], entry: DocumentEntry
) -> None:
    add_build(record, new_build(), now=entry.made_at)
    later = replace(entry, name="other.pdf", made_at=entry.made_at + timedelta(hours=1))
    for one in (entry, later):
        add_document(record, "B-0001", one)
    assert (later, entry) == list_entries(record, "B-0001")


def test_the_same_document_is_noted_once(
    record: Record, new_build: Callable[..., BuildInput], entry: DocumentEntry
) -> None:
    add_build(record, new_build(), now=entry.made_at)
    add_document(record, "B-0001", entry)
    again = replace(entry, made_at=entry.made_at + timedelta(hours=1))
    assert entry == add_document(record, "B-0001", again)
    assert (entry,) == list_entries(record, "B-0001")


def test_one_name_never_stands_for_two_contents(
    record: Record, new_build: Callable[..., BuildInput], entry: DocumentEntry
) -> None:
    add_build(record, new_build(), now=entry.made_at)
    add_document(record, "B-0001", entry)
    with pytest.raises(RecordError):
        add_document(record, "B-0001", replace(entry, sha256="b" * 64))
    assert (entry,) == list_entries(record, "B-0001")


def test_a_document_of_an_unknown_build_is_refused(record: Record, entry: DocumentEntry) -> None:
    with pytest.raises(RecordError, match='no build "B-0001"'):
        add_document(record, "B-0001", entry)
