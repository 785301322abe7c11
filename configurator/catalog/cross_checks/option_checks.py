"""Whether groups and options name what exists, for every vehicle they are offered for."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.cross_checks import names
from configurator.catalog.cross_checks.fitted import fits_faults
from configurator.catalog.cross_checks.offered import vehicles_of
from configurator.catalog.cross_checks.vehicle_checks import (
    lead_time_faults,
    placed_faults,
    work_faults,
)
from configurator.catalog.draft import Draft
from configurator.catalog.models.group import Group, Option, OptionBase
from configurator.errors import Fault


def group_faults(draft: Draft) -> Iterator[Fault]:
    """Yield what groups name that does not exist."""
    for entry in draft.groups:
        group, at = entry.value, names.place(entry)
        yield from names.named(at.at("part"), group.part, names.known_talk_parts(draft))
        yield from names.named(at.at("closes_at"), group.closes_at, names.known_stages(draft))
        vehicles = names.known_vehicles(draft)
        yield from names.all_named(at.at("vehicles"), group.vehicles, vehicles)


def house_choice_faults(draft: Draft) -> Iterator[Fault]:
    """Yield house choices that do not exist or are not offered for a vehicle of the group."""
    for entry in draft.groups:
        group, on = entry.value, names.place(entry, "house_choice_on")
        of_group = names.known_options(draft, group.id)
        at = names.place(entry, "house_choice")
        yield from names.named(at, group.house_choice, of_group)
        for vehicle, option_id in group.house_choice_on.items():
            yield from names.named(on.at(vehicle), vehicle, names.known_vehicles(draft))
            yield from names.named(on.at(vehicle), option_id, of_group)
        yield from _house_choice_not_offered(draft, at, on, group)


def _house_choice_not_offered(
    draft: Draft, at: names.Place, on: names.Place, group: Group
) -> Iterator[Fault]:
    options = {option.id: option for option in group.options}
    for vehicle in vehicles_of(draft.vehicles.ids, group):
        own = group.house_choice_on.get(vehicle)
        choice = options.get(own or group.house_choice)
        if choice is None or vehicles_of({vehicle}, group, choice):
            continue
        here = at if own is None else on.at(vehicle)
        what = f'{here.title} is "{choice.id}", which is not offered for "{vehicle}"'
        why = "every vehicle of the group needs a house choice"
        remedy = f'Offer the option there, or name another for "{vehicle}" under house_choice_on.'
        yield Fault("C061", here.where, f"{what}; {why}", remedy)


def option_faults(draft: Draft) -> Iterator[Fault]:
    """Yield what options name that does not exist."""
    vehicles = names.known_vehicles(draft)
    for entry in draft.groups:
        for number, option in enumerate(entry.value.options):
            at = names.place(entry, "options", number)
            yield from names.all_named(at.at("vehicles"), option.vehicles, vehicles)
            yield from _not_of_the_group(at.at("vehicles"), entry.value, option)
            yield from fits_faults(draft, at.at("fits"), option.fits)
            yield from _brought_along(draft, at, option)
            yield from lead_time_faults(at, option.lead_weeks, option.needed_by)
            yield from _places_on_each_vehicle(draft, at, entry.value, option)
            yield from _overrides(draft, at, entry.value, option)


def _not_of_the_group(at: names.Place, group: Group, option: Option) -> Iterator[Fault]:
    for number, vehicle in enumerate(option.vehicles or ()):
        if group.vehicles is not None and vehicle not in group.vehicles:
            what = f'option "{option.id}" is offered for "{vehicle}", which its group is not for'
            remedy = "Add the vehicle to the group, or take it out of the option."
            yield Fault("C063", at.at(number).where, what, remedy)


def _brought_along(draft: Draft, at: names.Place, brought: OptionBase) -> Iterator[Fault]:
    yield from work_faults(draft, at.at("work"), brought.work)
    yield from names.named(at.at("needed_by"), brought.needed_by, names.known_stages(draft))


def _places_on_each_vehicle(
    draft: Draft, at: names.Place, group: Group, option: Option
) -> Iterator[Fault]:
    """Check what the option says of itself on every vehicle that does not say otherwise."""
    for vehicle in vehicles_of(draft.vehicles.ids, group, option):
        override = option.on_vehicle.get(vehicle)
        own_keys = override.model_fields_set if override is not None else frozenset[str]()
        for key in ("puts_in", "takes_out", "carries"):
            if key not in own_keys:
                places = names.known_places(draft, vehicle)
                yield from placed_faults(at.at(key), getattr(option, key), places)


def _overrides(draft: Draft, at: names.Place, group: Group, option: Option) -> Iterator[Fault]:
    offered = vehicles_of(draft.vehicles.ids, group, option)
    for vehicle, override in option.on_vehicle.items():
        here = at.at("on_vehicle", vehicle)
        yield from names.named(here, vehicle, names.known_vehicles(draft))
        if vehicle in draft.vehicles.ids and vehicle not in offered:
            what = (
                f'option "{option.id}" says what it means on "{vehicle}" but is not offered for it'
            )
            yield Fault("C063", here.where, what, "Offer it there, or take this out.")
        if vehicle not in draft.vehicles.ids:
            continue
        yield from _brought_along(draft, here, override)
        said = override.model_fields_set
        yield from lead_time_faults(
            here,
            override.lead_weeks if "lead_weeks" in said else 0,
            override.needed_by if "needed_by" in said else option.needed_by,
        )
        for key in ("puts_in", "takes_out", "carries"):
            places = names.known_places(draft, vehicle)
            yield from placed_faults(here.at(key), getattr(override, key), places)
