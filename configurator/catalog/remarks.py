"""What is well-formed and fits together, yet probably not as the workshop meant it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from types import MappingProxyType

from configurator.catalog.cross_checks.offered import options_by_group, vehicles_of
from configurator.catalog.cross_checks.rule_chains import dead_options
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.data import Source
from configurator.catalog.remarks_on_age import old_prices, texts_past_review
from configurator.catalog.remarks_on_guesses import guessed_values
from configurator.catalog.remarks_on_parts import (
    parts_nobody_fits,
    parts_without_text,
    slots_of_two_groups,
)
from configurator.catalog.remarks_on_records import (
    records_of_another_country,
    slots_without_record,
)
from configurator.catalog.remarks_on_sources import sources_beyond_the_pilot
from configurator.catalog.remarks_on_texts import texts_for_nobody
from configurator.errors import Fault

LineOf = Mapping[tuple[str, str], str]
Remark = tuple[str, tuple[str, str], str, str]
"""Code, (kind, id), what, remedy."""


def remarks_on_catalog(
    catalog: Catalog, line_of: LineOf = MappingProxyType({}), today: date | None = None
) -> tuple[Fault, ...]:
    """Find what a workshop should look at, though the catalog can be used.

    Parameters
    ----------
    catalog : Catalog
        A catalog without faults.
    line_of : mapping
        (kind, id) → file:line, as `load_with_lines` gives it.
    today : date, optional
        The day from which age is counted; without it nothing is too old.

    Returns
    -------
    tuple of Fault
        With codes W001 and up, in the order of codes and places.
    """
    remarks = {remark for look in _LOOKS for remark in look(catalog)}
    if today is not None:
        remarks |= {*old_prices(catalog, today), *texts_past_review(catalog, today)}
    return tuple(
        Fault(code, line_of.get(subject, " ".join(subject)), what, remedy)
        for code, subject, what, remedy in sorted(remarks)
    )


def _rules_that_never_bite(catalog: Catalog) -> Iterator[Remark]:
    offers = {
        vehicle: options_by_group(catalog.groups, vehicle) for vehicle in catalog.vehicle_by_id
    }
    for rule in catalog.rules:
        if not any(
            all(offer.get(group, frozenset()) & set(rule.when[group]) for group in rule.when)
            and (
                any(offer.get(group, frozenset()) - set(rule.then[group]) for group in rule.then)
                or any(offer.get(g, frozenset()) & set(rule.then_not[g]) for g in rule.then_not)
            )
            for vehicle, offer in offers.items()
            if rule.vehicles is None or vehicle in rule.vehicles
        ):
            what = f'rule "{rule.id}" never bites: no vehicle is offered what it speaks of'
            yield "W003", ("rule", rule.id), what, "Correct it or take it out."


def _without_source(catalog: Catalog) -> Iterator[Remark]:
    for kind, entries in (("vehicle", catalog.vehicles), ("component", catalog.components)):
        for entry in entries:
            source = entry.source.title if isinstance(entry.source, Source) else entry.source
            if "no source" in source.lower():
                what = f'{kind} "{entry.id}" has no source for its values'
                yield "W004", (kind, entry.id), what, "Say where they come from and when."


def _single_options(catalog: Catalog) -> Iterator[Remark]:
    for vehicle in catalog.vehicle_by_id:
        for group, options in options_by_group(catalog.groups, vehicle).items():
            if len(options) == 1:
                what = f'group "{group}" has one option on "{vehicle}"; there is nothing to choose'
                remedy = "Make it a base line of the vehicle, or offer a second option."
                yield "W006", ("group", group), what, remedy


def _gifts(catalog: Catalog) -> Iterator[Remark]:
    for group in catalog.groups:
        for option in group.options:
            is_free = option.parts_gbp == 0 and not option.work
            if option.puts_in and is_free and not option.on_vehicle:
                what = f'option "{option.id}" of "{group.id}" puts something in and costs nothing'
                subject = ("option", f"{group.id}/{option.id}")
                yield "W007", subject, what, "Give parts_gbp or work, or leave it as a gift."


def _limits_of_nothing(catalog: Catalog) -> Iterator[Remark]:
    for limit in catalog.limits:
        if limit.vehicles == ():
            what = f'limit "{limit.id}" applies to no vehicle'
            yield "W008", ("limit", limit.id), what, 'Take "vehicles" out to mean all.'


def _dead_on_some_vehicle(catalog: Catalog) -> Iterator[Remark]:
    for dead in dead_options(catalog.vehicle_by_id, catalog.groups, catalog.rules):
        vehicles = ", ".join(f'"{vehicle}"' for vehicle in dead.vehicles)
        what = f'option "{dead.option_id}" is forbidden on {vehicles} by {dead.spoken_rules()}'
        subject = ("option", f"{dead.group_id}/{dead.option_id}")
        yield "W010", subject, what, "Stop offering it there, or correct the rules."


def _empty_talk_parts(catalog: Catalog) -> Iterator[Remark]:
    for part in catalog.workshop.talk:
        groups = [group for group in catalog.groups if group.part == part.id]
        if not any(vehicles_of(catalog.vehicle_by_id, group) for group in groups):
            what = f'part of the talk "{part.id}" has no groups'
            yield "W011", ("workshop", part.id), what, "Give it groups or take it out."


_LOOKS: tuple[Callable[[Catalog], Iterator[Remark]], ...] = (
    parts_without_text,
    texts_for_nobody,
    _rules_that_never_bite,
    _without_source,
    parts_nobody_fits,
    _single_options,
    _gifts,
    _limits_of_nothing,
    slots_of_two_groups,
    _dead_on_some_vehicle,
    _empty_talk_parts,
    sources_beyond_the_pilot,
    guessed_values,
    slots_without_record,
    records_of_another_country,
)
