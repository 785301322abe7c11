"""When the work can start and the earliest handover."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Plan
from configurator.documents.figures import day, days_span, span
from configurator.documents.noted import Noted
from configurator.documents.paragraphs import small
from configurator.documents.tables import pairs_table


def plan_blocks(plan: Plan) -> list[Flowable]:
    """Show the dates, with the hours they come from."""
    dates = pairs_table(
        [
            ("Work can start", day(plan.start)),
            ("Earliest handover", days_span(plan.earliest_handover, plan.latest_handover)),
        ]
    )
    if not plan.stages:
        return [dates]
    hours = ", ".join(
        f"{stage.label} {span(stage.hours_low, stage.hours_high, 1, 'h')}"
        for stage in plan.stages
        if stage.hours_high
    )
    told = small(f"Computed from working hours ({hours}) and lead times; no promise.")
    return [Noted(dates, told)]
