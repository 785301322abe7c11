"""Each limit of the catalog in the form the engine understands, exact to the gram and the penny."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from configurator.build_spec.drive_facts import DriveFact
from configurator.build_spec.fact_book import FactBook
from configurator.build_spec.falling_limit import FallingLimit
from configurator.build_spec.ratio_facts import RatioFact
from configurator.build_spec.slot_classes import slot_regions
from configurator.build_spec.sum_facts import MarginFact, SumFact
from configurator.catalog.models.rule import Limit
from configurator.catalog.models.vehicle import Vehicle
from configurator.errors import CatalogError, Fault
from configurator.pricing.finish import ticks_per_day
from configurator.rules.problem import ConditionalLimit, LazyLimit, Quantity
from configurator.units import DAYS_PER_WEEK

NOTHING = Quantity(0, {})


@dataclass(frozen=True)
class LimitForms:
    """One limit as the engine takes it: bounds on sums by region, and perhaps a lazy part."""

    limit: Limit
    bound: float
    by_region: tuple[ConditionalLimit, ...]
    lazy: LazyLimit | None = None

    def keeps(self, choices: dict[str, str]) -> bool:
        """Tell whether complete choices keep the limit."""
        kept = all(form.keeps(choices) for form in self.by_region)
        return kept and (self.lazy is None or self.lazy.broken_by(choices) is None)


def forms_of(limit: Limit, book: FactBook) -> LimitForms:
    """Put a limit into the engine's form.

    Raises
    ------
    CatalogError
        If the limit bounds a fact from the side that no build can come near to, or names a case
        that the fact does not have.
    """
    bound = bound_of(limit, book.offer.vehicle)
    if limit.limit == "handover_weeks":
        return LimitForms(limit, bound, _finish_forms(limit, bound, book))
    if (ratio := book.ratio_fact(limit.limit)) is not None:
        return LimitForms(limit, bound, (_ratio_form(limit, bound, ratio),))
    if (sum_fact := book.sum_fact(limit.limit)) is not None:
        return LimitForms(limit, bound, (_sum_form(limit, bound, sum_fact),))
    if (margin := book.margin_fact(limit.limit)) is not None:
        return LimitForms(limit, bound, _margin_forms(limit, bound, margin, book))
    drive = book.drive_fact(limit.limit, limit.case)
    if drive is None:
        raise _unusable(limit, f'has no case "{limit.case}"', "Name a case that the fact has.")
    if drive.mass == "":
        return LimitForms(limit, bound, _slot_forms(limit, bound, drive, book))
    return LimitForms(limit, bound, (), _falling(limit, bound, drive, book))


def bound_of(limit: Limit, vehicle: Vehicle) -> float:
    """Read the bound of a limit, a number or a value of the vehicle."""
    bound = limit.at_most if limit.at_most is not None else limit.at_least
    if isinstance(bound, str):
        return float(getattr(vehicle, bound.removeprefix("vehicle.")))
    return float(bound if bound is not None else math.inf)


def states_bound(limit: Limit, vehicle: Vehicle) -> bool:
    """Tell whether a limit has its bound; what the vehicle does not state limits nothing."""
    bound = limit.at_most if limit.at_most is not None else limit.at_least
    return not isinstance(bound, str) or (
        getattr(vehicle, bound.removeprefix("vehicle.")) is not None
    )


def _exact(value: float) -> Fraction:
    """Read a number as it was written, not as binary stores it."""
    return Fraction(str(value))


def _negative(quantity: Quantity) -> Quantity:
    return Quantity(-quantity.constant, {pair: -w for pair, w in quantity.weights.items()})


def _sum_form(limit: Limit, bound: float, fact: SumFact) -> ConditionalLimit:
    total = (_exact(bound) - _exact(fact.offset)) * fact.per_unit * fact.sign
    if (limit.at_most is not None) == (fact.sign > 0):
        return ConditionalLimit(limit.id, {}, fact.quantity, math.floor(total))
    return ConditionalLimit(limit.id, {}, _negative(fact.quantity), math.floor(-total))


def _ratio_form(limit: Limit, bound: float, fact: RatioFact) -> ConditionalLimit:
    """Bound a ratio: part less ratio times whole, which is a sum."""
    value = _exact(bound)
    if not fact.rises and value <= 0:
        # Above zero for every build, so that all keep such a bound, or none.
        return ConditionalLimit(limit.id, {}, NOTHING, 0 if limit.at_least is not None else -1)
    beyond = fact.beyond(fact.ratio_of(value))
    most = beyond if (limit.at_most is not None) == fact.rises else _negative(beyond)
    # The solver takes far longer over large numbers.
    shared = math.gcd(*most.weights.values()) or 1
    smallest = Quantity(0, {pair: weight // shared for pair, weight in most.weights.items()})
    return ConditionalLimit(limit.id, {}, smallest, -most.constant // shared)


def _finish_forms(limit: Limit, bound: float, book: FactBook) -> tuple[ConditionalLimit, ...]:
    if limit.at_most is None:
        raise _unusable(limit, "bounds the finish from below", 'Write "at_most".')
    per_week = book.around.catalog.workshop.hours_per_week
    ticks = math.floor(_exact(bound) * DAYS_PER_WEEK) * ticks_per_day(per_week)
    return tuple(ConditionalLimit(limit.id, {}, path, ticks) for path in book.plan.paths)


def _margin_forms(
    limit: Limit, bound: float, fact: MarginFact, book: FactBook
) -> tuple[ConditionalLimit, ...]:
    if limit.at_least is None:
        raise _unusable(limit, "bounds a margin from above", 'Write "at_least".')
    forms = []
    for region in book.slot_regions(fact.slots, {}):
        least_bound = fact.bound(book.parts_in(region))
        if least_bound is not None:
            total = math.floor((_exact(least_bound) - _exact(bound)) * fact.per_unit)
            forms.append(ConditionalLimit(limit.id, region, fact.quantity, total))
    return tuple(forms)


def _slot_forms(
    limit: Limit, bound: float, fact: DriveFact, book: FactBook
) -> tuple[ConditionalLimit, ...]:
    regions = list(slot_regions(book.dependence(fact), {}))
    values = fact.evaluate([book.state_in(region) for region in regions])
    return tuple(
        ConditionalLimit(limit.id, region, NOTHING, None)
        for region, value in zip(regions, values, strict=True)
        if value is not None and not within(limit, value, bound)
    )


def _falling(limit: Limit, bound: float, fact: DriveFact, book: FactBook) -> FallingLimit:
    if (limit.at_least is not None) != fact.falls:
        remedy = 'Write "at_least".' if fact.falls else 'Write "at_most".'
        raise _unusable(limit, "bounds its fact from the wrong side", remedy)
    mass_g = book.mass_of(fact)
    lightest_g = mass_g.constant + sum(
        min(mass_g.weights.get((group.id, option.id), 0) for option in group.options)
        for group in book.offer.groups
    )
    offer = book.offer.reading(fact.effects)
    return FallingLimit(limit.id, offer, fact, book.dependence(fact), mass_g, bound, lightest_g)


def within(limit: Limit, value: float, bound: float) -> bool:
    """Tell whether a value is on the right side of a limit's bound.

    Examples
    --------
    >>> limit = Limit(id="a", label="A", limit="seats", at_least=2, because="x", source="x")
    >>> within(limit, 2.0, 2.0)
    True
    """
    return value <= bound if limit.at_most is not None else value >= bound


def _unusable(limit: Limit, what: str, remedy: str) -> CatalogError:
    fault = Fault("S005", f"limits.yaml: {limit.id}", f'"{limit.limit}" {what}', remedy)
    return CatalogError([fault])
