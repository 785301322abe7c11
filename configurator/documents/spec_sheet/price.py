"""Price lines that add up to the printed total, and the stage payments."""

from __future__ import annotations

from reportlab.platypus import Flowable, Table

from configurator.build_spec.spec import Price
from configurator.documents.figures import number, pounds, pounds_span
from configurator.documents.headings import minor_heading
from configurator.documents.paragraphs import small
from configurator.documents.tables import headed_table

_KINDS = {
    "base": "every conversion",
    "option": "chosen",
    "survey": "survey of the donor",
    "provisional": "provisional sum",
    "discount": "discount",
}


def price_blocks(price: Price) -> list[Flowable]:
    """Show every line, the total with its VAT, and what is due when."""
    return [_line_table(price), *_total_blocks(price), *_payment_blocks(price)]


def _line_table(price: Price) -> Table:
    rows = [(line.label, _KINDS[line.kind], pounds(line.amount_gbp)) for line in price.lines]
    rows.append(("Sum of the lines above", "", pounds(price.decided_gbp)))
    head = ("Line", "Because of", "With VAT, computed")
    return headed_table(head, rows, (0.58, 0.2, 0.22), figures=(2,), has_total=True)


def _total_blocks(price: Price) -> list[Flowable]:
    vat = pounds_span(price.vat_included_low_gbp, price.vat_included_high_gbp)
    total = pounds_span(price.total_low_gbp, price.total_high_gbp)
    added = pounds_span(
        price.total_low_gbp - price.decided_gbp, price.total_high_gbp - price.decided_gbp
    )
    rows = [("Total with VAT", total), (f"VAT included, {number(price.vat_percent, 1)} %", vat)]
    if price.total_low_gbp != price.decided_gbp or price.total_high_gbp != price.decided_gbp:
        rows.insert(0, ("What is still open adds", added))
    blocks: list[Flowable] = [
        headed_table(
            ("Price of the build", "With VAT, computed"),
            rows,
            (0.5, 0.5),
            figures=(1,),
            strong=(1,),
        )
    ]
    if any(line.kind == "provisional" for line in price.lines):
        blocks.append(small(
            "A provisional sum is settled at what the work takes once the hidden is seen; you are "
            "asked before it is exceeded."
        ))  # fmt: skip
    return blocks


def _payment_blocks(price: Price) -> list[Flowable]:
    if not price.payments:
        return [small("Stage payments are set once every choice is made.")]
    rows = [
        (payment.stage_label, f"{number(payment.percent, 0)} %", pounds(payment.amount_gbp))
        for payment in price.payments
    ]
    total = sum((payment.amount_gbp for payment in price.payments), start=price.decided_gbp * 0)
    rows.append(("All stages", "", pounds(total)))
    head = ("Due when this stage is reached", "Share", "Amount with VAT")
    return [
        minor_heading("Stage payments"),
        headed_table(head, rows, (0.58, 0.2, 0.22), figures=(1, 2), has_total=True),
    ]
