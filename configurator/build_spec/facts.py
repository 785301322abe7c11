"""The facts of a build as from–to over everything still open."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from configurator.build_spec.drive_extremes import drive_extreme
from configurator.build_spec.drive_facts import DriveFact
from configurator.build_spec.extremes import Asking, share_extremes, sum_extremes
from configurator.build_spec.fact_book import FactBook
from configurator.build_spec.fact_names import FACT_LABELS
from configurator.build_spec.limit_forms import LimitForms
from configurator.build_spec.ratio_facts import RatioFact
from configurator.build_spec.spec import Fact
from configurator.build_spec.sum_facts import MarginFact, SumFact
from configurator.catalog.models.rule import FactName
from configurator.pricing.finish import whole_days
from configurator.rules.problem import Quantity
from configurator.units import DAYS_PER_WEEK

STORED_DECIMALS = 3
"""Facts are stored to this many decimals, so that every machine stores the same."""

OPEN_FACTS: frozenset[FactName] = frozenset(FACT_LABELS) - {
    "range_mid_km",
    "consumption_wh_per_km",
}
"""Facts of physics that are told while choices are open."""


ALWAYS_TOLD: frozenset[FactName] = frozenset({"rear_share_change_points"})
"""Facts of the centre of gravity that are told while choices are open, wanted or not."""


@dataclass(frozen=True)
class Extent:
    """A fact's least and greatest over all builds still possible.

    While choices are open the low edge of a range is told by its least and the high edge by its
    greatest alone.
    """

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
    values += [(fact.name, None, fact.of(choices)) for fact in book.ratio_facts]
    longest = max(path.of(choices) for path in book.plan.paths)
    values.append(("handover_weeks", None, _weeks(book, longest)))
    return [Extent(name, case, v, v) for name, case, v in values if v is not None]


def extents_of_open(
    book: FactBook,
    asking: Asking,
    limits: Sequence[LimitForms],
    range_limit_reached: Callable[[str | None], float | None],
    wanted: Callable[[FactName, str | None], bool],
) -> list[Extent]:
    """Compute the exact least and greatest of facts over all completions of the picks.

    Parameters
    ----------
    book : FactBook
        The facts of the build.
    asking : Asking
        The engine with the picks.
    limits : sequence of LimitForms
        The limits that block.
    range_limit_reached : callable
        Gives the limit on a driving case's shortest range, where some build comes near to it.
    wanted : callable
        Which facts of physics and of the centre of gravity are wanted, by name and case; masses,
        axle loads and price always are.
    """
    extents: list[Extent | None] = [_sum_extent(asking, fact, limits) for fact in book.sum_facts]
    extents += [_margin_extent(asking, book, fact, limits) for fact in book.margin_facts]
    for fact in book.drive_facts:
        if wanted(fact.name, fact.case) and fact.name in OPEN_FACTS:
            at_limit = range_limit_reached(fact.case) if fact.name == "range_low_km" else None
            extents.append(
                _drive_extent(asking, book, fact)
                if at_limit is None
                else Extent(fact.name, fact.case, at_limit, at_limit)
            )
    extents += [
        _ratio_extent(asking, fact, limits)
        for fact in book.ratio_facts
        if fact.name in ALWAYS_TOLD or wanted(fact.name, None)
    ]
    extents.append(_finish_extent(asking, book))
    return [extent for extent in extents if extent is not None]


def _drive_extent(asking: Asking, book: FactBook, fact: DriveFact) -> Extent | None:
    """Search both ends; of a range only the end that its band shows while choices are open."""

    def end(*, favourable: bool) -> float | None:
        found = drive_extreme(
            asking,
            book.offer,
            fact,
            book.dependence(fact),
            book.mass_of(fact),
            favourable=favourable,
        )
        return None if found is None else found.value

    ends = []
    if fact.name != "range_high_km":
        ends.append(end(favourable=False))
    if fact.name != "range_low_km":
        ends.append(end(favourable=True))
    told = [value for value in ends if value is not None]
    return Extent(fact.name, fact.case, min(told), max(told)) if told else None


def _sum_extent(asking: Asking, fact: SumFact, limits: Sequence[LimitForms]) -> Extent | None:
    found = sum_extremes(asking, fact.quantity, gap_of(fact))
    if found is None:
        return None
    low, high = sorted(fact.value(total) for total in found)
    return _told_within(fact.name, low, high, limits)


def _told_within(
    name: FactName,
    low: float,
    high: float,
    limits: Sequence[LimitForms],
) -> Extent:
    """Tell an end that its gap takes beyond a limit as at the limit: every build keeps that."""
    for forms in limits:
        if forms.limit.limit == name and forms.limit.at_least is not None:
            low = max(low, forms.bound)
        if forms.limit.limit == name and forms.limit.at_most is not None:
            high = min(high, forms.bound)
    return Extent(name, None, low, high)


def gap_of(fact: SumFact | MarginFact) -> int:
    """Tell by how little an end may be missed where finding it takes long: half of the unit.

    The price is told to the penny, so that no two places tell another one.
    """
    return 0 if fact.name == "price_gbp" else fact.per_unit // 2


def _margin_extent(
    asking: Asking,
    book: FactBook,
    fact: MarginFact,
    limits: Sequence[LimitForms],
) -> Extent | None:
    low = _margin_end(asking, book, fact, greatest=False)
    high = _margin_end(asking, book, fact, greatest=True)
    return None if low is None or high is None else _told_within(fact.name, low, high, limits)


def _margin_end(
    asking: Asking, book: FactBook, fact: MarginFact, *, greatest: bool
) -> float | None:
    """Search the components that set the bound, the most promising first.

    No region's sum beats that of all builds together, which bounds each region without a question.
    """
    ask = asking.least if greatest else asking.greatest
    sign = 1 if greatest else -1
    overall = ask(fact.quantity, {}, gap_of(fact))
    if overall is None:
        return None
    picked = {group: frozenset({option}) for group, option in asking.picks.items()}
    hopes = []
    for region in book.slot_regions(fact.slots, picked):
        hope = fact.value(book.parts_in({**picked, **region}), overall[0])
        if hope is not None:
            hopes.append((sign * hope, region))
    best = fact.value(book.parts_of(overall[1]), overall[0])
    for hope, region in sorted(hopes, key=lambda pair: -pair[0]):
        if best is not None and hope <= sign * best:
            break
        found = ask(fact.quantity, region, gap_of(fact))
        value = None if found is None else fact.value(book.parts_of(found[1]), found[0])
        if value is not None and (best is None or sign * value > sign * best):
            best = value
    return best


def _ratio_extent(asking: Asking, fact: RatioFact, limits: Sequence[LimitForms]) -> Extent | None:
    found = share_extremes(asking, fact.part, fact.whole, fact.gap)
    if found is None:
        return None
    low, high = sorted(fact.value(ratio) for ratio in found)
    return _told_within(fact.name, low, high, limits)


def _finish_extent(asking: Asking, book: FactBook) -> Extent | None:
    soonest = asking.engine.least_peak(book.plan.paths, asking.picks)
    latest = latest_finish(asking, book.plan.paths)
    if soonest is None or latest is None:
        return None
    return Extent("handover_weeks", None, _weeks(book, soonest), _weeks(book, latest))


def latest_finish(asking: Asking, paths: Sequence[Quantity]) -> int | None:
    """Find the greatest of several sums [ticks], asking only those that may still be it."""
    latest: int | None = None
    for path in sorted(paths, key=_most, reverse=True):
        if latest is not None and _most(path) <= latest:
            break
        found = asking.greatest(path, {})
        if found is not None and (latest is None or found[0] > latest):
            latest = found[0]
    return latest


def _most(path: Quantity) -> int:
    """Bound a sum by the greatest weight of each group."""
    greatest: dict[str, int] = {}
    for (group, _), weight in path.weights.items():
        greatest[group] = max(weight, greatest.get(group, 0))
    return path.constant + sum(greatest.values())


def _weeks(book: FactBook, ticks: int) -> float:
    return whole_days(ticks, book.around.catalog.workshop.hours_per_week) / DAYS_PER_WEEK
