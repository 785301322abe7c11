"""A build's facts, rules and limits made ready for questions, before any choice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from configurator.build_spec.content_cache import ContentCache
from configurator.build_spec.fact_book import FactBook, fact_book
from configurator.build_spec.known_extremes import KnownExtremes
from configurator.build_spec.limit_forms import LimitForms, forms_of, states_bound
from configurator.build_spec.offer import Offer
from configurator.build_spec.price_lines import PriceBasis, price_basis
from configurator.build_spec.standing import LimitReached
from configurator.build_spec.sums import mass_sums
from configurator.build_spec.survey import SurveyedPart, surveyed_parts
from configurator.build_spec.vehicle_drive import VehicleDrive
from configurator.build_spec.work_plan import work_plan
from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.rule import Rule
from configurator.errors import CatalogError, Fault
from configurator.rules.engine import Engine
from configurator.rules.problem import Domain, Implication, Problem

if TYPE_CHECKING:
    from configurator.build_spec.settle import Settled


@dataclass(frozen=True)
class Compiled:
    """Everything about a build that its choices do not change."""

    catalog: Catalog
    offer: Offer
    surveyed: tuple[SurveyedPart, ...]
    basis: PriceBasis
    book: FactBook
    rules: tuple[Rule, ...]
    limits: tuple[LimitForms, ...]
    """Every limit that applies to the vehicle; only those that block bind the engine."""
    engine: Engine
    known: KnownExtremes = field(default_factory=KnownExtremes)
    reduced_engines: ContentCache[Engine] = field(default_factory=lambda: ContentCache(size=96))
    """Engines of a few of the rules and limits, for the reasons that rest on no others."""
    reached: ContentCache[LimitReached | None] = field(
        default_factory=lambda: ContentCache(size=512)
    )
    default_builds: ContentCache[Mapping[str, str] | None] = field(
        default_factory=lambda: ContentCache(size=512)
    )
    """Picks completed with the workshop's choices, by the picks."""
    settled: ContentCache[Settled] = field(default_factory=lambda: ContentCache(size=128))
    """How choices stand, by the choices, the customer's wish for the rest, and the marks."""


def compile_build(catalog: Catalog, drive: VehicleDrive, build: BuildInput) -> Compiled:
    """Make a build ready for questions.

    Parameters
    ----------
    catalog : Catalog
        The workshop's catalog.
    drive : VehicleDrive
        What the vehicle is offered and what physics computes for it.
    build : BuildInput
        The build; its choices are not looked at.

    Raises
    ------
    CatalogError
        If limits cannot be used as they are written; all such faults together.
    """
    offer = drive.around.offer
    surveyed = surveyed_parts(catalog, offer.vehicle, build)
    basis = price_basis(catalog, offer, build, surveyed)
    plan = work_plan(catalog, offer, surveyed)
    book = fact_book(drive.around, drive.facts, mass_sums(offer, build), basis, plan)
    limits = _limits(catalog, book)
    rules = tuple(
        rule for rule in catalog.rules if rule.vehicles is None or offer.vehicle.id in rule.vehicles
    )
    problem = Problem(
        domains=tuple(Domain(g.id, tuple(o.id for o in g.options)) for g in offer.groups),
        implications=tuple(
            found for rule in rules if (found := _implication(rule, offer)) is not None
        ),
        conditional_limits=tuple(
            form for forms in limits if forms.limit.severity == "blocks" for form in forms.by_region
        ),
        lazy_limits=tuple(
            forms.lazy
            for forms in limits
            if forms.limit.severity == "blocks" and forms.lazy is not None
        ),
    )
    return Compiled(catalog, offer, surveyed, basis, book, rules, limits, Engine(problem))


def _limits(catalog: Catalog, book: FactBook) -> tuple[LimitForms, ...]:
    forms: list[LimitForms] = []
    faults: list[Fault] = []
    vehicle = book.offer.vehicle
    for limit in catalog.limits:
        applies = limit.vehicles is None or vehicle.id in limit.vehicles
        if applies and states_bound(limit, vehicle):
            try:
                forms.append(forms_of(limit, book))
            except CatalogError as error:
                faults.extend(error.faults)
    if faults:
        raise CatalogError(faults)
    return tuple(forms)


def _implication(rule: Rule, offer: Offer) -> Implication | None:
    """Turn a rule into what it says about the groups this vehicle has; None if it says nothing."""
    groups = offer.group_by_id
    if any(group not in groups for group in rule.when):
        return None
    allowed = {g: frozenset(options) for g, options in rule.then.items() if g in groups}
    for group_id, options in rule.then_not.items():
        if group_id in groups:
            others = frozenset(o.id for o in groups[group_id].options) - frozenset(options)
            allowed[group_id] = allowed.get(group_id, others) & others
    offered = {group.id: frozenset(o.id for o in group.options) for group in offer.groups}
    when = {g: frozenset(options) & offered[g] for g, options in rule.when.items()}
    if not all(when.values()):
        return None
    then = {g: options & offered[g] for g, options in allowed.items()}
    return Implication(rule.id, when, then)
