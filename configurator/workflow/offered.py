"""Check that a draft and a pick name only what the catalog offers today."""

from __future__ import annotations

from configurator.catalog.models.build import BuildInput
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.group import Group
from configurator.errors import ChoiceError, Fault


def check_vehicle(catalog: Catalog, vehicle_id: str) -> None:
    """Refuse a vehicle that the catalog does not have.

    Raises
    ------
    ChoiceError
        Naming the vehicles there are.
    """
    if vehicle_id not in catalog.vehicle_by_id:
        labels = ", ".join(vehicle.label for vehicle in catalog.vehicles)
        raise ChoiceError(
            [
                Fault(
                    "P001",
                    "Vehicle",
                    f'"{vehicle_id[:60]}" is not in the catalog (any more)',
                    f"Put it back into the catalog, or start an enquiry for one of: {labels}.",
                )
            ]
        )


def check_group(catalog: Catalog, vehicle_id: str, group_id: str) -> Group:
    """Refuse a group that the vehicle does not have.

    Returns
    -------
    Group
        With only the options that the vehicle is offered.

    Raises
    ------
    ChoiceError
        If the vehicle or the group is unknown.
    """
    check_vehicle(catalog, vehicle_id)
    group = _offered_group(catalog, vehicle_id, group_id)
    if group is None:
        label = catalog.vehicle_by_id[vehicle_id].label
        what = f'there is no group "{group_id[:60]}" for {label}'
        raise ChoiceError([Fault("P002", label, what, "Choose in one of the groups shown.")])
    return group


def check_offered(catalog: Catalog, vehicle_id: str, group_id: str, option_id: str) -> Group:
    """Refuse a pick that names a group or an option the vehicle is not offered.

    Returns
    -------
    Group
        With only the options that the vehicle is offered.

    Raises
    ------
    ChoiceError
        Naming what there is.
    """
    group = check_group(catalog, vehicle_id, group_id)
    label = catalog.vehicle_by_id[vehicle_id].label
    if option_id not in {option.id for option in group.options}:
        what = f'"{option_id[:60]}" is not offered for {label}'
        labels = ", ".join(option.label for option in group.options)
        raise ChoiceError([Fault("P003", group.label, what, f"Choose one of: {labels}.")])
    return group


def lost_choices(catalog: Catalog, build: BuildInput) -> tuple[Fault, ...]:
    """Find the choices of a draft that the catalog does not offer any more.

    Parameters
    ----------
    catalog : Catalog
        As it is today.
    build : BuildInput
        Its vehicle may be missing too; then that is the one fault.

    Returns
    -------
    tuple of Fault
        One for each lost choice; empty when all are offered.
    """
    try:
        check_vehicle(catalog, build.vehicle)
    except ChoiceError as error:
        return error.faults
    return tuple(
        _lost(catalog, build.vehicle, group_id, option_id)
        for group_id, option_id in build.choices.items()
        if not _is_offered(catalog, build.vehicle, group_id, option_id)
    )


def _offered_group(catalog: Catalog, vehicle_id: str, group_id: str) -> Group | None:
    groups = catalog.groups_for(vehicle_id)
    return next((group for group in groups if group.id == group_id), None)


def _is_offered(catalog: Catalog, vehicle_id: str, group_id: str, option_id: str) -> bool:
    group = _offered_group(catalog, vehicle_id, group_id)
    return group is not None and any(option.id == option_id for option in group.options)


def _lost(catalog: Catalog, vehicle_id: str, group_id: str, option_id: str) -> Fault:
    group = catalog.group_by_id.get(group_id)
    label = catalog.vehicle_by_id[vehicle_id].label
    return Fault(
        "P007",
        group.label if group else group_id,
        f'"{option_id}" was chosen, and the catalog does not offer it for {label} any more; '
        "nothing else was put in its place",
        "Choose another option, or clear the choice." if group else "Clear the choice.",
    )
