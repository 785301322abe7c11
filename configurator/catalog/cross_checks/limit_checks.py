"""Whether limits compare with what exists."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.cross_checks import names
from configurator.catalog.cross_checks.fact_cases import case_kind
from configurator.catalog.did_you_mean import did_you_mean
from configurator.catalog.document import shown
from configurator.catalog.draft import Draft
from configurator.catalog.models.rule import Limit
from configurator.catalog.models.vehicle import Vehicle
from configurator.errors import Fault

VEHICLE_PREFIX = "vehicle."
VEHICLE_NUMBERS = frozenset(
    name
    for name, field in Vehicle.model_fields.items()
    if field.annotation in (float, int, float | None)
)


def limit_faults(draft: Draft) -> Iterator[Fault]:
    """Yield limits with unknown vehicles, unfitting cases or bounds that are no number."""
    vehicles = names.known_vehicles(draft)
    for entry in draft.limits:
        at = names.place(entry)
        yield from names.all_named(at.at("vehicles"), entry.value.vehicles, vehicles)
        yield from _bound_faults(at, entry.value)
        yield from _case_faults(draft, at, entry.value)


def _bound_faults(at: names.Place, limit: Limit) -> Iterator[Fault]:
    for key in ("at_most", "at_least"):
        bound = getattr(limit, key)
        if not isinstance(bound, str):
            continue
        field = bound.removeprefix(VEHICLE_PREFIX)
        if field == bound or field not in VEHICLE_NUMBERS:
            title = f"{at.at(key).title} is {shown(bound)}"
            what = f"{title}; a bound is a number or names a number of the vehicle"
            remedy = did_you_mean(bound, (f"{VEHICLE_PREFIX}{name}" for name in VEHICLE_NUMBERS))
            yield Fault("C065", at.at(key).where, what, remedy)


def _case_faults(draft: Draft, at: names.Place, limit: Limit) -> Iterator[Fault]:
    kind = case_kind(limit.limit)
    if kind is None and limit.case is not None:
        what = f'limit "{limit.id}" has a case, but {limit.limit} has none'
        yield Fault("C066", at.at("case").where, what, 'Take "case" out.')
    elif kind is not None and limit.case is None:
        what = f'limit "{limit.id}" says no case; {limit.limit} differs from {kind} to {kind}'
        yield Fault("C066", at.at("limit").where, what, f'Add "case:" with a {kind}.')
    elif kind == "driving case":
        yield from names.named(at.at("case"), limit.case, names.known_cases(draft))
    elif kind == "charging source":
        yield from names.named(at.at("case"), limit.case, names.known_sources(draft))
