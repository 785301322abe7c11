"""The workshop's texts for a section, each with who stands for it."""

from __future__ import annotations

from reportlab.platypus import Flowable, Paragraph

from configurator.build_spec.spec import Spec
from configurator.catalog.models.data import Source
from configurator.catalog.models.text import Section, Text
from configurator.documents.figures import day
from configurator.documents.headings import subheading
from configurator.documents.markdown_flowables import markdown_flowables
from configurator.documents.paragraphs import small
from configurator.documents.safety_panel import safety_panel

_LONGEST_KEPT_WHOLE = 2000
"""A longer paragraph [characters] would leave half a page blank before it."""


def text_blocks(spec: Spec, *sections: Section) -> list[Flowable]:
    """Print every text of the sections, in order; an empty list when there is none."""
    return [
        flowable
        for section in sections
        for text in texts_of(spec, section)
        for flowable in _text(text)
    ]


def texts_of(spec: Spec, section: Section) -> list[Text]:
    """Find the texts of one section in their order."""
    return sorted((t for t in spec.texts if t.section == section), key=lambda t: (t.order, t.id))


def body_blocks(text: Text) -> list[Flowable]:
    """Print safety message and body of a text, without its title."""
    panel = [safety_panel(text.safety)] if text.safety is not None else []
    return [*panel, *markdown_flowables(text.body)]


def source_words(source: str | Source) -> str:
    """Say where something comes from, in one line."""
    if isinstance(source, str):
        return source
    clause = f", {source.clause}" if source.clause else ""
    looked = f" (looked up {day(source.checked_on)})" if source.checked_on else ""
    return f"{source.title}{clause}{looked}"


def _text(text: Text) -> list[Flowable]:
    stands_for = (
        f"Text in the care of the {text.approver.lower()}, review by {day(text.review_by)}. "
        f"Source: {source_words(text.source)}"
    )
    blocks = body_blocks(text)
    last = blocks[-1]
    if isinstance(last, Paragraph) and len(last.getPlainText()) <= _LONGEST_KEPT_WHOLE:
        # So that the line on who stands for a text never begins a page alone.
        last.keepWithNext = True
    return [subheading(text.title), *blocks, small(stands_for)]
