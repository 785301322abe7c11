"""A part that every option of a group fits counts as much as one the vehicle has anyway."""

import pytest

from configurator.build_spec.extremes import Asking
from configurator.build_spec.facts import Extent, extents_of_open
from configurator.catalog.models.catalog import Catalog
from configurator.catalog.models.component import Slot
from configurator.catalog.models.rule import FactName, Limit
from tests.build_spec.tiny_builds import changed, compiled_of, tiny_catalog, with_limits

VEHICLES = [vehicle.id for vehicle in tiny_catalog().vehicles]
MOVED: tuple[Slot, ...] = ("tyre", "wheel", "motor", "converter", "charger")


def fitted_by_a_group(catalog: Catalog) -> Catalog:
    """Let every option of one group fit what the vehicles have anyway."""
    parts = {slot: catalog.vehicles[0].fits[slot] for slot in MOVED}
    vehicles = tuple(
        vehicle.model_copy(
            update={"fits": {s: c for s, c in vehicle.fits.items() if s not in MOVED}}
        )
        for vehicle in catalog.vehicles
    )
    first = next(group for group in catalog.groups if not any(o.fits for o in group.options))
    options = tuple(option.model_copy(update={"fits": parts}) for option in first.options)
    groups = tuple(
        group.model_copy(update={"options": options}) if group is first else group
        for group in catalog.groups
    )
    return changed(catalog, "moved", vehicles=vehicles, groups=groups)


def extents_without_picks(catalog: Catalog, vehicle: str) -> list[Extent]:
    compiled = compiled_of(catalog, vehicle)
    return extents_of_open(
        compiled.book, Asking(compiled.engine, {}), [], lambda _: None, lambda *_: True
    )


def at_least(name: FactName, bound: float, case: str | None = None) -> Limit:
    return Limit(
        id="limit",
        label="Limit",
        limit=name,
        case=case,
        at_least=bound,
        because="A test wants it.",
        source="invented for tests",
    )


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_every_from_to_is_the_same_whoever_fits_the_part(vehicle: str) -> None:
    catalog = with_limits(tiny_catalog())
    expected = extents_without_picks(catalog, vehicle)
    assert expected == extents_without_picks(fitted_by_a_group(catalog), vehicle)


@pytest.mark.parametrize("name", ["rear_axle_margin_kg", "low_voltage_margin_w", "range_low_km"])
@pytest.mark.parametrize("vehicle", VEHICLES)
def test_a_limit_binds_the_same_whoever_fits_the_part(vehicle: str, name: FactName) -> None:
    catalog = tiny_catalog()
    extents = extents_without_picks(with_limits(catalog), vehicle)
    extent = next(found for found in extents if found.name == name)
    limited = with_limits(
        catalog, at_least(name, round((extent.low + extent.high) / 2, 1), extent.case)
    )
    expected = compiled_of(limited, vehicle).engine.availability({})
    moved = compiled_of(fitted_by_a_group(limited), vehicle).engine.availability({})
    assert expected == moved
