"""Nothing that was begun before a customer was erased puts the name back, on both databases."""

from __future__ import annotations

import zlib
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime, timedelta
from types import ModuleType
from typing import Any

import pytest
from sqlalchemy import select

from configurator.catalog.models.build import Customer, Donor
from configurator.errors import ConfiguratorError, ErasedMeanwhileError, LifeError
from configurator.record.book import read_life
from configurator.record.tables import ContentRow, Table
from configurator.workflow import change_orders, handover, issuing, papers, quotations
from configurator.workflow.builds import read_draft, start_enquiry
from configurator.workflow.change_orders import propose_change
from configurator.workflow.consultation import pick_option, set_house_choices
from configurator.workflow.erasure import erase_customers_data
from configurator.workflow.handover import issue_pack
from configurator.workflow.papers import documents_folder, make_spec_sheet
from configurator.workflow.premises import Premises
from configurator.workflow.quotations import accept_quotation, give_quotation
from configurator.workflow.sign_offs import make_sign_off_record
from configurator.workflow.verifying import verify_all
from tests.workflow.answering import answers_for
from tests.workflow.led_through_life import (
    ENGINEER,
    MANAGER,
    freeze_it,
    hand_it_over,
    make_it_ready,
)

NAME = "Zebedee Sample-Quill"
Step = Callable[[Premises, str, datetime], object]


@pytest.fixture
def premises(anywhere: Premises) -> Premises:
    return anywhere


@pytest.fixture
def reference(premises: Premises, now: datetime) -> str:
    return start_enquiry(
        premises,
        customer=Customer(name=NAME, contact="the blue door"),
        vehicle_id="clover-van",
        donor=Donor(),
        notes="",
        now=now,
    )


def erase(premises: Premises, reference: str, now: datetime) -> None:
    erase_customers_data(premises, reference, because="Asked for", by=MANAGER, now=now)


def everything(premises: Premises) -> str:
    """Read every value of every table, and what is packed in it."""
    told = []
    with premises.record.engine.connect() as connection:
        for table in Table.metadata.sorted_tables:
            told += [str(tuple(row)) for row in connection.execute(select(table))]
        packed = connection.scalars(select(ContentRow.__table__.c.content))
        told += [zlib.decompress(bytes(content)).decode("utf-8", "replace") for content in packed]
    return "\n".join(told)


def quote_it(premises: Premises, reference: str, now: datetime) -> object:
    revision = read_draft(premises, reference).revision
    return give_quotation(premises, reference, revision=revision, by=MANAGER, now=now)


def propose_it(premises: Premises, reference: str, now: datetime) -> object:
    return propose_change(
        premises,
        reference,
        revision=read_draft(premises, reference).revision,
        answers=answers_for(premises, reference),
        by=ENGINEER,
        now=now,
    )


def issue_it(premises: Premises, reference: str, now: datetime) -> object:
    return issue_pack(premises, reference, by=MANAGER, now=now)


def choose_all(premises: Premises, reference: str, now: datetime) -> None:
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)


def order_and_change(premises: Premises, reference: str, now: datetime) -> None:
    choose_all(premises, reference, now)
    freeze_it(premises, reference, now)
    pick_option(premises, reference, revision=2, group_id="livery", option_id="sloe", now=now)


@pytest.mark.parametrize(
    "begun",
    [
        (choose_all, freeze_it, issuing, "write_entries"),
        (choose_all, quote_it, quotations, "store_file"),
        (choose_all, quote_it, quotations, "write_entries"),
        (order_and_change, propose_it, change_orders, "store_file"),
        (make_it_ready, issue_it, handover, "store_file"),
        (choose_all, make_spec_sheet, papers, "store_file"),
        (choose_all, make_spec_sheet, papers, "add_document"),
    ],
)
def test_what_was_begun_before_an_erasure_is_refused_and_leaves_no_trace(
    premises: Premises,
    reference: str,
    now: datetime,
    monkeypatch: pytest.MonkeyPatch,
    begun: tuple[Step, Step, ModuleType, str],
) -> None:
    prepare, step, module, last_act = begun
    prepare(premises, reference, now)
    assert NAME in everything(premises)
    real = getattr(module, last_act)

    def too_late(*given: Any, **named: Any) -> object:
        erase(premises, reference, now)
        return real(*given, **named)

    monkeypatch.setattr(module, last_act, too_late)
    with pytest.raises(ErasedMeanwhileError) as refused:
        step(premises, reference, now)
    monkeypatch.undo()
    assert ["R022"] == [fault.code for fault in refused.value.faults]
    assert NAME not in everything(premises)
    assert [] == list(documents_folder(premises, reference).glob("*"))
    assert () == verify_all(premises.record, premises.data_folder).faults
    step(premises, reference, now)
    assert NAME not in everything(premises)


def test_an_erasure_and_a_freeze_at_once_leave_no_name(premises: Premises, now: datetime) -> None:
    for number in range(4):
        customer = Customer(name=f"{NAME} {number}")
        vehicle: dict[str, Any] = {"vehicle_id": "clover-van", "donor": Donor(), "notes": ""}
        reference = start_enquiry(premises, customer=customer, now=now, **vehicle)
        choose_all(premises, reference, now)

        def freezing(which: str = reference) -> None:
            try:
                freeze_it(premises, which, now)
            except ConfiguratorError:
                return

        with ThreadPoolExecutor(3) as pool:
            waited = [pool.submit(freezing), pool.submit(erase, premises, reference, now)]
            waited.append(pool.submit(freezing))
        for each in waited:
            each.result()
        assert NAME not in everything(premises)
    assert () == verify_all(premises.record, premises.data_folder).faults


def test_what_was_issued_is_printed_again_without_the_name(
    premises: Premises, reference: str, now: datetime
) -> None:
    choose_all(premises, reference, now)
    freeze_it(premises, reference, now)
    first = make_sign_off_record(premises, reference, now)
    erase(premises, reference, now)
    again = make_sign_off_record(premises, reference, now)
    assert first.name != again.name
    assert again.content
    assert () == verify_all(premises.record, premises.data_folder).faults


@pytest.mark.parametrize(
    "said", [NAME, "Mrs Sample-Quill signed", "at  the blue door", NAME.upper()]
)
def test_no_entry_of_the_book_names_the_customer(
    premises: Premises, reference: str, now: datetime, said: str
) -> None:
    choose_all(premises, reference, now)
    give_quotation(premises, reference, revision=2, by=MANAGER, now=now)
    before = read_life(premises.record, reference).entries
    with pytest.raises(LifeError) as refused:
        accept_quotation(
            premises,
            reference,
            1,
            how=f"On paper, {said}",
            accepted_on=now.date(),
            answers=answers_for(premises, reference),
            by=ENGINEER,
            now=now,
        )
    assert ["R023"] == [fault.code for fault in refused.value.faults]
    with pytest.raises(LifeError) as refused:
        erase_customers_data(premises, reference, because=said, by=MANAGER, now=now)
    assert ["R023"] == [fault.code for fault in refused.value.faults]
    assert before == read_life(premises.record, reference).entries
    assert NAME == read_draft(premises, reference).build.customer.name


def test_who_builds_a_vehicle_of_their_own_signs_and_measures_all_the_same(
    premises: Premises, now: datetime
) -> None:
    reference = start_enquiry(
        premises,
        customer=Customer(name=ENGINEER.name),
        vehicle_id="clover-van",
        donor=Donor(),
        notes="",
        now=now,
    )
    hand_it_over(premises, reference, now + timedelta(days=1))
    assert read_life(premises.record, reference).handed_over is not None
