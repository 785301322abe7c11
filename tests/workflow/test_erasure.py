"""A customer gets all that is kept of them, and can be forgotten; old enquiries are listed."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable
from dataclasses import asdict
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import text

from configurator.build_life.people import Person
from configurator.catalog.models.build import Customer, Donor
from configurator.errors import DocumentError, LifeError, RecordError
from configurator.record.changes import list_changes
from configurator.record.database import reading
from configurator.workflow.builds import list_builds, read_draft, start_enquiry
from configurator.workflow.consultation import set_house_choices, undo_last_change
from configurator.workflow.erasure import (
    customers_data,
    erase_customers_data,
    past_retention,
)
from configurator.workflow.issuing import issued_spec
from configurator.workflow.papers import (
    documents_folder,
    list_documents,
    make_spec_sheet,
    spec_of_draft,
)
from configurator.workflow.premises import Premises, open_premises
from configurator.workflow.quotations import accept_quotation, give_quotation
from configurator.workflow.survey import set_donors, set_verdict
from configurator.workflow.verifying import verify_all
from configurator.workflow.waiting import what_waits

MANAGER = Person(name="Invented Manager", role="manager")
ENGINEER = Person(name="Invented Engineer", role="engineer")
NAME = "Zebedee Sample-Quill"


@pytest.fixture
def ordered(premises: Premises, enquiry: Callable[..., str], now: datetime) -> str:
    reference = enquiry(name=NAME, notes=f"{NAME} likes tea")
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    give_quotation(premises, reference, revision=2, by=MANAGER, now=now)
    findings = spec_of_draft(premises, reference).findings
    accept_quotation(
        premises,
        reference,
        1,
        how="On paper",
        accepted_on=now.date(),
        answers={(f.code, f.subject): "Seen" for f in findings if f.severity == "warns"},
        by=ENGINEER,
        now=now,
    )
    return reference


def erase(premises: Premises, reference: str, now: datetime) -> tuple[str, ...]:
    return erase_customers_data(
        premises, reference, because="Asked for in writing", by=MANAGER, now=now
    )


def test_a_customer_is_given_everything_that_is_kept(premises: Premises, ordered: str) -> None:
    bundle = zipfile.ZipFile(io.BytesIO(customers_data(premises, ordered)))
    names = set(bundle.namelist())
    assert {"draft.json", "changes.json", "book.json"} <= names
    assert any(name.startswith("documents/") for name in names)
    spec = next(name for name in names if name.startswith("specs/"))
    assert NAME == json.loads(bundle.read(spec))["build"]["customer"]["name"]


def test_the_technical_record_stays_with_the_name_removed(
    premises: Premises, ordered: str, now: datetime
) -> None:
    before = issued_spec(premises, ordered)
    deleted = erase(premises, ordered, now)
    after = issued_spec(premises, ordered)
    assert "(removed)" == after.build.customer.name
    assert before.choices == after.choices
    assert before.price == after.price
    assert NAME not in after.canonical_json()
    assert deleted
    assert not any(document.path.exists() for document in list_documents(premises, ordered))
    assert "(removed)" == list_builds(premises)[0].customer_name
    assert what_waits(premises, now.date())[0].waiting, "the work goes on"
    assert NAME.encode() not in customers_data(premises, ordered)


def test_a_name_leaves_what_is_known_of_the_donors_and_the_survey(
    premises: Premises, enquiry: Callable[..., str], now: datetime
) -> None:
    reference = enquiry(name=NAME)
    second = {"description": f"From {NAME}’s barn", "identity_mark": "Quill Sample-Quill 2"}
    set_donors(premises, reference, revision=1, donor={}, second_donor=second, now=now)
    line = {
        "verdict": "keep",
        "from_second_donor": True,
        "origin": f"bought by {NAME}",
        "note": f"{NAME.split()[1]} saw it",
    }
    set_verdict(premises, reference, "rear-doors", revision=2, line=line, now=now)
    gone = {"description": "Front crushed"}
    set_donors(premises, reference, revision=3, donor={}, second_donor=gone, now=now)
    erase(premises, reference, now)
    kept = read_draft(premises, reference).build
    changes = [asdict(change) for change in list_changes(premises.record, reference)]
    for name in NAME.split():
        assert name not in kept.model_dump_json()
        assert name not in json.dumps(changes, default=str, ensure_ascii=False)
    assert kept.second_donor is not None
    assert "Front crushed" == kept.second_donor.description
    assert "From the second donor. Bought by (removed)" == (
        spec_of_draft(premises, reference).survey[0].origin
    )


def test_a_file_that_came_back_after_its_customer_was_erased_is_found(
    premises: Premises, ordered: str, now: datetime
) -> None:
    (paper, *_) = list_documents(premises, ordered)
    content = paper.content
    erase(premises, ordered, now)
    assert () == verify_all(premises.record, premises.data_folder).faults
    paper.path.write_bytes(content)
    (fault,) = verify_all(premises.record, premises.data_folder).faults
    assert "P113" == fault.code
    assert paper.name in fault.where


def test_what_was_erased_is_not_undone(premises: Premises, ordered: str, now: datetime) -> None:
    erase(premises, ordered, now)
    draft = read_draft(premises, ordered)
    undone = undo_last_change(premises, ordered, revision=draft.revision, now=now)
    assert "(removed)" == undone.build.customer.name


def test_a_manager_erases_and_says_why(premises: Premises, ordered: str, now: datetime) -> None:
    with pytest.raises(LifeError) as refused:
        erase_customers_data(premises, ordered, because=" ", by=ENGINEER, now=now)
    assert ["P110", "P130"] == sorted(fault.code for fault in refused.value.faults)
    assert NAME == read_draft(premises, ordered).build.customer.name


def test_old_enquiries_are_listed_and_never_removed_by_themselves(
    premises: Premises, ordered: str, enquiry: Callable[..., str], now: datetime
) -> None:
    idle = enquiry(name="Somebody Idle")
    assert () == past_retention(premises, (now + timedelta(days=364)).date())
    listed = past_retention(premises, (now + timedelta(days=366)).date())
    assert [idle] == [one.reference for one in listed], "an order is no enquiry"
    erase(premises, idle, now)
    assert () == past_retention(premises, (now + timedelta(days=366)).date())
    assert 2 == len(list_builds(premises))


def test_a_document_whose_entry_was_refused_is_deleted_too(
    premises: Premises, ordered: str, now: datetime
) -> None:
    orphan = documents_folder(premises, ordered) / f"{ordered}-quotation-Q2.pdf"
    orphan.write_bytes(f"%PDF for {NAME}".encode())
    assert orphan.name in erase(premises, ordered, now)
    assert not orphan.exists()


def test_a_document_that_cannot_be_deleted_is_told_and_goes_the_next_time(
    premises: Premises, ordered: str, now: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_path: Path, *, missing_ok: bool = False) -> None:
        raise PermissionError(13, f"Permission denied {missing_ok}")

    with monkeypatch.context() as locked:
        locked.setattr(Path, "unlink", refuse)
        with pytest.raises(DocumentError) as told:
            erase(premises, ordered, now)
    assert ["P113"] == [fault.code for fault in told.value.faults]
    assert "(removed)" == read_draft(premises, ordered).build.customer.name
    assert erase(premises, ordered, now)
    assert not any(document.path.exists() for document in list_documents(premises, ordered))


@pytest.mark.parametrize("name", ["Keep", "House", "Customer", "front", "the", ".*", "Ann"])
def test_an_order_of_somebody_called_like_a_common_word_can_be_read_and_goes_on(
    premises: Premises, enquiry: Callable[..., str], now: datetime, name: str
) -> None:
    reference = enquiry(name=name, notes=f"{name} likes tea")
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    give_quotation(premises, reference, revision=2, by=MANAGER, now=now)
    erase(premises, reference, now)
    findings = spec_of_draft(premises, reference).findings
    accept_quotation(
        premises,
        reference,
        1,
        how="On paper",
        accepted_on=now.date(),
        answers={(f.code, f.subject): "Seen" for f in findings if f.severity == "warns"},
        by=ENGINEER,
        now=now,
    )
    assert spec_of_draft(premises, reference) == issued_spec(premises, reference)


def test_a_name_that_somebody_still_reads_is_erased_and_its_page_is_told(
    catalog_folder: Path, data_folder: Path, now: datetime, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("configurator.record.database.BUSY_SECONDS", 0.2)
    premises = open_premises(catalog_folder, data_folder)
    customer = Customer(name=NAME)
    reference = start_enquiry(
        premises, customer=customer, vehicle_id="clover-van", donor=Donor(), notes="", now=now
    )
    paper = make_spec_sheet(premises, reference, now)
    with reading(premises.record) as session:
        session.execute(text("SELECT * FROM drafts")).all()
        with pytest.raises(RecordError) as told:
            erase(premises, reference, now)
    assert ["R024"] == [fault.code for fault in told.value.faults]
    assert "(removed)" == read_draft(premises, reference).build.customer.name
    assert not paper.path.exists()
    erase(premises, reference, now)
    for path in data_folder.rglob("*"):
        assert path.is_dir() or NAME.encode() not in path.read_bytes(), path.name
    premises.record.engine.dispose()
