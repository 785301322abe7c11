from collections.abc import Callable
from datetime import datetime, timedelta
from hashlib import sha256

import pytest

from configurator.errors import DocumentError
from configurator.workflow.consultation import pick_option, set_house_choices
from configurator.workflow.papers import (
    list_documents,
    make_handover_pack,
    make_spec_sheet,
    spec_of_draft,
)
from configurator.workflow.premises import Premises


def test_a_spec_sheet_is_stored_under_the_name_of_its_spec(
    premises: Premises, reference: str, now: datetime
) -> None:
    sheet = make_spec_sheet(premises, reference, now)
    spec = spec_of_draft(premises, reference)
    assert f"B-0001-spec-sheet-{spec.sha256()[:8]}.pdf" == sheet.name
    assert premises.data_folder / "documents" / "B-0001" / sheet.name == sheet.path
    assert sha256(sheet.path.read_bytes()).hexdigest() == sheet.sha256
    assert (spec.sha256(), "spec-sheet", now) == (sheet.spec_sha256, sheet.kind, sheet.made_at)
    assert (sheet,) == list_documents(premises, reference)


def test_the_same_spec_made_twice_is_the_same_document(
    premises: Premises, reference: str, now: datetime
) -> None:
    first = make_spec_sheet(premises, reference, now)
    assert first == make_spec_sheet(premises, reference, now + timedelta(days=1))
    assert (first,) == list_documents(premises, reference)


def test_another_spec_is_another_document_and_the_first_stays(
    premises: Premises, reference: str, now: datetime
) -> None:
    first = make_spec_sheet(premises, reference, now)
    pick_option(premises, reference, revision=1, group_id="livery", option_id="nettle", now=now)
    second = make_spec_sheet(premises, reference, now + timedelta(minutes=1))
    assert first.name != second.name
    assert (second, first) == list_documents(premises, reference)
    assert first.content != second.content


def test_a_handover_pack_waits_until_all_is_chosen(
    premises: Premises, reference: str, now: datetime
) -> None:
    with pytest.raises(DocumentError):
        make_handover_pack(premises, reference, now)
    assert () == list_documents(premises, reference)
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    pack = make_handover_pack(premises, reference, now)
    assert pack.content.startswith(b"%PDF")
    assert (pack,) == list_documents(premises, reference)


def test_a_document_that_was_altered_is_told_kept_and_made_again_beside_it(
    premises: Premises, reference: str, now: datetime
) -> None:
    sheet = make_spec_sheet(premises, reference, now)
    made = sheet.content
    sheet.path.write_bytes(b"altered")
    with pytest.raises(DocumentError, match="was altered") as caught:
        _ = sheet.content
    assert ["P010"] == [fault.code for fault in caught.value.faults]
    again = make_spec_sheet(premises, reference, now + timedelta(days=1))
    assert b"altered" == sheet.path.read_bytes()
    assert (f"{sheet.path.stem}-2.pdf", made) == (again.name, again.content)
    assert again == make_spec_sheet(premises, reference, now + timedelta(days=2))


def test_a_document_that_is_missing_is_made_again_under_its_name(
    premises: Premises, reference: str, now: datetime
) -> None:
    sheet = make_spec_sheet(premises, reference, now)
    sheet.path.unlink()
    with pytest.raises(DocumentError, match="cannot be read"):
        _ = sheet.content
    assert sheet == make_spec_sheet(premises, reference, now + timedelta(days=1))
    assert sheet.content.startswith(b"%PDF")


def test_a_file_in_place_of_the_documents_folder_is_told(
    premises: Premises, reference: str, now: datetime
) -> None:
    (premises.data_folder / "documents").write_text("not a folder")
    with pytest.raises(DocumentError) as caught:
        make_spec_sheet(premises, reference, now)
    assert ["P009"] == [fault.code for fault in caught.value.faults]
    assert () == list_documents(premises, reference)


@pytest.mark.parametrize("name", ["x" * 200, "<b>&amp;</b> <para>", "**a** ](b)", "Ζωή 小林 مريم"])
def test_any_name_can_be_printed(
    premises: Premises, enquiry: Callable[..., str], now: datetime, name: str
) -> None:
    reference = enquiry(name=name, notes=name)
    assert make_spec_sheet(premises, reference, now).content.startswith(b"%PDF")
