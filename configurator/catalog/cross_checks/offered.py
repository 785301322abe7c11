"""Which vehicles a group or an option is for."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from configurator.catalog.models.group import Group, Option


def vehicles_of(
    vehicle_ids: Collection[str], group: Group, option: Option | None = None
) -> tuple[str, ...]:
    """List the vehicles that a group, or one of its options, is for, in the order of their ids."""
    return tuple(
        vehicle
        for vehicle in sorted(vehicle_ids)
        if group.vehicles is None or vehicle in group.vehicles
        if option is None or option.vehicles is None or vehicle in option.vehicles
    )


def options_by_group(groups: Iterable[Group], vehicle: str) -> dict[str, frozenset[str]]:
    """Map each group of a vehicle to the options it is offered."""
    offer = {
        group.id: frozenset(
            option.id for option in group.options if vehicles_of({vehicle}, group, option)
        )
        for group in groups
    }
    return {group: options for group, options in offer.items() if options}
