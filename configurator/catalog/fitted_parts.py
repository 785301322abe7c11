"""Which components a vehicle can end up with, and by what."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping

from configurator.catalog.cross_checks.offered import vehicles_of
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.component import Slot
from configurator.catalog.models.group import Group
from configurator.catalog.models.vehicle import Vehicle


def fitted_by_slot(catalog: Catalog, vehicle: Vehicle) -> dict[str, set[str]]:
    """Map each slot to the components that the vehicle or one of its options fits.

    Parameters
    ----------
    catalog : Catalog
        The catalog.
    vehicle : Vehicle
        One of its vehicles.

    Returns
    -------
    dict
        Slot → component ids; slots that nothing fills are absent.
    """
    fitted: dict[str, set[str]] = defaultdict(set)
    for slot, component in vehicle.fits.items():
        fitted[slot].add(component)
    for group in catalog.groups:
        for option in group.options:
            if vehicles_of({vehicle.id}, group, option):
                for slot, component in option.fits.items():
                    fitted[slot].add(component)
    return dict(fitted)


def fitted_by_group(
    groups: Iterable[Group], vehicle: Vehicle, slot: str
) -> dict[str, dict[str, str | None]]:
    """Map each group that may fill a slot to what the slot holds with each of its options.

    Parameters
    ----------
    groups : iterable of Group
        With the options that the vehicle is offered.
    vehicle : Vehicle
        What it fits anyway stays where an option fits nothing.
    slot : str
        The slot.

    Returns
    -------
    dict
        Group → option → component or None; groups that never fill the slot are absent.
    """
    anyway = _held(vehicle.fits, slot)
    return {
        group.id: {option.id: _held(option.fits, slot) or anyway for option in group.options}
        for group in groups
        if any(_held(option.fits, slot) for option in group.options)
    }


def _held(fits: Mapping[Slot, str], slot: str) -> str | None:
    return next((component for filled, component in fits.items() if filled == slot), None)
