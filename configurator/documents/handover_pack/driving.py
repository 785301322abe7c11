"""Controls and driving, and range by season and road."""

from __future__ import annotations

from reportlab.platypus import Flowable

from configurator.build_spec.spec import Spec
from configurator.catalog.models.rule import FactName
from configurator.documents.fact_rows import fact_rows
from configurator.documents.headings import subheading
from configurator.documents.paragraphs import bullets
from configurator.documents.performance_table import performance_blocks
from configurator.documents.range_table import range_blocks
from configurator.documents.tables import pairs_table
from configurator.documents.text_blocks import text_blocks

_FACTS: tuple[FactName, ...] = ("top_speed_km_h", "hill_restart_percent", "cruise_power_margin_kw")


def driving_blocks(spec: Spec) -> list[Flowable]:
    """Show the controls step by step, what the drive can do, range, then the workshop's texts."""
    ability = _ability(spec)
    return [
        *([subheading("Controls")] if spec.vehicle.controls else []),
        *bullets(spec.vehicle.controls, numbered=True),
        *text_blocks(spec, "controls"),
        *([subheading("What the drive can do"), *ability] if ability else []),
        subheading("Range by season and road"),
        *range_blocks(spec),
        *text_blocks(spec, "range"),
    ]


def _ability(spec: Spec) -> list[Flowable]:
    """Show what the drive can do, each number with its limit; else the facts alone."""
    if spec.performance:
        return performance_blocks(spec.performance)
    rows = fact_rows(spec, _FACTS)
    return [pairs_table(rows)] if rows else []
