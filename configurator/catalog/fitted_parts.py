"""Which components a vehicle can end up with, and by what."""

from __future__ import annotations

from collections import defaultdict

from configurator.catalog.cross_checks.offered import vehicles_of
from configurator.catalog.models.catalog import Catalog
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
