"""Care of what is fitted."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import words
from configurator.documents.tables import headed_table
from configurator.documents.text_blocks import text_blocks


def care_blocks(spec: Spec) -> list[Flowable]:
    """List what is fitted and in need of care, then the workshop's texts about it."""
    rows = [(choice.option_label, choice.summary) for choice in spec.choices]
    table = headed_table(("Fitted", "What it is"), rows, (0.32, 0.68), strong=(0,))
    return [
        words("The advice below is for what this vehicle has; ask the workshop for anything else."),
        *text_blocks(spec, "care"),
        *([subheading("Fitted to this vehicle"), table] if rows else []),
    ]
