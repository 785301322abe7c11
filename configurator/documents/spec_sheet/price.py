"""Price lines that add up to the printed total."""

from __future__ import annotations

from decimal import Decimal

from reportlab.platypus import Flowable, Table

from configurator.build_spec.price_kinds import PRICE_KINDS
from configurator.build_spec.spec import Price, Spec
from configurator.build_spec.survey_section import not_surveyed_words
from configurator.documents.figures import number, pounds, pounds_span
from configurator.documents.noted import Noted
from configurator.documents.paragraphs import small
from configurator.documents.spec_sheet.choices import line_of_choice, price_of_choices
from configurator.documents.tables import headed_table

_SUMMED = ("base", "survey", "discount")
"""Kinds of line printed as one sum each; the quotation has their lines."""

_SHARES = (0.75, 0.25)


def price_blocks(spec: Spec) -> list[Flowable]:
    """Show what the price is made of, the total with its VAT, and the parts nobody looked at."""
    said = f"{_vat_words(spec.price)} {not_surveyed_words(spec)}"
    return [Noted(_line_table(spec), small(said.rstrip()))]


def _line_table(spec: Spec) -> Table:
    price = spec.price
    of_choices = {line.id for c in spec.choices if (line := line_of_choice(spec, c)) is not None}
    lines = [line for line in price.lines if line.id not in of_choices]
    rows = [
        (PRICE_KINDS[kind], pounds(sum((line.amount_gbp for line in found), Decimal(0))))
        for kind in _SUMMED
        if (found := [line for line in lines if line.kind == kind])
    ]
    rows += [(line.label, pounds(line.amount_gbp)) for line in lines if line.kind not in _SUMMED]
    if of_choices:
        rows.append(("Choices together, as listed above", pounds(price_of_choices(spec))))
    rows.extend(_total_rows(price))
    head = ("The price", "With VAT, computed")
    return headed_table(head, rows, _SHARES, figures=(1,), has_total=True)


def _total_rows(price: Price) -> list[tuple[str, str]]:
    low, high, decided = price.total_low_gbp, price.total_high_gbp, price.decided_gbp
    total = ("Total with VAT", pounds_span(low, high))
    if low == high == decided:
        return [total]
    return [
        ("Sum of the lines above", pounds(decided)),
        ("What is still open adds", pounds_span(low - decided, high - decided)),
        total,
    ]


def _vat_words(price: Price) -> str:
    vat = pounds_span(price.vat_included_low_gbp, price.vat_included_high_gbp)
    said = f"VAT of {number(price.vat_percent, 1)} % is included in the total: {vat}."
    if any(line.kind == "provisional" for line in price.lines):
        said += (
            " A provisional sum is settled at what the work takes once the hidden is seen; you are "
            "asked before it is exceeded."
        )
    return said
