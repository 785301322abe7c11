"""The life of a build, as its screens tell it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from configurator.app.view_models.summary import SEVERITY_WORDS
from configurator.app.view_models.words import (
    count,
    day,
    day_from_to,
    from_to,
    moment,
    money,
    money_from_to,
)
from configurator.build_life.differences import SpecDifferences
from configurator.build_life.due_payments import DuePayment
from configurator.build_life.entries import (
    ChangeSigned,
    SignOffVoided,
    SpecIssued,
    StageReached,
    WarningAnswered,
)
from configurator.build_life.life import Entry
from configurator.build_life.price_change import price_change_in_words
from configurator.build_life.sign_off_state import SignOffState
from configurator.build_life.text_changes import TextChanged
from configurator.build_spec.price_kinds import PRICE_KINDS
from configurator.build_spec.spec import Finding, Spec
from configurator.catalog.models.workshop import Stage
from configurator.documents.change_order import ChangeOrderContent
from configurator.documents.figures import pounds

NOTHING = "—"


@dataclass(frozen=True)
class WarningToAnswer:
    """A finding that warns, for an engineer to write why the work goes on."""

    key: tuple[str, str]
    """Code and subject."""
    sentence: str
    remedy: str


@dataclass(frozen=True)
class Row:
    """A line of a table in words; the first cell heads it."""

    cells: tuple[str, ...]


def warnings_to_answer(findings: Iterable[Finding]) -> tuple[WarningToAnswer, ...]:
    """List what warns; what one reason answers stands together, none of it unsaid."""
    told: dict[tuple[str, str], list[Finding]] = {}
    for found in findings:
        if found.severity == "warns":
            told.setdefault((found.code, found.subject), []).append(found)
    return tuple(
        WarningToAnswer(
            key,
            " ".join(found.sentence for found in together),
            " ".join(dict.fromkeys(found.remedy for found in together)),
        )
        for key, together in told.items()
    )


def difference_rows(found: SpecDifferences) -> tuple[Row, ...]:
    """Tell what differs, one line each: what, until now, from now on."""
    rows = [
        Row((item.label, item.before or NOTHING, item.after or NOTHING)) for item in found.choices
    ]
    rows += [
        Row((f"Survey: {item.label}", item.before or NOTHING, item.after or NOTHING))
        for item in found.survey
    ]
    rows += [
        Row((line.label, _amount(line.before_gbp), _amount(line.after_gbp))) for line in found.lines
    ]
    total = tuple(_total(span) for span in (found.total_before_gbp, found.total_after_gbp))
    if total[0] != total[1]:
        rows.append(Row(("Price with VAT", *total)))
    spans = [
        (span.label, _span(span.before, span.unit), _span(span.after, span.unit))
        for span in (*found.masses, *found.ranges)
    ]
    # What differs by less than is shown says nothing to whoever signs.
    rows += [Row(cells) for cells in spans if cells[1] != cells[2]]
    if found.handover is not None:
        before, after = found.handover.before, found.handover.after
        rows.append(Row(("Earliest handover", day_from_to(*before), day_from_to(*after))))
    rows += [_text_row(text) for text in found.texts]
    rows += [
        Row(
            (f"Checks: {SEVERITY_WORDS[item.label]}", item.before or NOTHING, item.after or NOTHING)
        )
        for item in found.findings
    ]
    return tuple(rows)


def _text_row(text: TextChanged) -> Row:
    """Tell a text about safety in its old and new sentences, another one in a word."""
    if not text.is_safety:
        return Row((f"Text: {text.title}", NOTHING, text.how))
    before, after = (
        " ".join(pair[side] or "" for pair in text.sentences).strip() for side in (0, 1)
    )
    return Row((f"Safety text, {text.how}: {text.title}", before or NOTHING, after or NOTHING))


def answered_rows(
    findings: Iterable[Finding], answered: Iterable[WarningAnswered]
) -> tuple[Row, ...]:
    """Tell what a check said beside the reason an engineer wrote for going on."""
    sentences = {warning.key: warning.sentence for warning in warnings_to_answer(findings)}
    return tuple(
        Row((sentences.get((one.code, one.subject), one.subject), one.reason)) for one in answered
    )


def change_sentence(content: ChangeOrderContent) -> str:
    """Say what a change costs: for being late, and together."""
    together = content.differences.price_change_gbp + content.late_change_gbp
    percent = f"{content.late_change_percent.normalize():f} %"
    return (
        f"In the stage “{content.stage_label}” another choice costs {percent} of the dearer of the "
        f"two on top: {money(content.late_change_gbp)}; what was open till now, is found on "
        "the donor or settles a provisional sum costs nothing on top. Together the change "
        f"{price_change_in_words(together, money)}, with VAT."
    )


def late_change_words(stage: Stage) -> str:
    """Say what another choice costs on top of the prices in sight; empty where it is nothing."""
    if not stage.late_change_percent:
        return ""
    return (
        f"In the stage “{stage.label}” another choice costs "
        f"{stage.late_change_percent.normalize():f} % of the dearer of the two on top of the "
        "prices shown here; the page “Changes” adds it up."
    )


def price_rows(spec: Spec) -> tuple[Row, ...]:
    """Tell what the price is made of, to the penny as on paper, and the total."""
    price = spec.price
    rows = [
        Row((label, pounds(sum((line.amount_gbp for line in found), Decimal(0)))))
        for kind, label in PRICE_KINDS.items()
        if (found := [line for line in price.lines if line.kind == kind])
    ]
    low, high, decided = price.total_low_gbp, price.total_high_gbp, price.decided_gbp
    if not low == high == decided:
        rows.append(Row(("What is still open adds", money_from_to(low - decided, high - decided))))
    return (*rows, Row(("Total with VAT", _total((low, high)))))


def _total(span_gbp: tuple[Decimal, Decimal]) -> str:
    low, high = span_gbp
    return pounds(low) if low == high else money_from_to(low, high)


def payment_rows(payments: Iterable[DuePayment]) -> tuple[Row, ...]:
    """Tell what is due at each stage."""
    return tuple(
        Row(
            (
                payment.stage_label,
                pounds(payment.ordered_gbp),
                pounds(payment.amount_gbp),
                "has fallen due" if payment.has_fallen_due else "to come",
            )
        )
        for payment in payments
    )


def signed_words(state: SignOffState) -> str:
    """Say who signed and when, or what is missing.

    A sign-off made on an earlier letter holds while nothing it covers was changed.
    """
    if state.signed is None:
        return f"To be signed again. {state.voided.in_words}" if state.voided else "Not signed yet."
    return f"Signed on spec {state.letter} by {who_and_when(state.signed)}."


def change_signature(entry: Entry) -> str:
    """Say on which day a side signed a change order, where the paper is, and who noted it."""
    signed = entry.body
    assert isinstance(signed, ChangeSigned)  # noqa: S101  the caller has it from the signatures
    on = f"signed on {day(signed.signed_on)}" if signed.signed_on else "signed"
    return f"{signed.by.capitalize()}: {on}; {signed.how}; noted by {who_and_when(entry)}."


def who_and_when(entry: Entry) -> str:
    """Name the person, the role and the moment."""
    return f"{entry.by.in_words}, {_moment(entry.made_at)}"


def standing_against(found: Finding, stage_label: str) -> str:
    """Say what stands against a stage, below a heading that names the stage already."""
    said = found.sentence.removeprefix(f"{stage_label}: ")
    return f"{said[:1].upper()}{said[1:]} {found.remedy}"


def stage_sentences(reached: Sequence[tuple[str, Entry]]) -> tuple[str, ...]:
    """Say on which day each stage was reached, and who noted it."""
    return tuple(
        f"{label}, {day(entry.body.reached_on)}; noted by {who_and_when(entry)}"
        for label, entry in reached
        if isinstance(entry.body, StageReached)
    )


def _moment(made_at: datetime) -> str:
    return f"{moment(made_at)} UTC"


def _amount(amount_gbp: Decimal | None) -> str:
    return NOTHING if amount_gbp is None else pounds(amount_gbp)


def _span(span: tuple[float, float] | None, unit: str) -> str:
    return NOTHING if span is None else from_to(*span, unit)


def due_words(amount_gbp: Decimal) -> str:
    """Say what falls due when a stage is reached.

    Examples
    --------
    >>> due_words(Decimal("6986.40")), due_words(Decimal(0))
    ('£6,986.40 falls due', 'no payment falls due')
    """
    return f"{money(amount_gbp)} falls due" if amount_gbp else "no payment falls due"


def issued_words(entries: Iterable[Entry]) -> str:
    """Say which letter a last signature issued, and how many sign-offs it voids; or nothing."""
    bodies = [entry.body for entry in entries]
    issued = next((body for body in bodies if isinstance(body, SpecIssued)), None)
    if issued is None:
        return ""
    void = sum(isinstance(body, SignOffVoided) for body in bodies)
    told = f" Both have signed: spec {issued.letter} is issued."
    if not void:
        return told
    return f"{told} {count(void, 'sign-off is', 'sign-offs are')} void and wanted again."
