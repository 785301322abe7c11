"""Charging times by source."""

from __future__ import annotations

from collections.abc import Sequence

from reportlab.platypus import Flowable

from configurator.build_spec.charging_result import ChargingLine
from configurator.documents.figures import duration_span, number
from configurator.documents.paragraphs import small
from configurator.documents.tables import headed_table

_SUPPLY = {"ac": "alternating current", "dc": "direct current"}


def charging_blocks(lines: Sequence[ChargingLine]) -> list[Flowable]:
    """Show the time from each source, or say that none is known."""
    if not lines:
        return [small("No charging time is computed: no charger is chosen yet.")]
    rows = [
        (
            line.label,
            _SUPPLY[line.supply],
            f"{number(line.from_percent)} to {number(line.to_percent)} %",
            duration_span(line.low_hours, line.high_hours),
        )
        for line in lines
    ]
    head = ("Source", "Supply", "From and to", "Time, computed, mild weather")
    table = headed_table(head, rows, (0.37, 0.19, 0.16, 0.28), figures=(2, 3))
    return [table]
