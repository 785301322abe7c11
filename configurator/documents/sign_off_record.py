"""The sign-off record: who answers for which part of one issued spec, and for which warnings."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime

from reportlab.platypus import Flowable

from configurator.build_life.customers_order import how_it_was_ordered
from configurator.build_life.entries import SpecIssued
from configurator.build_life.life import Life
from configurator.build_life.sections import sections_in_words
from configurator.build_life.sign_off_state import (
    SignOffState,
    VoidedSignature,
    one_signer_too_few,
    sign_off_states,
    voided_signatures,
)
from configurator.build_spec.spec import Spec
from configurator.catalog.models.workshop import SignOff
from configurator.documents.answered_warnings import answered_warnings
from configurator.documents.figures import day
from configurator.documents.headings import joined, sheet_heading
from configurator.documents.page_frame import frame_words
from configurator.documents.paged_document import pdf_bytes
from configurator.documents.paragraphs import bullets, small, words
from configurator.documents.styles import CELL
from configurator.documents.tables import headed_table

TITLE = "Sign-off record"
MARK = "For the workshop. The workshop's own check; it approves nothing to an authority."
WHAT_IT_IS = (
    "Each signature was given for exactly this content, which the hashes prove. A computed check "
    "is not an approval: competent persons measure on the finished vehicle and decide, by the "
    "codes of the place."
)


def sign_off_record_pdf(spec: Spec, life: Life, sign_offs: Sequence[SignOff]) -> bytes:
    """Write the sign-off record of the issued spec that counts.

    Parameters
    ----------
    spec : Spec
        The issued one.
    life : Life
        Of the build; its last letter is of this spec.
    sign_offs : sequence of SignOff
        Of the workshop.

    Returns
    -------
    bytes
        A PDF; the same arguments give the same bytes.

    Raises
    ------
    DocumentError
        D003 when something has no room on a page.
    """
    issued = life.issued
    story = [] if issued is None else _story(spec, life, issued, sign_offs)
    return pdf_bytes(joined(story), frame_words(spec, TITLE, MARK))


def _story(
    spec: Spec, life: Life, issued: SpecIssued, sign_offs: Sequence[SignOff]
) -> list[Flowable]:
    entry = life.entry_of(issued)
    return [
        sheet_heading(f"{TITLE}: {spec.build.reference}, spec {issued.letter}", "opening"),
        words(f"{spec.vehicle.label}. Issued by {entry.by.in_words}, {_moment(entry.made_at)}."),
        words(how_it_was_ordered(life, issued)),
        *([words(f"Why: {issued.because}.")] if issued.because else []),
        small(f"SHA-256 of the spec: {issued.spec_sha256}"),
        small(f"SHA-256 of the entry with all before it: {entry.sha256}"),
        words(WHAT_IT_IS),
        sheet_heading("Signatures", "signatures"),
        _signatures(sign_off_states(life, sign_offs)),
        *bullets(one_signer_too_few(life, sign_offs), CELL),
        sheet_heading("Signatures that hold no more", "void"),
        *_void(voided_signatures(life, sign_offs)),
        sheet_heading("Warnings that were answered", "warnings"),
        *answered_warnings(spec.findings, issued.answered),
        sheet_heading("Choices still open", "open"),
        *_open(spec),
        sheet_heading("What each section's content was", "sections"),
        _sections(issued),
    ]


def _signatures(states: Sequence[SignOffState]) -> Flowable:
    rows = [
        (
            state.sign_off.label,
            state.sign_off.statement,
            "MISSING" if state.signed is None else state.signed.by.in_words,
            "" if state.signed is None else _moment(state.signed.made_at),
            state.letter or "",
        )
        for state in states
    ]
    head = ("Sign-off", "What it says", "Signed by", "When", "On spec")
    return headed_table(head, rows, (0.18, 0.36, 0.21, 0.16, 0.09))


def _void(voided: Sequence[VoidedSignature]) -> list[Flowable]:
    if not voided:
        return [small("Every signature that was given holds.")]
    return [*bullets([void.in_words for void in voided], CELL)]


def _open(spec: Spec) -> list[Flowable]:
    if not spec.open_groups:
        return [small("Every choice is made.")]
    rows = [(group.group_label, group.closes_at, day(group.close_by)) for group in spec.open_groups]
    return [headed_table(("Question", "Closed by the stage", "By"), rows, (0.42, 0.33, 0.25))]


def _sections(issued: SpecIssued) -> Flowable:
    names = tuple(issued.section_sha256)
    labels = sections_in_words(names)
    rows = [
        (label.capitalize(), issued.section_sha256[name])
        for name, label in zip(names, labels, strict=True)
    ]
    return headed_table(("Section", "SHA-256"), rows, (0.34, 0.66))


def _moment(made_at: datetime) -> str:
    there = made_at.astimezone(UTC)
    return f"{day(there.date())}, {there:%H:%M} UTC"
