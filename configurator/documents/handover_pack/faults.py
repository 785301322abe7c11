"""Faults and help."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.documents.paragraphs import words
from configurator.documents.tables import fill_in_table, pairs_table
from configurator.documents.text_blocks import text_blocks


def fault_blocks(spec: Spec) -> list[Flowable]:
    """Tell whom to call, the workshop's texts, and room to write down what happened."""
    return [
        words("With smoke, fire, a smell of burning or after a crash: use the emergency sheet."),
        pairs_table(
            [
                ("Workshop", spec.workshop.contact),
                ("In an emergency", spec.workshop.emergency_contact),
                ("Tell them", f"Build {spec.build.reference}, {spec.vehicle.label}"),
            ]
        ),
        *text_blocks(spec, "faults"),
        words("What happened, when, and what was done:"),
        fill_in_table(("Date", "Distance", "What happened", "What was done"), (1, 1, 3, 3), 4),
    ]
