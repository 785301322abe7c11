"""The quotation adds up to the penny and says what it binds both sides to."""

from __future__ import annotations

import re
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from configurator.build_spec.price_kinds import PRICE_KINDS
from configurator.build_spec.price_section import stage_payments
from configurator.build_spec.spec import Spec
from configurator.catalog.models.workshop import Stage
from configurator.documents.quotation import QuotationContent, quotation_pdf
from configurator.documents.spec_sheet.sheet import spec_sheet_pdf
from tests.documents.extreme_specs import with_sixty_choices
from tests.documents.read_pdf import ReadPage, flat_text, read_pages
from tests.documents.sample_spec import open_spec, sample_spec

STAGES = (
    Stage(id="order", label="Order", due_percent=Decimal(10)),
    Stage(id="build", label="Dry build", due_percent=Decimal(90)),
)
AMOUNT = re.compile(r"(−?)£([\d,]+\.\d\d)$")


def content_of(spec: Spec, number: int, renews: int | None = None) -> QuotationContent:
    terms = spec.workshop.terms_on(date(2026, 11, 26))
    assert terms is not None
    payments = spec.price.payments or stage_payments(STAGES, spec.price.total_low_gbp)
    return QuotationContent(
        number,
        date(2026, 11, 26),
        date(2026, 12, 26),
        terms,
        payments,
        renews=renews,
        given_by="Con <b>Sample</b>, consultant",
    )


def pages_of(spec: Spec) -> tuple[ReadPage, ...]:
    content = content_of(spec, 2, renews=1)
    return read_pages(quotation_pdf(spec, content))


def amounts(pages: tuple[ReadPage, ...], start: str, end: str) -> list[Decimal]:
    lines = [line for page in pages for line in page.text.splitlines()]
    first = lines.index(start)
    last = next(n for n in range(first, len(lines)) if lines[n].startswith(end))
    found = (AMOUNT.search(line) for line in lines[first : last + 1])
    return [Decimal(m[1].replace("−", "-") + m[2].replace(",", "")) for m in found if m]


def test_each_part_adds_up_and_the_parts_add_up_to_the_total() -> None:
    pages, price = pages_of(sample_spec()), sample_spec().price
    whole = Decimal(0)
    for kind in {line.kind for line in price.lines}:
        title = PRICE_KINDS[kind]
        *lines, together = amounts(pages, title, f"{title}, together")
        assert together == sum(lines)
        assert len(lines) == sum(line.kind == kind for line in price.lines)
        whole += together
    assert price.total_low_gbp == whole
    assert [whole] == amounts(pages, "The price With VAT", "Total with VAT")


def test_the_stage_payments_add_up_to_the_total() -> None:
    head = "Due when the stage is reached Share With VAT"
    *payments, total = amounts(pages_of(sample_spec()), head, "All stages")
    assert [payment.amount_gbp for payment in sample_spec().price.payments] == payments
    assert sample_spec().price.total_low_gbp == total == sum(payments)


# Source: ../shared/reference/contract.md, from memory: no 14-day cancellation, said plainly.
def test_dates_terms_exclusions_and_the_missing_right_to_cancel_are_said() -> None:
    text = flat_text(pages_of(sample_spec()))
    for said in (
        "Quotation Q2, B-0042",
        "until 26 December 2026, that day included",
        "It takes the place of Q1",
        "Given on 26 November 2026 by Con <b>Sample</b>, consultant.",
        f"From {sample_spec().workshop.name}, {sample_spec().workshop.place}.",
        "a fixed price",
        "no right to cancel within fourteen days",
        "Registration fees.",
        "Prices include VAT and hold for 30 days.",
        "Terms, in force since 1 January 2026",
        "VAT on a payment falls due when it is received",
        "a computed check is not an approval",
        sample_spec().sha256()[:12],
    ):
        assert said in text, said


def test_open_choices_stand_with_the_stage_that_closes_them() -> None:
    text, price = flat_text(pages_of(open_spec())), open_spec().price
    assert "Still to be chosen" in text
    assert "Floor Dry build 12 February 2027" in text
    assert "By, if ordered on 26 November 2026" in text
    assert f"Total with VAT £{price.total_low_gbp:,} to £{price.total_high_gbp:,}" in text


def test_with_open_choices_it_calls_itself_no_fixed_price_and_names_what_is_open() -> None:
    text = flat_text(pages_of(open_spec()))
    assert "a fixed price" not in text.replace("not yet a fixed price", "")
    assert "2 choices are still open: Floor and Towing." in text
    assert "It is not yet a fixed price for the whole vehicle" in text


# Source: worked by hand, a tenth of the least total, rounded to the penny.
def test_the_first_payment_is_told_with_its_amount_and_when_it_is_due() -> None:
    least = open_spec().price.total_low_gbp
    tenth = (least / 10).quantize(Decimal("0.01"), ROUND_HALF_UP)
    text = flat_text(pages_of(open_spec()))
    assert f"First payment: £{tenth:,}, 10 % of the least total, due when the stage “Order”" in text
    first = sample_spec().price.payments[0]
    text = flat_text(pages_of(sample_spec()))
    assert f"First payment: £{first.amount_gbp:,}, due when the stage “{first.stage_label}”" in text


def test_parts_that_nobody_looked_at_are_left_out_of_the_price_by_name() -> None:
    spec = sample_spec(not_surveyed=("Sills", "Floor <b>pans</b>"))
    for pages in (pages_of(spec), read_pages(spec_sheet_pdf(spec))):
        text = flat_text(pages)
        assert "2 parts of the donor were not surveyed: Sills; Floor <b>pans</b>." in text
        assert "priced by a change order" in text
    assert "surveyed" not in flat_text(pages_of(sample_spec()))


def test_a_donor_that_nobody_looked_at_is_said_not_to_be_surveyed() -> None:
    spec = sample_spec(survey=(), not_surveyed=("Sills", "Doors", "Frame"))
    for pages in (pages_of(spec), read_pages(spec_sheet_pdf(spec))):
        assert "nobody has looked at any of its 3 parts" in flat_text(pages)


def test_sixty_lines_add_up_over_pages() -> None:
    pages = pages_of(with_sixty_choices())
    *lines, together = amounts(pages, "What is chosen", "What is chosen, together")
    assert together == sum(lines)


def test_the_same_quotation_gives_the_same_bytes() -> None:
    spec = sample_spec()
    content = content_of(spec, 1)
    assert quotation_pdf(spec, content) == quotation_pdf(spec, content)


def test_whoever_signs_has_the_terms_on_the_same_page() -> None:
    for spec in (sample_spec(), open_spec(), with_sixty_choices()):
        (page,) = (page for page in pages_of(spec) if "I accept quotation" in page.text)
        assert "Terms, in force since" in page.text
