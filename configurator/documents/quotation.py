"""The quotation: a price for stated work, when it is due, and on which terms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from reportlab.platypus import Flowable, KeepTogether, Table

from configurator.build_spec.price_kinds import PRICE_KINDS
from configurator.build_spec.sentences import still_open
from configurator.build_spec.spec import Plan, Price, Spec, StagePayment
from configurator.build_spec.survey_section import not_surveyed_words
from configurator.catalog.models.workshop import DatedTerms
from configurator.documents.character_note import character_note
from configurator.documents.figures import day, days_span, number, pounds, pounds_span
from configurator.documents.headings import joined, sheet_heading, subheading
from configurator.documents.page_frame import frame_words
from configurator.documents.paged_document import pdf_bytes
from configurator.documents.paragraphs import bullets, small, words
from configurator.documents.signature_lines import signature_lines
from configurator.documents.styles import CELL
from configurator.documents.tables import headed_table

TITLE = "Quotation"
FIXED = (
    "It is a fixed price for the work stated here and in the spec sheet with the same spec number. "
    "Only provisional sums, which are named, and changes that both sides sign move it."
)
NOT_YET_FIXED = (
    "The price of what is chosen is fixed and covers the lines stated here; provisional sums, "
    "which are named, and changes that both sides sign move it. It is not yet a fixed price for "
    "the whole vehicle: what is open comes on top, and the total lies between the two amounts "
    "stated, whatever is chosen."
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
    payments: tuple[StagePayment, ...]
    """Of the total; while choices are open, of the least total."""
    renews: int | None = None
    given_by: str = ""
    """Who gave it, in words."""


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
        words(_workshop(spec)),
        words(_dates(content)),
        words(f"This is a quotation. {what_it_is(spec)}"),
        sheet_heading("Work and price", "price"),
        *(flowable for kind in PRICE_KINDS for flowable in _lines(price, kind)),
        _total(price),
        small(_vat(price)),
        *_open(spec, content),
        sheet_heading("Payments", "payments"),
        *_payments(spec, content.payments),
        small(DEPOSIT),
        sheet_heading("When", "when"),
        words(_when(spec.plan, content)),
        sheet_heading("What the price leaves out", "exclusions"),
        *bullets(_exclusions(spec) or ["Nothing is stated."], CELL),
        *character_note(spec),
        # Whoever signs has the terms before them, on the same page.
        KeepTogether(joined(_signed(spec, content))),
    ]


def what_it_is(spec: Spec) -> str:
    """Say what the price covers: everything, or what is chosen, with what is still open."""
    names = [group.group_label for group in spec.open_groups]
    return f"{still_open(names)} {NOT_YET_FIXED}" if names else FIXED


def first_payment(spec: Spec, payments: Sequence[StagePayment]) -> str:
    """Say how much is due first, and when; empty where nothing is due at any stage.

    Parameters
    ----------
    spec : Spec
        That is quoted.
    payments : sequence of StagePayment
        Of its total; while choices are open, of the least total.
    """
    if not payments:
        return ""
    first = payments[0]
    due = f"due when the stage “{first.stage_label}” is reached"
    if not spec.open_groups:
        return f"First payment: {pounds(first.amount_gbp)}, {due}, once you have ordered."
    return (
        f"First payment: {pounds(first.amount_gbp)}, {_share(first)} of the least total, {due}, "
        "once you have ordered. It stays as it is; the other amounts are set once every choice is "
        "made, and make up for what it lacks."
    )


def _exclusions(spec: Spec) -> list[str]:
    unseen = not_surveyed_words(spec)
    return [*([unseen] if unseen else []), *spec.workshop.exclusions]


def _share(payment: StagePayment) -> str:
    return f"{payment.percent.normalize():f} %"


def _when(plan: Plan, content: QuotationContent) -> str:
    handover = days_span(plan.earliest_handover, plan.latest_handover)
    return (
        f"If you order on {day(content.given_on)}, work can start on {day(plan.start)}, and the "
        f"earliest handover is {handover}, computed from working hours and lead times. If you "
        "order later, every day stated here is later by as much."
    )


def _workshop(spec: Spec) -> str:
    workshop = spec.workshop
    return f"From {workshop.name}, {workshop.place}. {workshop.contact}"


def _dates(content: QuotationContent) -> str:
    renews = f" It takes the place of Q{content.renews}." if content.renews else ""
    given, until = day(content.given_on), day(content.valid_until)
    by = f" by {content.given_by}" if content.given_by else ""
    return f"Given on {given}{by}. It can be accepted until {until}, that day included.{renews}"


def _lines(price: Price, kind: str) -> list[Flowable]:
    lines, title = [line for line in price.lines if line.kind == kind], PRICE_KINDS[kind]
    if not lines:
        return []
    rows = [(line.label, pounds(line.amount_gbp)) for line in lines]
    rows.append((f"{title}, together", pounds(sum((x.amount_gbp for x in lines), Decimal(0)))))
    head = ("Line", "With VAT")
    table = headed_table(head, rows, _SHARES, figures=(1,), has_total=True)
    note = [small(PROVISIONAL)] if kind == "provisional" else []
    return [subheading(title), table, *note]


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


def _open(spec: Spec, content: QuotationContent) -> list[Flowable]:
    if not spec.open_groups:
        return []
    rows = [(g.group_label, g.closes_at, day(g.close_by)) for g in spec.open_groups]
    return [
        subheading("Still to be chosen"),
        headed_table(
            ("Question", "Closed by the stage", f"By, if ordered on {day(content.given_on)}"),
            rows,
            (0.36, 0.26, 0.38),
        ),
        small("Until then the price is a from–to; each choice is written as a change order."),
    ]


def _payments(spec: Spec, payments: Sequence[StagePayment]) -> list[Flowable]:
    rows = [
        (payment.stage_label, _share(payment), pounds(payment.amount_gbp)) for payment in payments
    ]
    total = sum((payment.amount_gbp for payment in payments), Decimal(0))
    if spec.open_groups:
        rows[1:] = [(*row[:2], "once all is chosen") for row in rows[1:]]
    else:
        rows.append(("All stages", "", pounds(total)))
    head = ("Due when the stage is reached", "Share", "With VAT")
    has_total = not spec.open_groups
    return [
        words(first_payment(spec, payments)),
        headed_table(head, rows, (0.58, 0.14, 0.28), figures=(1, 2), has_total=has_total),
    ]


def _signed(spec: Spec, content: QuotationContent) -> list[Flowable]:
    return [
        sheet_heading(f"Terms, in force since {day(content.terms.valid_from)}", "terms"),
        *bullets(content.terms.sentences, CELL),
        sheet_heading("Cautions", "cautions"),
        *bullets(CAUTIONS, CELL),
        sheet_heading("Acceptance", "acceptance"),
        words(NO_CANCELLATION),
        signature_lines(
            f"I accept quotation Q{content.number} for {spec.build.reference}, spec "
            f"{spec.sha256()[:12]}, on the terms above."
        ),
    ]
