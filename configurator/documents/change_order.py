"""The change order: what differs from one issued spec to the next, what it costs, who signs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from reportlab.platypus import Flowable, KeepTogether

from configurator.build_life.differences import SpanChanged, SpecDifferences, WordsChanged
from configurator.build_life.due_payments import DuePayment
from configurator.build_life.entries import WarningAnswered
from configurator.build_life.price_change import price_change_in_words
from configurator.build_life.text_changes import TextChanged
from configurator.build_spec.spec import Spec
from configurator.documents.answered_warnings import answered_warnings
from configurator.documents.figures import days_span, pounds, pounds_span, span
from configurator.documents.finding_blocks import SEVERITY_WORDS
from configurator.documents.headings import joined, sheet_heading, subheading
from configurator.documents.page_frame import frame_words
from configurator.documents.paged_document import pdf_bytes
from configurator.documents.paragraphs import bullets, small, words
from configurator.documents.signature_lines import signature_lines
from configurator.documents.styles import CELL
from configurator.documents.tables import headed_table

TITLE = "Change order"
CAUTIONS = (
    "A computed check is not an approval. Masses, axle loads and range are confirmed on the "
    "finished vehicle by competent persons.",
    "Beyond the limit of an axle, tyre or wheel the vehicle can break or leave the road: keep to "
    "the loads stated, and have the vehicle weighed.",
    "Nothing is changed on a spoken word: the change counts once both have signed.",
)


@dataclass(frozen=True)
class ChangeOrderContent:
    """What a change order says."""

    number: int
    from_letter: str
    stage_label: str
    """The stage the vehicle is in."""
    late_change_percent: Decimal
    differences: SpecDifferences
    late_change_gbp: Decimal
    payments: tuple[DuePayment, ...]
    """After the change; empty while the price of the order is a from–to."""
    answered: tuple[WarningAnswered, ...] = ()
    """Why the work goes on although a check of the proposed spec warns."""
    written: str = ""
    """When and by whom, in words; empty while it is not written."""


def change_order_pdf(spec: Spec, content: ChangeOrderContent) -> bytes:
    """Write a change order.

    Parameters
    ----------
    spec : Spec
        The proposed one.
    content : ChangeOrderContent
        What differs, and what it costs.

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


def _written(content: ChangeOrderContent) -> str:
    return f" Written on {content.written}." if content.written else ""


def _story(spec: Spec, content: ChangeOrderContent) -> list[Flowable]:
    return [
        sheet_heading(f"{TITLE} C{content.number}, {spec.build.reference}", "opening"),
        words(
            f"For {spec.build.customer.name}: {spec.vehicle.label}. It changes issued spec "
            f"{content.from_letter}, while the vehicle is in the stage "
            f"“{content.stage_label}”.{_written(content)}"
        ),
        *_sections(spec, content),
        KeepTogether(
            joined(
                [
                    sheet_heading("Cautions", "cautions"),
                    *bullets(CAUTIONS, CELL),
                    sheet_heading("Signatures", "signatures"),
                    *_signatures(spec, content),
                ]
            )
        ),
    ]


def _sections(spec: Spec, content: ChangeOrderContent) -> list[Flowable]:
    """Set what differs under its headings, and name in one line what stays as it is."""
    found = content.differences
    sections = (
        ("Choices", _words_table("Question", found.choices)),
        ("Survey of the donor", _words_table("Part, or donor", found.survey)),
        ("Price and payments", [*_price(content), *_payments(content)]),
        ("Masses, axle loads and range", _figures([*found.masses, *found.ranges])),
        ("Handover", _handover(found)),
        ("Texts for the owner", _texts(found)),
        ("What the checks find", _findings(found)),
    )
    told = [
        flowable
        for number, (title, blocks) in enumerate(sections)
        if blocks
        for flowable in (sheet_heading(title, f"section-{number}"), *blocks)
    ]
    same = [f"{title[:1].lower()}{title[1:]}" for title, blocks in sections if not blocks]
    return [
        *told,
        sheet_heading("Warnings, and why the work goes on", "warnings"),
        *answered_warnings(spec.findings, content.answered),
        *([small(f"Unchanged: {'; '.join(same)}.")] if same else []),
    ]


def _words_table(head: str, changed: Sequence[WordsChanged]) -> list[Flowable]:
    if not changed:
        return []
    rows = [(item.label, item.before or "—", item.after or "—") for item in changed]
    return [headed_table((head, "Until now", "From now on"), rows, (0.24, 0.38, 0.38))]


def _price(content: ChangeOrderContent) -> list[Flowable]:
    found = content.differences
    rows = [
        (
            line.label,
            "—" if line.before_gbp is None else pounds(line.before_gbp),
            "—" if line.after_gbp is None else pounds(line.after_gbp),
            pounds(line.change_gbp),
        )
        for line in found.lines
    ]
    percent = f"{content.late_change_percent.normalize():f} %"
    late = f"Late change, {percent} of the dearer choice, old or new"
    rows.append((late, "", "", pounds(content.late_change_gbp)))
    total = found.price_change_gbp + content.late_change_gbp
    rows.append(("This change, with VAT", "", "", pounds(total)))
    before, after = pounds_span(*found.total_before_gbp), pounds_span(*found.total_after_gbp)
    return [
        headed_table(
            ("Line, with VAT", "Until now", "From now on", "Change"),
            rows,
            (0.49, 0.17, 0.17, 0.17),
            figures=(1, 2, 3),
            has_total=True,
        ),
        words(f"This change {price_change_in_words(total, pounds)}, with VAT."),
        small(f"Price of the spec until now {before}, from now on {after}, without late changes."),
    ]


def _payments(content: ChangeOrderContent) -> list[Flowable]:
    if not content.payments:
        return [small("Stage payments are set once every choice is made.")]
    rows = [
        (
            payment.stage_label,
            pounds(payment.ordered_gbp),
            pounds(payment.amount_gbp),
            "has fallen due, stays as it is" if payment.has_fallen_due else "",
        )
        for payment in content.payments
    ]
    ordered = sum((payment.ordered_gbp for payment in content.payments), Decimal(0))
    amount = sum((payment.amount_gbp for payment in content.payments), Decimal(0))
    rows.append(("All stages", pounds(ordered), pounds(amount), ""))
    head = ("Stage payment, with VAT", "As ordered", "With all changes", "")
    return [headed_table(head, rows, (0.34, 0.18, 0.2, 0.28), figures=(1, 2), has_total=True)]


def _figures(spans: Sequence[SpanChanged]) -> list[Flowable]:
    rows = [
        (
            found.label,
            _from_to(found.before, found.unit),
            _from_to(found.after, found.unit),
            "" if found.limit is None else _from_to(found.limit, found.unit),
        )
        for found in spans
    ]
    # What differs by less than is printed says nothing to whoever signs.
    rows = [row for row in rows if row[1] != row[2]]
    if not rows:
        return []
    head = ("", "Until now, computed", "From now on, computed", "Limit")
    return [headed_table(head, rows, (0.34, 0.24, 0.24, 0.18), figures=(1, 2, 3))]


def _from_to(found: tuple[float, float] | None, unit: str) -> str:
    return "—" if found is None else span(*found, unit=unit)


def _handover(found: SpecDifferences) -> list[Flowable]:
    if found.handover is None:
        return []
    before, after = days_span(*found.handover.before), days_span(*found.handover.after)
    told = f"Earliest handover until now {before}, from now on {after}; computed, no promise."
    return [words(told)]


def _texts(found: SpecDifferences) -> list[Flowable]:
    if not found.texts:
        return []
    others = [f"{text.title}: {text.how}." for text in found.texts if not text.is_safety]
    told = [flowable for text in found.texts if text.is_safety for flowable in _safety_text(text)]
    return [*told, *([words("Other texts:"), *bullets(others, CELL)] if others else [])]


def _safety_text(text: TextChanged) -> list[Flowable]:
    """Set the old sentences beside the new ones: both sides sign for what keeps people safe."""
    rows = [(before or "—", after or "—") for before, after in text.sentences]
    title = subheading(f"{text.title}: {text.how}, a safety text")
    if not rows:
        return [title, small("Its sentences stay; who stands for it, or until when, is new.")]
    if text.how == "changed":
        return [title, headed_table(("Until now", "From now on"), rows, (0.5, 0.5))]
    head, side = ("It will say", 1) if text.how == "new" else ("It will no longer say", 0)
    return [title, headed_table((head,), [(row[side],) for row in rows], (1.0,))]


def _findings(found: SpecDifferences) -> list[Flowable]:
    told = [
        item.model_copy(update={"label": SEVERITY_WORDS.get(item.label, item.label)})
        for item in found.findings
    ]
    return _words_table("How serious", told)


def _signatures(spec: Spec, content: ChangeOrderContent) -> list[Flowable]:
    said = f"agrees to change order C{content.number} of {spec.build.reference}, spec "
    short = content.differences.after_sha256[:12]
    return [signature_lines(f"{who} {said}{short}.") for who in ("The customer", "The workshop")]
