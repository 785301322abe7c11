"""How near any build comes to a wish: the best value of its fact, exactly."""

from __future__ import annotations

from configurator.build_spec.drive_extremes import drive_extreme
from configurator.build_spec.drive_facts import DriveFact
from configurator.build_spec.extremes import NOTHING, Asking, share_extremes
from configurator.build_spec.fact_book import FactBook
from configurator.build_spec.ratio_facts import RatioFact
from configurator.build_spec.slot_classes import Region, slot_regions
from configurator.build_spec.sum_facts import MarginFact, SumFact
from configurator.catalog.models.build import Wish
from configurator.pricing.finish import whole_days
from configurator.units import DAYS_PER_WEEK


def best_reachable(asking: Asking, book: FactBook, wish: Wish) -> float | None:
    """Find the best value of a wish's fact over all builds that have the fact.

    Parameters
    ----------
    asking : Asking
        The builds considered.
    book : FactBook
        The facts of the build.
    wish : Wish
        Its fact, and whether more or less is better; its target does not matter.

    Returns
    -------
    float or None
        In the fact's unit; None when no build has the fact.
    """
    if wish.fact == "handover_weeks":
        return _soonest_weeks(asking, book)
    if (ratio := book.ratio_fact(wish.fact)) is not None:
        return _best_ratio(asking, ratio, greatest=wish.at_least is not None)
    if (sum_fact := book.sum_fact(wish.fact)) is not None:
        return _best_sum(asking, sum_fact, greatest=wish.at_least is not None)
    if (margin := book.margin_fact(wish.fact)) is not None:
        return _best_margin(asking, book, margin)
    return _best_of_drive(asking, book, wish)


def _soonest_weeks(asking: Asking, book: FactBook) -> float | None:
    ticks = asking.engine.least_peak(book.plan.paths, asking.picks)
    if ticks is None:
        return None
    return whole_days(ticks, book.around.catalog.workshop.hours_per_week) / DAYS_PER_WEEK


def _best_ratio(asking: Asking, fact: RatioFact, *, greatest: bool) -> float | None:
    ends = share_extremes(asking, fact.part, fact.whole)
    return None if ends is None else fact.value(ends[int(greatest == fact.rises)])


def _best_sum(asking: Asking, fact: SumFact, *, greatest: bool) -> float | None:
    ask = asking.greatest if greatest == (fact.sign > 0) else asking.least
    found = ask(fact.quantity, {})
    return None if found is None else fact.value(found[0])


def _best_margin(asking: Asking, book: FactBook, fact: MarginFact) -> float | None:
    """Ask for the least sum beside each combination of the components that set the bound."""
    best: float | None = None
    for region in book.slot_regions(fact.slots, _picked(asking)):
        found = asking.least(fact.quantity, region)
        value = None if found is None else fact.value(book.parts_of(found[1]), found[0])
        if value is not None and (best is None or value > best):
            best = value
    return best


def _best_of_drive(asking: Asking, book: FactBook, wish: Wish) -> float | None:
    drive = book.drive_fact(wish.fact, wish.case)
    if drive is None:
        return None
    if not drive.mass:
        return _best_of_parts(asking, book, drive, greatest=wish.at_least is not None)
    found = drive_extreme(
        asking, book.offer, drive, book.dependence(drive), book.mass_of(drive), favourable=True
    )
    return None if found is None else found.value


def _best_of_parts(
    asking: Asking, book: FactBook, fact: DriveFact, *, greatest: bool
) -> float | None:
    """Try the combinations of components from the best value on, until a build has one."""
    regions = list(slot_regions(book.dependence(fact), _picked(asking)))
    values = fact.evaluate([book.state_in({**_picked(asking), **r}) for r in regions])
    told = [(v, r) for v, r in zip(values, regions, strict=True) if v is not None]
    for value, region in sorted(told, key=lambda pair: pair[0], reverse=greatest):
        if asking.least(NOTHING, region) is not None:
            return value
    return None


def _picked(asking: Asking) -> Region:
    return {group: frozenset({option}) for group, option in asking.picks.items()}
