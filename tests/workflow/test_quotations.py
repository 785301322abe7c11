"""A quotation binds until its day; accepted, it is issued spec A."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from datetime import date, datetime, timedelta
from decimal import Decimal

import pytest

from configurator.build_life.entries import Quoted, SpecIssued
from configurator.build_life.people import Person
from configurator.build_life.stage_gate import stage_faults
from configurator.errors import LifeError, OvertakenError
from configurator.record.book import read_life
from configurator.workflow.builds import read_draft
from configurator.workflow.consultation import set_house_choices
from configurator.workflow.issuing import (
    Answers,
    freeze,
    issued_spec,
    read_spec,
    written_answers,
)
from configurator.workflow.papers import documents_folder, list_documents
from configurator.workflow.premises import Premises, open_premises
from configurator.workflow.quotations import (
    accept_quotation,
    give_quotation,
    how_quotation_stands,
    payments_quoted,
)
from configurator.workflow.sign_offs import issued_sheet, make_sign_off_record
from configurator.workflow.stored_document import StoredDocument
from configurator.workflow.survey import set_donors
from tests.documents.read_pdf import flat_text, read_pages
from tests.workflow.answering import answers_for
from tests.workflow.led_through_life import freeze_it

CONSULTANT = Person(name="Invented Consultant", role="consultant")
ENGINEER = Person(name="Invented Engineer", role="engineer")


@pytest.fixture
def chosen(premises: Premises, reference: str, now: datetime) -> str:
    set_house_choices(premises, reference, revision=1, wanted=True, now=now)
    return reference


def give(premises: Premises, reference: str, now: datetime) -> Quoted:
    revision = read_draft(premises, reference).revision
    return give_quotation(premises, reference, revision=revision, by=CONSULTANT, now=now)


def accept(
    premises: Premises, reference: str, number: int, now: datetime, on: date | None = None
) -> SpecIssued:
    return accept_quotation(
        premises,
        reference,
        number,
        how="On paper, in the file",
        accepted_on=on or now.date(),
        answers=answers_for(premises, reference),
        by=ENGINEER,
        now=now,
    )


def codes(error: pytest.ExceptionInfo[LifeError]) -> list[str]:
    return sorted(fault.code for fault in error.value.faults)


def test_what_was_quoted_becomes_spec_a(premises: Premises, chosen: str, now: datetime) -> None:
    quoted = give(premises, chosen, now)
    assert (1, now.date() + timedelta(days=30)) == (quoted.number, quoted.valid_until)
    assert "open" == how_quotation_stands(premises, chosen, now.date()).verdict
    issued = accept(premises, chosen, 1, now)
    assert ("A", quoted.spec_sha256) == (issued.letter, issued.spec_sha256)
    assert quoted.total_gbp == issued_spec(premises, chosen).price.total_low_gbp
    assert "accepted" == how_quotation_stands(premises, chosen, now.date()).verdict


def test_the_document_is_stored_and_never_overwritten(
    premises: Premises, chosen: str, now: datetime
) -> None:
    first = give(premises, chosen, now)
    (path,) = documents_folder(premises, chosen).glob("*quotation-Q1.pdf")
    before = path.read_bytes()
    second = give(premises, chosen, now)
    assert (2, 1) == (second.number, second.renews)
    assert before == path.read_bytes()
    kept = {document.sha256 for document in list_documents(premises, chosen)}
    assert {first.document_sha256, second.document_sha256} <= kept


def test_an_expired_quotation_says_so_and_is_renewed_in_one_step(
    premises: Premises, chosen: str, now: datetime
) -> None:
    give(premises, chosen, now)
    later = now + timedelta(days=31)
    state = how_quotation_stands(premises, chosen, later.date())
    assert "expired" == state.verdict
    with pytest.raises(LifeError) as refused:
        accept(premises, chosen, 1, later)
    assert ["P064"] == codes(refused)
    assert 2 == give(premises, chosen, later).number
    assert later.date() == read_draft(premises, chosen).build.priced_on
    assert "A" == accept(premises, chosen, 2, later).letter


def test_signed_in_time_a_quotation_holds_though_it_is_noted_late(
    premises: Premises, chosen: str, now: datetime
) -> None:
    give(premises, chosen, now)
    later = now + timedelta(days=40)
    assert "A" == accept(premises, chosen, 1, later, on=now.date()).letter


def test_changed_prices_of_the_catalog_are_told_with_the_differences(
    premises: Premises, chosen: str, now: datetime
) -> None:
    quoted = give(premises, chosen, now)
    workshop = premises.catalog_folder / "workshop.yaml"
    workshop.write_text(workshop.read_text().replace("'40.00'", "'80.00'"))
    later = open_premises(premises.catalog_folder, premises.data_folder)
    state = how_quotation_stands(later, chosen, now.date())
    assert "changed" == state.verdict
    assert state.differences is not None
    assert state.differences.lines
    assert () == state.differences.choices
    assert state.differences.price_change_gbp > 0
    assert quoted.spec_sha256 == accept(later, chosen, 1, now).spec_sha256, "it still binds"
    later.record.engine.dispose()


# Source: worked by hand, 33.33 % of the least total as stages.yaml had it on the day.
def test_the_first_payment_of_a_quotation_outlives_an_edited_catalog(
    premises: Premises, reference: str, now: datetime
) -> None:
    quoted = give(premises, reference, now)
    stages = premises.catalog_folder / "stages.yaml"
    text = stages.read_text().replace("'33.33'}", "'13.33'}").replace("'33.34'", "'53.34'")
    stages.write_text(text)
    later = open_premises(premises.catalog_folder, premises.data_folder)
    spec = read_spec(later, read_life(later.record, reference), quoted.spec_sha256)
    first = payments_quoted(later, spec)[0]
    assert round(spec.price.total_low_gbp * Decimal("0.3333"), 2) == first.amount_gbp
    later.record.engine.dispose()


def test_what_cannot_be_accepted_is_told_all_at_once(
    premises: Premises, chosen: str, now: datetime
) -> None:
    give(premises, chosen, now)
    with pytest.raises(LifeError) as refused:
        accept_quotation(
            premises,
            chosen,
            7,
            how=" ",
            accepted_on=now.date() + timedelta(days=2),
            answers={},
            by=ENGINEER,
            now=now,
        )
    assert ["P063", "P065", "P066"] == codes(refused)


def test_fields_left_empty_at_the_acceptance_are_told_all_at_once(
    premises: Premises, chosen: str, now: datetime
) -> None:
    # An axle far from the usual warns, so the form asks for a reason beside the signed paper.
    donor = {"front_axle_kg": "500", "rear_axle_kg": "370", "weighed_on": now.date()}
    revision = read_draft(premises, chosen).revision
    set_donors(premises, chosen, revision=revision, donor=donor, second_donor=None, now=now)
    give(premises, chosen, now)

    def refused(answers: Answers) -> list[str]:
        with pytest.raises(LifeError) as error:
            accept_quotation(
                premises,
                chosen,
                1,
                how=" ",
                accepted_on=now.date(),
                answers=answers,
                by=ENGINEER,
                now=now,
            )
        return codes(error)

    assert {"L002", "P066"} == set(refused({}))
    short = dict.fromkeys(answers_for(premises, chosen), "x")
    assert {"P066", "P078"} == set(refused(short))


def test_after_the_order_changes_go_another_way(
    premises: Premises, chosen: str, now: datetime
) -> None:
    give(premises, chosen, now)
    accept(premises, chosen, 1, now)
    with pytest.raises(LifeError) as refused:
        give(premises, chosen, now)
    assert ["P062"] == codes(refused)


def test_without_terms_nothing_is_quoted(premises: Premises, chosen: str, now: datetime) -> None:
    with pytest.raises(LifeError) as refused:
        give(premises, chosen, now.replace(year=2019))
    assert "P060" in codes(refused)


def test_of_many_who_accept_at_once_one_is_told_it_did(
    premises: Premises, chosen: str, now: datetime
) -> None:
    give(premises, chosen, now)

    def attempt(_number: int) -> bool:
        try:
            accept(premises, chosen, 1, now)
        except (LifeError, OvertakenError):
            return False
        return True

    with ThreadPoolExecutor(6) as pool:
        assert 1 == sum(pool.map(attempt, range(8)))
    assert 1 == len(read_life(premises.record, chosen).of(SpecIssued))


def test_what_was_ordered_is_not_issued_anew_without_the_customer(
    premises: Premises, chosen: str, now: datetime
) -> None:
    give(premises, chosen, now)
    accept(premises, chosen, 1, now)
    revision = read_draft(premises, chosen).revision
    draft = set_house_choices(premises, chosen, revision=revision, wanted=False, now=now)
    with pytest.raises(LifeError) as refused:
        freeze(
            premises,
            chosen,
            revision=draft.revision,
            answers=answers_for(premises, chosen),
            because="Quietly",
            by=ENGINEER,
            now=now,
        )
    assert ["P080"] == codes(refused)


@pytest.mark.parametrize("days", [0, 40])
def test_while_a_quotation_waits_no_spec_is_issued_past_the_customer(
    premises: Premises, chosen: str, now: datetime, days: int
) -> None:
    give(premises, chosen, now)
    with pytest.raises(LifeError) as refused:
        freeze_it(premises, chosen, now + timedelta(days=days))
    assert ["P083"] == codes(refused)
    assert "Q1" in str(refused.value)
    assert () == read_life(premises.record, chosen).of(SpecIssued)


def test_a_spec_that_the_customer_has_not_ordered_says_why_on_its_papers(
    premises: Premises, chosen: str, now: datetime
) -> None:
    give(premises, chosen, now)
    why = "A show vehicle of our own & <b>not</b> theirs"
    issued = freeze_it(premises, chosen, now, not_ordered_because=why)
    assert why == issued.not_ordered_because
    said = f"Not ordered by the customer: {why}"
    assert said in printed(issued_sheet(premises, chosen, now))
    assert said in printed(make_sign_off_record(premises, chosen, now))


def test_the_papers_of_an_ordered_spec_say_how_it_was_ordered(
    premises: Premises, chosen: str, now: datetime
) -> None:
    give(premises, chosen, now)
    accept(premises, chosen, 1, now)
    said = "Ordered by the customer: quotation Q1, signed on 4 March 2026."
    sheet = printed(issued_sheet(premises, chosen, now))
    assert said in sheet
    assert ", valid " not in sheet, "what is ordered is no offer"
    assert said in printed(make_sign_off_record(premises, chosen, now))


def test_without_a_quotation_the_papers_say_that_nobody_ordered(
    premises: Premises, chosen: str, now: datetime
) -> None:
    freeze_it(premises, chosen, now)
    said = "Not ordered by the customer: no quotation was given before it was issued."
    assert said in printed(make_sign_off_record(premises, chosen, now))


def test_a_reason_that_has_no_room_is_refused(
    premises: Premises, chosen: str, now: datetime
) -> None:
    with pytest.raises(LifeError) as refused:
        freeze_it(premises, chosen, now, not_ordered_because="x" * 201)
    assert ["P082"] == codes(refused)


def printed(document: StoredDocument) -> str:
    return flat_text(read_pages(document.content))


def test_a_quotation_is_not_signed_before_it_was_given(
    premises: Premises, chosen: str, now: datetime
) -> None:
    give(premises, chosen, now)
    with pytest.raises(LifeError) as refused:
        accept(premises, chosen, 1, now, on=now.date() - timedelta(days=1))
    assert ["P067"] == codes(refused)


def test_a_quotation_with_open_choices_is_accepted_though_a_stage_is_called_otherwise_now(
    premises: Premises, reference: str, now: datetime
) -> None:
    give(premises, reference, now)
    stages = premises.catalog_folder / "stages.yaml"
    stages.write_text(stages.read_text().replace("label: Build", "label: Build It Up"))
    later = open_premises(premises.catalog_folder, premises.data_folder)
    issued = accept(later, reference, 1, now)
    assert "build" in {choice.closes_at for choice in issued.open_choices}
    life = read_life(later.record, reference)
    left = [stage for stage in later.catalog.stages if stage.id != "build"]
    told = [fault.code for fault in stage_faults(life, left, left[-1], (), ())]
    assert len(issued.open_choices) == told.count("L009"), "a stage that is gone closes no later"
    later.record.engine.dispose()


def test_who_works_alone_answers_warnings_in_any_role(
    premises: Premises, chosen: str, now: datetime
) -> None:
    alone = Person(name="Invented Person", role="manager", is_solo=True)
    (answer,) = written_answers({("F001", "any"): "Seen and judged"}, alone)
    assert "Seen and judged" == answer.reason
    with pytest.raises(LifeError, match="engineer"):
        written_answers({("F001", "any"): "Seen and judged"}, CONSULTANT)


def test_words_that_have_no_room_are_refused_not_cut(
    premises: Premises, chosen: str, now: datetime
) -> None:
    give(premises, chosen, now)
    with pytest.raises(LifeError) as refused:
        accept_quotation(
            premises,
            chosen,
            1,
            how="x" * 1001,
            accepted_on=now.date(),
            answers=answers_for(premises, chosen),
            by=ENGINEER,
            now=now,
        )
    assert ["P082"] == codes(refused)
    with pytest.raises(LifeError) as too_long:
        written_answers({("F001", "any"): "x" * 1001}, ENGINEER)
    assert ["P082"] == codes(too_long)
