"""The emergency sheet: two views and ten sections in the order of ISO 17840-1, on its own pages."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.catalog.models.text import Section
from configurator.documents.figures import day
from configurator.documents.handover_pack.emergency_facts import (
    access_facts,
    additional_facts,
    disable_facts,
    fire_facts,
    identification_facts,
    immobilise_facts,
    stored_energy_facts,
    submersion_facts,
    towing_facts,
)
from configurator.documents.handover_pack.emergency_views import emergency_pictures, pictogram_table
from configurator.documents.headings import Heading, minor_heading
from configurator.documents.markdown_flowables import markdown_flowables
from configurator.documents.paragraphs import cell, small
from configurator.documents.safety_panel import safety_panel
from configurator.documents.styles import CELL, CELL_STRONG, SUBSECTION
from configurator.documents.text_blocks import texts_of

LONGEST_SHEET_PAGES: Final = 4
"""Greatest length of a rescue sheet. Source: ISO 17840-1."""

Facts = Callable[[Spec], list[Flowable]]

PARTS: Final[tuple[tuple[str, Section, Facts], ...]] = (
    ("Identification", "emergency-identification", identification_facts),
    ("Immobilisation, stabilisation and lifting", "emergency-immobilise", immobilise_facts),
    ("Disable direct hazards", "emergency-disable", disable_facts),
    ("Access to the occupants", "emergency-access", access_facts),
    ("Stored energy, liquids, gases and solids", "emergency-stored-energy", stored_energy_facts),
    ("In case of fire", "emergency-fire", fire_facts),
    ("In case of submersion", "emergency-submersion", submersion_facts),
    ("Towing, transportation and storage", "emergency-towing", towing_facts),
    ("Important additional information", "emergency-additional", additional_facts),
)
"""Title, section of texts and computed content, in the order of ISO 17840-1."""

LAST_TITLE: Final = "Explanation of pictograms"
OWN_SYMBOLS: Final = "The symbols are the workshop's own; they are not those of a standard."


def emergency_sheet_blocks(spec: Spec) -> list[Flowable]:
    """Print views with legend, then the ten sections."""
    blocks: list[Flowable] = [
        cell(
            "Behind the driver's visor. For rescue services and recovery: this vehicle was "
            "converted to battery-electric drive. Local procedures come first.",
            CELL_STRONG,
        ),
        *emergency_pictures(spec),
    ]
    for number, (title, section, facts) in enumerate(PARTS, start=1):
        blocks.append(_heading(number, title))
        blocks.extend(facts(spec))
        blocks.extend(_texts(spec, section))
    blocks.append(_heading(len(PARTS) + 1, LAST_TITLE))
    blocks.extend(pictogram_table(spec))
    blocks.append(small(f"{OWN_SYMBOLS} {_stands_for(spec)}"))
    return blocks


def _heading(number: int, title: str) -> Heading:
    style = SUBSECTION.clone("sheet-part", spaceBefore=6, spaceAfter=2)
    return Heading(f"{number}. {title}", style, key=f"emergency-{number}", level=1)


def _texts(spec: Spec, section: Section) -> list[Flowable]:
    blocks: list[Flowable] = []
    for text in texts_of(spec, section):
        blocks.append(minor_heading(text.title))
        if text.safety is not None:
            blocks.append(safety_panel(text.safety))
        blocks.extend(markdown_flowables(text.body, CELL))
    return blocks


def _stands_for(spec: Spec) -> str:
    texts = [text for text in spec.texts if text.section.startswith("emergency-")]
    if not texts:
        return "The workshop's catalog has no emergency texts for this vehicle."
    approvers = ", ".join(sorted({text.approver for text in texts}))
    earliest = min(text.review_by for text in texts)
    return f"Texts approved by {approvers}; to be reviewed by {day(earliest)}."
