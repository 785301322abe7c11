"""When the work can start and the earliest handover."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Plan
from configurator.documents.figures import day, days_span
from configurator.documents.noted import Noted
from configurator.documents.paragraphs import small
from configurator.documents.tables import pairs_table


def plan_blocks(plan: Plan) -> list[Flowable]:
    """Show the dates, and what they rest on."""
    dates = pairs_table(
        [
            ("Work can start", day(plan.start)),
            ("Earliest handover", days_span(plan.earliest_handover, plan.latest_handover)),
        ]
    )
    return [Noted(dates, small("Computed from working hours and lead times; no promise."))]
