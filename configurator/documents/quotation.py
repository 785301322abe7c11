"""The quotation: a fixed price for stated work, when it is due, and on which terms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from reportlab.platypus import Flowable, KeepTogether, Table
from reportlab.platypus.tables import TableStyle

from configurator.build_spec.spec import Price, PriceLine, Spec
from configurator.catalog.models.workshop import DatedTerms
from configurator.documents.character_note import character_note
from configurator.documents.colours import INK, rgb
from configurator.documents.figures import day, days_span, number, pounds, pounds_span
from configurator.documents.headings import joined, sheet_heading, subheading
from configurator.documents.page_frame import frame_words
from configurator.documents.paged_document import pdf_bytes
from configurator.documents.paragraphs import bullets, small, words
from configurator.documents.styles import CELL, CELL_QUIET, TEXT_WIDTH
from configurator.documents.tables import headed_table
from configurator.documents.typeface import BODY

TITLE = "Quotation"
WHAT_IT_IS = (
    "This is a quotation: a fixed price for the work stated below and in the spec sheet with the "
    "same spec number. Only provisional sums, which are named, and changes that both sides sign "
    "move it."
)
NO_CANCELLATION = (
    "This vehicle is made to your specification. Once you have signed there is no right to cancel "
    "within fourteen days. Ask before you sign whatever is not clear."
)
DEPOSIT = (
    "The first payment is a payment on account of the price. VAT on a payment falls due when it is "
    "received."
)
PROVISIONAL = (
    "A provisional sum stands for work that cannot be seen yet. It is settled at what the work "
    "takes once the hidden is seen, and you are asked before it is exceeded."
)
CAUTIONS = (
    "Masses, axle loads, range and charging times are computed until the finished vehicle is "
    "weighed and driven; a computed check is not an approval.",
    "High voltage, brakes, steering, lifting and overloading can kill: the work is done by "
    "competent persons, and the authority of your country decides what may be used on the road.",
)
_SHARES = (0.72, 0.28)


@dataclass(frozen=True)
class QuotationContent:
    """What a quotation says besides its spec."""

    number: int
    given_on: date
    valid_until: date
    terms: DatedTerms
    renews: int | None = None


def quotation_pdf(spec: Spec, content: QuotationContent) -> bytes:
    """Write a quotation.

    Parameters
    ----------
    spec : Spec
        That it is for, complete or with open choices.
    content : QuotationContent
        Number, dates and terms.

    Returns
    -------
    bytes
        A PDF; the same arguments give the same bytes.

    Raises
    ------
    DocumentError
        D003 when something has no room on a page.
    """
    return pdf_bytes(joined(_story(spec, content)), frame_words(spec, TITLE))


def _story(spec: Spec, content: QuotationContent) -> list[Flowable]:
    price = spec.price
    return [
        sheet_heading(f"{TITLE} Q{content.number}, {spec.build.reference}", "opening"),
        words(
            f"For {spec.build.customer.name}: {spec.vehicle.label}, converted to electric drive."
        ),
        words(_dates(content)),
        words(WHAT_IT_IS),
        sheet_heading("Work and price", "price"),
        *_lines("The conversion", price, ("base",)),
        *_lines("What you have chosen", price, ("option",)),
        *_lines("Work on the donor vehicle", price, ("survey",)),
        *_lines("Provisional sums", price, ("provisional",)),
        *([small(PROVISIONAL)] if _of(price, ("provisional",)) else []),
        *_lines("Discount", price, ("discount",)),
        _total(price),
        small(_vat(price)),
        *_open(spec),
        sheet_heading("Payments", "payments"),
        *_payments(price),
        small(DEPOSIT),
        sheet_heading("When", "when"),
        words(
            f"Work can start {day(spec.plan.start)}; earliest handover "
            f"{days_span(spec.plan.earliest_handover, spec.plan.latest_handover)}, computed from "
            "working hours and lead times."
        ),
        sheet_heading("What the price leaves out", "exclusions"),
        *bullets(spec.workshop.exclusions or ("Nothing is stated.",), CELL),
        sheet_heading(f"Terms, in force since {day(content.terms.valid_from)}", "terms"),
        *bullets(content.terms.sentences, CELL),
        sheet_heading("Cautions", "cautions"),
        *bullets(CAUTIONS, CELL),
        *character_note(spec),
        KeepTogether(_acceptance(spec, content)),
    ]


def _dates(content: QuotationContent) -> str:
    renews = f" It takes the place of Q{content.renews}." if content.renews else ""
    given, until = day(content.given_on), day(content.valid_until)
    return f"Given on {given}. It can be accepted until {until}, that day included.{renews}"


def _of(price: Price, kinds: Sequence[str]) -> list[PriceLine]:
    return [line for line in price.lines if line.kind in kinds]


def _lines(title: str, price: Price, kinds: Sequence[str]) -> list[Flowable]:
    lines = _of(price, kinds)
    if not lines:
        return []
    rows = [(line.label, pounds(line.amount_gbp)) for line in lines]
    rows.append((f"{title}, together", pounds(sum((x.amount_gbp for x in lines), Decimal(0)))))
    head = ("Line", "With VAT")
    return [subheading(title), headed_table(head, rows, _SHARES, figures=(1,), has_total=True)]


def _total(price: Price) -> Table:
    low, high, decided = price.total_low_gbp, price.total_high_gbp, price.decided_gbp
    rows = [("Total with VAT", pounds_span(low, high))]
    if not low == high == decided:
        rows = [
            ("Sum of the lines above", pounds(decided)),
            ("What is still open adds", pounds_span(low - decided, high - decided)),
            *rows,
        ]
    return headed_table(("The price", "With VAT"), rows, _SHARES, figures=(1,), has_total=True)


def _vat(price: Price) -> str:
    inside = pounds_span(price.vat_included_low_gbp, price.vat_included_high_gbp)
    return f"VAT of {number(price.vat_percent, 1)} % is included in the total: {inside}."


def _open(spec: Spec) -> list[Flowable]:
    if not spec.open_groups:
        return []
    rows = [(g.group_label, g.closes_at, day(g.close_by)) for g in spec.open_groups]
    return [
        subheading("Still to be chosen"),
        headed_table(("Question", "Closed by the stage", "By"), rows, (0.42, 0.33, 0.25)),
        small("Until then the price is a from–to; each choice is written as a change order."),
    ]


def _payments(price: Price) -> list[Flowable]:
    if not price.payments:
        return [small("Stage payments are set once every choice is made.")]
    rows = [
        (payment.stage_label, f"{number(payment.percent, 0)} %", pounds(payment.amount_gbp))
        for payment in price.payments
    ]
    total = sum((payment.amount_gbp for payment in price.payments), Decimal(0))
    rows.append(("All stages", "", pounds(total)))
    head = ("Due when the stage is reached", "Share", "With VAT")
    return [headed_table(head, rows, (0.58, 0.14, 0.28), figures=(1, 2), has_total=True)]


def _acceptance(spec: Spec, content: QuotationContent) -> list[Flowable]:
    style = TableStyle([
        ("FONTNAME", (0, 0), (-1, -1), BODY),
        ("TOPPADDING", (0, 0), (-1, 0), 24),
        ("LEFTPADDING", (0, 0), (-1, -1), 0),
        *(("LINEABOVE", (column, 1), (column, 1), 0.8, rgb(INK)) for column in (0, 2, 4)),
    ])  # fmt: skip
    labels = [words(label, CELL_QUIET) for label in ("Name", "Signature", "Date")]
    widths = [TEXT_WIDTH * share for share in (0.34, 0.03, 0.36, 0.03, 0.24)]
    rows = [[""] * 5, [labels[0], "", labels[1], "", labels[2]]]
    return [
        *joined([
            sheet_heading("Acceptance", "acceptance"),
            words(NO_CANCELLATION),
            words(
                f"I accept quotation Q{content.number} for {spec.build.reference}, spec "
                f"{spec.sha256()[:12]}, on the terms above."
            ),
        ]),
        Table(rows, colWidths=widths, style=style, hAlign="LEFT"),
    ]  # fmt: skip
