"""Hours by stage and the finish, as sums over the choices."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import chain

from configurator.build_spec.offer import Offer
from configurator.build_spec.sums import hours_of, sum_over_options
from configurator.build_spec.survey import SurveyedPart
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.group import Group, Option
from configurator.catalog.models.vehicle import Work
from configurator.pricing.finish import week_ticks, work_ticks
from configurator.rules.problem import Quantity
from configurator.units import tenths


@dataclass(frozen=True)
class WorkPlan:
    """Hours [tenths of an hour] and the paths to the finish [ticks], without and with allowance.

    The finish is the greatest of the paths: the queue and all the work, or a late part and the work
    from the stage that needs it.
    """

    hours_by_stage: tuple[Quantity, ...]
    hours: Quantity
    paths: tuple[Quantity, ...]
    allowed_paths: tuple[Quantity, ...]
    """The same with the workshop's allowance on the hours."""


def work_plan(catalog: Catalog, offer: Offer, surveyed: Sequence[SurveyedPart]) -> WorkPlan:
    """Sum the hours of a build by stage and lay out the paths to its finish."""
    stage_count = len(catalog.stages)
    order = catalog.stage_order
    fixed = [*chain.from_iterable(line.work for line in offer.vehicle.base_lines)]
    fixed += chain.from_iterable(part.work for part in surveyed)

    def hours_from(stage: int, work: Sequence[Work], until: int = stage_count) -> Decimal:
        return hours_of([w.hours for w in work if stage <= order[w.stage] < until])

    def tenths_in(stage: int, until: int) -> Quantity:
        return sum_over_options(
            offer,
            tenths(hours_from(stage, fixed, until)),
            lambda option: tenths(hours_from(stage, option.work, until)),
        )

    def path(release_ticks: int, stage: int, group: Group | None, share: Decimal) -> Quantity:
        def weigh(option: Option) -> int:
            return work_ticks(hours_from(stage, option.work) * share)

        everybody = sum_over_options(
            offer, release_ticks + work_ticks(hours_from(stage, fixed) * share), weigh
        )
        return everybody if group is None else _with_arrivals(catalog, everybody, group, stage)

    def paths(share: Decimal) -> tuple[Quantity, ...]:
        per_week = catalog.workshop.hours_per_week
        queue = path(week_ticks(catalog.workshop.queue_weeks, per_week), 0, None, share)
        base = [
            path(week_ticks(line.lead_weeks, per_week), order[line.needed_by], None, share)
            for line in offer.vehicle.base_lines
            if line.lead_weeks and line.needed_by
        ]
        late = [path(0, stage, group, share) for group, stage in _arrivals(catalog, offer)]
        return _undominated([queue, *base, *late])

    allowance = 1 + Decimal(str(catalog.workshop.hours_allowance_percent)) / 100
    return WorkPlan(
        hours_by_stage=tuple(tenths_in(stage, stage + 1) for stage in range(stage_count)),
        hours=tenths_in(0, stage_count),
        paths=paths(Decimal(1)),
        allowed_paths=paths(allowance),
    )


def _arrivals(catalog: Catalog, offer: Offer) -> list[tuple[Group, int]]:
    """List each group with each stage that one of its options brings late parts to."""
    found = {
        (group.id, catalog.stage_order[option.needed_by]): group
        for group, option in offer.pairs()
        if option.lead_weeks and option.needed_by
    }
    return [(group, stage) for (_, stage), group in found.items()]


def _with_arrivals(catalog: Catalog, path: Quantity, group: Group, stage: int) -> Quantity:
    weights = dict(path.weights)
    for option in group.options:
        if option.needed_by and catalog.stage_order[option.needed_by] == stage:
            wait = week_ticks(option.lead_weeks, catalog.workshop.hours_per_week)
            weights[group.id, option.id] = weights.get((group.id, option.id), 0) + wait
    return Quantity(path.constant, weights)


def _undominated(paths: Sequence[Quantity]) -> tuple[Quantity, ...]:
    """Leave out paths that are never longer than another, whatever is chosen."""
    kept: list[Quantity] = []
    for path in paths:
        if not any(_never_longer(path, other) for other in kept):
            kept = [other for other in kept if not _never_longer(other, path)] + [path]
    return tuple(kept)


def _never_longer(path: Quantity, other: Quantity) -> bool:
    most: dict[str, int] = {}
    for pair in path.weights.keys() | other.weights.keys():
        lead = path.weights.get(pair, 0) - other.weights.get(pair, 0)
        most[pair[0]] = max(lead, most.get(pair[0], 0))
    return path.constant - other.constant + sum(most.values()) <= 0
