"""The whole handover pack, from its sections in order."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from reportlab.platypus import CondPageBreak, Flowable, NextPageTemplate, PageBreak

from configurator.build_spec.spec import Spec
from configurator.documents.figures import day
from configurator.documents.handover_pack.as_built import as_built_blocks
from configurator.documents.handover_pack.battery import battery_blocks
from configurator.documents.handover_pack.care import care_blocks
from configurator.documents.handover_pack.certificates import certificate_blocks
from configurator.documents.handover_pack.charging import charging_section_blocks
from configurator.documents.handover_pack.checklist import checklist_blocks
from configurator.documents.handover_pack.contents import contents_blocks
from configurator.documents.handover_pack.cover import cover_blocks
from configurator.documents.handover_pack.driving import driving_blocks
from configurator.documents.handover_pack.emergency_sheet import (
    LONGEST_SHEET_PAGES,
    emergency_sheet_blocks,
)
from configurator.documents.handover_pack.faults import fault_blocks
from configurator.documents.handover_pack.high_voltage import high_voltage_blocks
from configurator.documents.handover_pack.how_to_use import how_to_use_blocks
from configurator.documents.handover_pack.notes_space import NotesSpace
from configurator.documents.handover_pack.pack_issue import PackIssue
from configurator.documents.handover_pack.revisions import revision_blocks
from configurator.documents.handover_pack.safety_first import safety_first_blocks
from configurator.documents.handover_pack.section import PackSection, of_spec
from configurator.documents.handover_pack.service import service_blocks
from configurator.documents.handover_pack.warranty import warranty_blocks
from configurator.documents.handover_pack.weights import weight_blocks
from configurator.documents.headings import joined, section_heading
from configurator.documents.page_frame import LooseSheet, frame_words
from configurator.documents.paged_document import LOOSE_SHEET_PAGES, PLAIN_PAGES, pdf_bytes
from configurator.errors import DocumentError, Fault

TITLE: Final = "Handover pack"
DRAFT: Final = "DRAFT — computed values, not measured; not for handover"
DRAFT_WITH_MEASURED: Final = "DRAFT — values are computed unless marked measured; not for handover"

SECTIONS: Final = (
    PackSection("how-to-use", "How to use this pack", of_spec(how_to_use_blocks)),
    PackSection("safety", "Safety first", safety_first_blocks),
    PackSection("as-built", "The vehicle as built", as_built_blocks),
    PackSection("weights", "Weights, loads and tyres", of_spec(weight_blocks)),
    PackSection("driving", "Controls, driving and range", of_spec(driving_blocks)),
    PackSection("charging", "Charging", of_spec(charging_section_blocks)),
    PackSection("care", "Care of what is fitted", of_spec(care_blocks)),
    PackSection("battery", "Battery, laying up and storage", of_spec(battery_blocks)),
    PackSection("high-voltage", "High voltage: do not touch", of_spec(high_voltage_blocks)),
    PackSection("emergency", "Emergency sheet", of_spec(emergency_sheet_blocks), on_own_pages=True),
    PackSection("faults", "Faults and help", of_spec(fault_blocks)),
    PackSection("service", "Service schedule", of_spec(service_blocks)),
    PackSection("certificates", "Test certificates", certificate_blocks),
    PackSection("warranty", "Warranty and end of life", of_spec(warranty_blocks)),
    PackSection("checklist", "Handover checklist and signatures", checklist_blocks),
    PackSection("revisions", "Revisions and machine-readable spec", revision_blocks),
)

_ROOM_TO_START = 190.0
"""A section begins on the next page when less than this is left [pt]."""


def handover_pack_pdf(spec: Spec, issue: PackIssue | None = None) -> bytes:
    """Write the handover pack of a build whose choices are all made.

    Parameters
    ----------
    spec : Spec
        With no group open.
    issue : PackIssue, optional
        What makes it final; without it every page says draft.

    Returns
    -------
    bytes
        A PDF with the spec embedded as `spec.json`; the same spec gives the same bytes.

    Raises
    ------
    DocumentError
        D001 while choices are open, D002 when the emergency sheet would exceed its pages,
        D003 when something has no room on a page.
    """
    _refuse_open_choices(spec)
    mark = _mark(spec, issue)
    sheet_name = f"EMERGENCY SHEET · {spec.vehicle.label} · {spec.build.reference}"
    frame = frame_words(spec, TITLE, mark, LooseSheet(sheet_name, LONGEST_SHEET_PAGES))
    attachments = {"spec.json": spec.canonical_json().encode()}
    return pdf_bytes(list(_story(spec, issue)), frame, attachments)


def _mark(spec: Spec, issue: PackIssue | None) -> str:
    if issue is not None:
        return f"Revision {issue.revision}, {day(issue.issued_on)}"
    return DRAFT if spec.build.as_built is None else DRAFT_WITH_MEASURED


def _refuse_open_choices(spec: Spec) -> None:
    if spec.is_complete:
        return
    names = ", ".join(group.group_label for group in spec.open_groups)
    raise DocumentError(
        [
            Fault(
                "D001",
                f"handover pack of {spec.build.reference}",
                f"still open: {names}; a pack tells the owner what is fitted",
                "Choose an option for each of them, or take the house choices for the rest.",
            )
        ]
    )


def _story(spec: Spec, issue: PackIssue | None) -> Iterator[Flowable]:
    yield from joined(cover_blocks(spec, issue))
    yield PageBreak()
    yield from contents_blocks(SECTIONS)
    for number, section in enumerate(SECTIONS, start=1):
        heading = section_heading(number, section.title, section.key)
        blocks = joined([heading, *section.blocks(spec, issue)])
        if section.on_own_pages:
            yield from _own_pages(blocks)
        else:
            yield CondPageBreak(_ROOM_TO_START)
            yield from blocks
    yield NotesSpace()


def _own_pages(blocks: list[Flowable]) -> Iterator[Flowable]:
    yield NotesSpace()
    yield NextPageTemplate(LOOSE_SHEET_PAGES)
    yield PageBreak()
    yield from blocks
    yield NotesSpace()
    yield NextPageTemplate(PLAIN_PAGES)
    yield PageBreak()
