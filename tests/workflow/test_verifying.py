"""What is stored beside the record is verified with it, and a PDF against it."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

from configurator.build_life.entries import SpecIssued
from configurator.build_life.people import Person
from configurator.errors import RecordError
from configurator.record.book import read_life
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import set_house_choices
from configurator.workflow.issuing import freeze
from configurator.workflow.papers import (
    make_handover_pack,
    make_spec_sheet,
    spec_of_draft,
)
from configurator.workflow.premises import Premises, open_kept_record
from configurator.workflow.stored_document import StoredDocument
from configurator.workflow.verifying import verify_all, verify_pdf

ENGINEER = Person(name="Invented Engineer", role="engineer")


@pytest.fixture
def pack(premises: Premises, reference: str, now: datetime) -> StoredDocument:
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    return make_handover_pack(premises, reference, now)


def issue(premises: Premises, reference: str, now: datetime) -> SpecIssued:
    findings = spec_of_draft(premises, reference).findings
    return freeze(
        premises,
        reference,
        revision=read_draft(premises, reference).revision,
        answers={(f.code, f.subject): "Seen" for f in findings if f.severity == "warns"},
        by=ENGINEER,
        now=now,
    )


def found(premises: Premises, **given: str) -> list[tuple[str, str]]:
    verified = verify_all(premises.record, premises.data_folder, **given)
    return [(fault.code, fault.where) for fault in verified.faults]


def test_a_whole_record_with_its_files_has_no_flaw(
    premises: Premises, reference: str, pack: StoredDocument, now: datetime
) -> None:
    make_spec_sheet(premises, reference, now)
    issue(premises, reference, now)
    verified = verify_all(premises.record, premises.data_folder)
    assert () == verified.faults
    assert () == verified.unnoted
    assert 2 == verified.counts["files"]
    assert (1, read_life(premises.record, reference).entries[-1].sha256) == (
        verified.last_number,
        verified.last_sha256,
    )


def test_one_altered_byte_anywhere_in_a_stored_file_is_found_and_named(
    premises: Premises, pack: StoredDocument
) -> None:
    intact = pack.content
    for place in (0, len(intact) // 2, len(intact) - 1):
        altered = intact[:place] + bytes([intact[place] ^ 1]) + intact[place + 1 :]
        pack.path.write_bytes(altered)
        ((code, where),) = found(premises)
        assert "P010" == code
        assert str(pack.path) in where
        assert "B-0001, table documents, row 1" in where
    pack.path.write_bytes(intact)
    assert [] == found(premises)


def test_a_missing_file_is_found_and_an_unknown_one_is_noted(
    premises: Premises, pack: StoredDocument
) -> None:
    stray = pack.path.with_name("left-over.pdf")
    pack.path.rename(stray)
    assert ["P010"] == [code for code, _ in found(premises)]
    assert (stray,) == verify_all(premises.record, premises.data_folder).unnoted


def test_a_pdf_with_an_issued_spec_inside_is_proved(
    premises: Premises, reference: str, pack: StoredDocument, now: datetime, tmp_path: Path
) -> None:
    issued = issue(premises, reference, now)
    copy = tmp_path / "from elsewhere.pdf"
    copy.write_bytes(pack.content)
    proof = verify_pdf(premises.record, copy)
    assert () == proof.faults
    assert f"The spec inside it is spec A of build {reference}, SHA-256 {issued.spec_sha256}." in (
        proof.lines
    )


def test_a_pdf_of_a_draft_is_not_taken_for_an_issued_one(
    premises: Premises, pack: StoredDocument
) -> None:
    proof = verify_pdf(premises.record, pack.path)
    assert ["P042"] == [fault.code for fault in proof.faults]
    assert any("byte for byte" in line for line in proof.lines)


def test_an_altered_pdf_is_told(
    premises: Premises, reference: str, pack: StoredDocument, now: datetime, tmp_path: Path
) -> None:
    issue(premises, reference, now)
    altered = tmp_path / "altered.pdf"
    altered.write_bytes(pack.content + b"\n")
    assert ["P041"] == [fault.code for fault in verify_pdf(premises.record, altered).faults]
    missing = verify_pdf(premises.record, tmp_path / "missing.pdf")
    assert ["P041"] == [fault.code for fault in missing.faults]


def test_a_sheet_without_a_spec_inside_is_proved_by_its_bytes(
    premises: Premises, reference: str, now: datetime
) -> None:
    sheet = make_spec_sheet(premises, reference, now)
    proof = verify_pdf(premises.record, sheet.path)
    assert () == proof.faults
    assert "No spec is embedded" in proof.lines[-1]


def test_an_entry_noted_earlier_is_still_in_the_book(
    premises: Premises, reference: str, now: datetime
) -> None:
    issue(premises, reference, now)
    sha256 = read_life(premises.record, reference).entries[0].sha256
    assert [] == found(premises, holds=sha256[:12])
    assert [("P040", "the book")] == found(premises, holds="0" * 12)


def test_no_record_is_made_where_there_is_none(tmp_path: Path) -> None:
    with pytest.raises(RecordError) as refused:
        open_kept_record(tmp_path / "nothing")
    assert ["P043"] == [fault.code for fault in refused.value.faults]
    assert not (tmp_path / "nothing").exists()
