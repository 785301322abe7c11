"""The build that comes nearest to keeping a limit, and how its fact comes out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from configurator.build_spec.drive_extremes import drive_extreme
from configurator.build_spec.extremes import NOTHING, Asking, share_extremes
from configurator.build_spec.fact_book import FactBook
from configurator.build_spec.ratio_facts import RatioFact
from configurator.build_spec.sum_facts import MarginFact, SumFact
from configurator.catalog.models.rule import Limit
from configurator.pricing.finish import whole_days
from configurator.rules.narrower import narrower_engine
from configurator.rules.problem import ConditionalLimit, Quantity
from configurator.units import DAYS_PER_WEEK

Choices = Mapping[str, str]


@dataclass(frozen=True)
class Nearest:
    """The best value of a fact, with a build that has it."""

    value: float
    build: Choices


def nearest_build(book: FactBook, asking: Asking, limit: Limit) -> Nearest | None:
    """Find the best that a limit's fact can be: the least where it may be at most, or the greatest.

    Parameters
    ----------
    book : FactBook
        The facts of the build.
    asking : Asking
        The builds to look among; the limit itself does not bind them.
    limit : Limit
        Whose fact is wanted.

    Returns
    -------
    Nearest or None
        None where no build has the fact.
    """
    greatest = limit.at_least is not None
    if limit.limit == "handover_weeks":
        return _soonest(book, asking)
    if (ratio := book.ratio_fact(limit.limit)) is not None:
        return _ratio(asking, ratio, greatest=greatest)
    if (sum_fact := book.sum_fact(limit.limit)) is not None:
        return _sum(asking, sum_fact, greatest=greatest)
    if (margin := book.margin_fact(limit.limit)) is not None:
        return _margin(book, asking, margin)
    drive = book.drive_fact(limit.limit, limit.case)
    if drive is None:
        return None
    found = drive_extreme(
        asking,
        book.offer,
        drive,
        book.dependence(drive),
        book.mass_of(drive),
        favourable=drive.falls == greatest,
    )
    return None if found is None else Nearest(found.value, found.build)


def fact_values(book: FactBook, limit: Limit, builds: Sequence[Choices]) -> list[float | None]:
    """Compute a limit's fact for many complete builds; None where one has no such fact."""
    if limit.limit == "handover_weeks":
        return [_weeks(book, max(path.of(build) for path in book.plan.paths)) for build in builds]
    if (ratio := book.ratio_fact(limit.limit)) is not None:
        return [ratio.of(build) for build in builds]
    if (sum_fact := book.sum_fact(limit.limit)) is not None:
        return [sum_fact.value(sum_fact.quantity.of(build)) for build in builds]
    if (margin := book.margin_fact(limit.limit)) is not None:
        return [margin.value(book.parts_of(b), margin.quantity.of(b)) for b in builds]
    drive = book.drive_fact(limit.limit, limit.case)
    if drive is None:
        return [None] * len(builds)
    return drive.evaluate([book.state(drive, build) for build in builds])


def _sum(asking: Asking, fact: SumFact, *, greatest: bool) -> Nearest | None:
    ask = asking.greatest if greatest == (fact.sign > 0) else asking.least
    found = ask(fact.quantity, {})
    return None if found is None else Nearest(fact.value(found[0]), found[1])


def _margin(book: FactBook, asking: Asking, fact: MarginFact) -> Nearest | None:
    """Search the components that set the bound, those that could leave the greatest margin first.

    No region's sum is less than that of all builds together, which bounds it without a question.
    """
    overall = asking.least(fact.quantity, {})
    if overall is None:
        return None
    picked = {group: frozenset({option}) for group, option in asking.picks.items()}
    hopes = [
        (hope, region)
        for region in book.slot_regions(fact.slots, picked)
        if (hope := fact.value(book.parts_in({**picked, **region}), overall[0])) is not None
    ]
    best: Nearest | None = None
    for hope, region in sorted(hopes, key=lambda pair: -pair[0]):
        if best is not None and hope <= best.value:
            break
        found = asking.least(fact.quantity, region)
        value = None if found is None else fact.value(book.parts_of(found[1]), found[0])
        if found is not None and value is not None and (best is None or value > best.value):
            best = Nearest(value, found[1])
    return best


def _soonest(book: FactBook, asking: Asking) -> Nearest | None:
    ticks = asking.engine.least_peak(book.plan.paths, asking.picks)
    if ticks is None:
        return None
    in_time = [ConditionalLimit("soonest", {}, path, ticks) for path in book.plan.paths]
    found = narrower_engine(asking.engine, limits=in_time).extreme(NOTHING, asking.picks)
    return None if found is None else Nearest(_weeks(book, ticks), found[1])


def _ratio(asking: Asking, fact: RatioFact, *, greatest: bool) -> Nearest | None:
    ratios = share_extremes(asking, fact.part, fact.whole)
    if ratios is None:
        return None
    is_greatest_ratio = greatest == fact.rises
    ratio = ratios[int(is_greatest_ratio)]
    beyond = Quantity(0, fact.beyond(ratio).weights)
    found = asking.greatest(beyond, {}) if is_greatest_ratio else asking.least(beyond, {})
    return None if found is None else Nearest(fact.value(ratio), found[1])


def _weeks(book: FactBook, ticks: int) -> float:
    return whole_days(ticks, book.around.catalog.workshop.hours_per_week) / DAYS_PER_WEEK
