"""The facts of a build as from–to over everything still open."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from configurator.build_spec.drive_extremes import drive_extremes
from configurator.build_spec.extremes import Asking, share_extremes, sum_extremes
from configurator.build_spec.fact_book import FactBook
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.spec import Fact
from configurator.build_spec.sum_facts import MarginFact, SumFact
from configurator.catalog.models.rule import FactName
from configurator.pricing.finish import whole_days
from configurator.units import DAYS_PER_WEEK

STORED_DECIMALS = 3
"""Facts are stored to this many decimals, so that every machine stores the same."""


@dataclass(frozen=True)
class Extent:
    """A fact's least and greatest over all builds still possible."""

    name: FactName
    case: str | None
    low: float
    high: float

    def as_fact(self) -> Fact:
        """Write it for the spec."""
        label = FACT_LABELS[self.name]
        low, high = round(self.low, STORED_DECIMALS), round(self.high, STORED_DECIMALS)
        return Fact(
            name=self.name, case=self.case, label=label.label, unit=label.unit, low=low, high=high
        )


def extents_of_complete(book: FactBook, choices: Mapping[str, str]) -> list[Extent]:
    """Compute every fact of complete choices."""
    parts = book.parts_of(choices)
    values: list[tuple[FactName, str | None, float | None]] = [
        (fact.name, None, fact.value(fact.quantity.of(choices))) for fact in book.sum_facts
    ]
    values += [
        (fact.name, None, fact.value(parts, fact.quantity.of(choices)))
        for fact in book.margin_facts
    ]
    values += [
        (fact.name, fact.case, fact.evaluate([book.state(fact, choices)])[0])
        for fact in book.drive_facts
    ]
    masses = book.masses
    share = (
        masses.kerb_rear_moment.of(choices) / masses.wheelbase_mm / masses.kerb_g.of(choices)
        - masses.donor_rear_share
    )
    values.append(("rear_share_change_points", None, 100 * float(share)))
    longest = max(path.of(choices) for path in book.plan.paths)
    values.append(("handover_weeks", None, _weeks(book, longest)))
    return [Extent(name, case, v, v) for name, case, v in values if v is not None]


def extents_of_open(book: FactBook, asking: Asking) -> list[Extent]:
    """Compute the exact least and greatest of every fact over all completions of the picks."""
    extents = [_sum_extent(asking, fact) for fact in book.sum_facts]
    extents += [_margin_extent(asking, book, fact) for fact in book.margin_facts]
    for fact in book.drive_facts:
        found = drive_extremes(asking, book.offer, fact, book.mass_of(fact))
        if found is not None:
            extents.append(Extent(fact.name, fact.case, found[0].value, found[1].value))
    extents += [_share_extent(asking, book), _finish_extent(asking, book)]
    return [extent for extent in extents if extent is not None]


def _sum_extent(asking: Asking, fact: SumFact) -> Extent | None:
    found = sum_extremes(asking, fact.quantity)
    if found is None:
        return None
    low, high = sorted(fact.value(total) for total in found)
    return Extent(fact.name, None, low, high)


def _margin_extent(asking: Asking, book: FactBook, fact: MarginFact) -> Extent | None:
    """Ask for each combination of the components that set the bound."""
    lows, highs = [], []
    picked = {group: frozenset({option}) for group, option in asking.picks.items()}
    for region in book.slot_regions(fact.slots, picked):
        least, greatest = (
            asking.least(fact.quantity, region),
            asking.greatest(fact.quantity, region),
        )
        if least is None or greatest is None:
            continue
        parts = book.parts_of(least[1])
        low, high = fact.value(parts, greatest[0]), fact.value(parts, least[0])
        if low is not None and high is not None:
            lows.append(low)
            highs.append(high)
    return Extent(fact.name, None, min(lows), max(highs)) if lows else None


def _share_extent(asking: Asking, book: FactBook) -> Extent | None:
    masses = book.masses
    found = share_extremes(asking, masses.kerb_rear_moment, masses.kerb_g)
    if found is None:
        return None
    low, high = (
        100 * float(ratio / masses.wheelbase_mm - masses.donor_rear_share) for ratio in found
    )
    return Extent("rear_share_change_points", None, low, high)


def _finish_extent(asking: Asking, book: FactBook) -> Extent | None:
    soonest = asking.engine.least_greatest(book.plan.paths, asking.picks)
    ends = [asking.greatest(path, {}) for path in book.plan.paths]
    if soonest is None:
        return None
    latest = max(end[0] for end in ends if end is not None)
    return Extent("handover_weeks", None, _weeks(book, soonest[0]), _weeks(book, latest))


def _weeks(book: FactBook, ticks: int) -> float:
    return whole_days(ticks, book.around.catalog.workshop.hours_per_week) / DAYS_PER_WEEK
