"""The quotation adds up to the penny and says what it binds both sides to."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal

from configurator.build_spec.spec import Spec
from configurator.documents.quotation import QuotationContent, quotation_pdf
from tests.documents.extreme_specs import with_sixty_choices
from tests.documents.read_pdf import ReadPage, flat_text, read_pages
from tests.documents.sample_spec import open_spec, sample_spec

AMOUNT = re.compile(r"(−?)£([\d,]+\.\d\d)$")


def pages_of(spec: Spec) -> tuple[ReadPage, ...]:
    terms = spec.workshop.terms_on(date(2026, 11, 26))
    assert terms is not None
    content = QuotationContent(2, date(2026, 11, 26), date(2026, 12, 26), terms, renews=1)
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
    titles = {
        "base": "The conversion",
        "option": "What you have chosen",
        "survey": "Work on the donor vehicle",
        "provisional": "Provisional sums",
        "discount": "Discount",
    }
    for kind in {line.kind for line in price.lines}:
        *lines, together = amounts(pages, titles[kind], f"{titles[kind]}, together")
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
    assert f"Total with VAT £{price.total_low_gbp:,} to £{price.total_high_gbp:,}" in text
    assert "Stage payments are set once every choice is made." in text


def test_sixty_lines_add_up_over_pages() -> None:
    pages = pages_of(with_sixty_choices())
    *lines, together = amounts(pages, "What you have chosen", "What you have chosen, together")
    assert together == sum(lines)


def test_the_same_quotation_gives_the_same_bytes() -> None:
    spec = sample_spec()
    terms = spec.workshop.terms_on(date(2026, 11, 26))
    assert terms is not None
    content = QuotationContent(1, date(2026, 11, 26), date(2026, 12, 26), terms)
    assert quotation_pdf(spec, content) == quotation_pdf(spec, content)
