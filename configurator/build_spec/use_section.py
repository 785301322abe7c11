"""How the vehicle will be built: the plan, and what is still open."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from decimal import Decimal

from configurator.build_spec.compiled import Compiled
from configurator.build_spec.extremes import Asking
from configurator.build_spec.facts import Extent, latest_finish
from configurator.build_spec.settle import Settled
from configurator.build_spec.spec import OpenGroup, Plan, PlanStage
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.rule import FactName
from configurator.pricing.finish import whole_days
from configurator.rules.problem import Quantity
from configurator.units import DAYS_PER_WEEK

Extents = Mapping[tuple[FactName, str | None], Extent]


def plan_section(
    compiled: Compiled, settled: Settled, build: BuildInput, extents: Extents, asking: Asking
) -> Plan:
    """Tell when the work can start and the earliest handover, without and with the allowance."""
    workshop, plan = compiled.catalog.workshop, compiled.book.plan
    latest = None
    if settled.is_possible and len(settled.choices) < len(compiled.offer.groups):
        latest = latest_finish(asking, plan.allowed_paths)
    if latest is None:
        filled = {**compiled.offer.house_choices(), **settled.choices}
        latest = max(path.of(filled) for path in plan.allowed_paths)
    soonest_days = round(extents["handover_weeks", None].low * DAYS_PER_WEEK)
    return Plan(
        start=build.priced_on + timedelta(weeks=workshop.queue_weeks),
        earliest_handover=build.priced_on + timedelta(days=soonest_days),
        latest_handover=build.priced_on
        + timedelta(days=whole_days(latest, workshop.hours_per_week)),
        stages=tuple(
            PlanStage(
                stage_id=stage.id,
                label=stage.label,
                hours_low=Decimal(low) / 10,
                hours_high=Decimal(high) / 10,
            )
            for number, stage in enumerate(compiled.catalog.stages)
            for low, high in [group_by_group(plan.hours_by_stage[number], compiled, settled)]
        ),
    )


def group_by_group(quantity: Quantity, compiled: Compiled, settled: Settled) -> tuple[int, int]:
    """Bound a sum by the least and greatest of each open group, without regard to rules."""
    low = high = quantity.constant
    for group in compiled.offer.groups:
        chosen = settled.choices.get(group.id)
        weights = [
            quantity.weights.get((group.id, option.id), 0)
            for option in group.options
            if chosen is None or option.id == chosen
        ]
        low, high = low + min(weights), high + max(weights)
    return low, high


def open_groups(
    compiled: Compiled, settled: Settled, build: BuildInput, plan: Plan
) -> tuple[OpenGroup, ...]:
    """List what is open, with the day by which it must be closed.

    The day is when its closing stage would begin if the work went without a pause, and never later
    than the order of a late part for that stage; common practice, no source.
    """
    catalog = compiled.catalog
    found = []
    for group in compiled.offer.groups:
        if group.id in settled.choices:
            continue
        closes = catalog.stage_order[group.closes_at]
        hours_before = sum((stage.hours_low for stage in plan.stages[:closes]), Decimal(0))
        weeks_before = float(hours_before / catalog.workshop.hours_per_week)
        lead_weeks = max(option.lead_weeks for option in group.options)
        begins = plan.start + timedelta(weeks=weeks_before)
        found.append(
            OpenGroup(
                group_id=group.id,
                group_label=group.label,
                part_id=group.part,
                closes_at=catalog.stages[closes].label,
                close_by=max(build.priced_on, begins - timedelta(weeks=lead_weeks)),
                possible_options=sum(settled.available[group.id].values()),
            )
        )
    return tuple(found)
