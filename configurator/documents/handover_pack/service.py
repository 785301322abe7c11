"""Service schedule."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import words
from configurator.documents.tables import fill_in_table
from configurator.documents.text_blocks import text_blocks


def service_blocks(spec: Spec) -> list[Flowable]:
    """Print the workshop's schedule, then rows for the services done."""
    return [
        words("Brakes, steering, tyres and the drive are serviced by competent persons only."),
        *text_blocks(spec, "service"),
        subheading("Services done"),
        fill_in_table(
            ("Date", "Distance", "Work done", "Next due", "By, signature"), (2, 2, 5, 2, 4), 6
        ),
    ]
