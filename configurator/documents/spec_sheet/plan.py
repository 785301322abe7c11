"""When the work can start and the earliest handover."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Plan
from configurator.documents.figures import day, days_span, span
from configurator.documents.paragraphs import small
from configurator.documents.tables import headed_table, pairs_table


def plan_blocks(plan: Plan) -> list[Flowable]:
    """Show the dates, and the hours of each stage."""
    dates = pairs_table(
        [
            ("Work can start", day(plan.start)),
            ("Earliest handover", days_span(plan.earliest_handover, plan.latest_handover)),
        ]
    )
    if not plan.stages:
        return [dates]
    rows = [(stage.label, span(stage.hours_low, stage.hours_high, 1, "h")) for stage in plan.stages]
    table = headed_table(("Stage", "Working hours, computed"), rows, (0.6, 0.4), figures=(1,))
    return [dates, table, small("Dates are computed from hours and lead times; no promise.")]
