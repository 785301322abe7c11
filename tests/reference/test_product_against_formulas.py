"""What the Spec tells agrees with the plain formulas, from its own printed ledger and plan."""

from decimal import Decimal

import pytest

from configurator.build_spec.engines import Engines
from configurator.build_spec.pipeline import specify
from configurator.catalog.models.catalog import Catalog
from configurator.physics.axle_load import PlacedMass, axle_loads_kg
from configurator.pricing.finish import Arrival, finish_days
from tests.build_spec.tiny_builds import build_of, tiny_catalog

VEHICLES = [vehicle.id for vehicle in tiny_catalog().vehicles]


@pytest.mark.parametrize("vehicle", VEHICLES)
@pytest.mark.parametrize("when", ["kerb", "laden"])
def test_axle_loads_are_those_of_the_printed_ledger(vehicle: str, when: str) -> None:
    # Source: static equilibrium about the front axle, rear = sum(m x) / wheelbase.
    spec = specify(tiny_catalog(), _filled(vehicle), Engines())
    wheelbase_m = spec.vehicle.wheelbase_m
    masses = [
        PlacedMass(mass_kg=spec.weights.front.donor_kg, x_m=0.0),
        PlacedMass(mass_kg=spec.weights.rear.donor_kg, x_m=wheelbase_m),
    ]
    masses += [
        PlacedMass(mass_kg=line.mass_kg, x_m=line.x_m)
        for line in spec.ledger
        if when == "laden" or line.when == "kerb"
    ]
    loads = axle_loads_kg(masses, wheelbase_m)
    for expected, axle in ((loads.front_kg, "front"), (loads.rear_kg, "rear")):
        fact = next(f for f in spec.facts if f.name == f"{when}_{axle}_axle_kg")
        assert pytest.approx(expected, abs=1e-3) == fact.low


@pytest.mark.parametrize("vehicle", VEHICLES)
def test_the_finish_is_that_of_the_printed_plan(vehicle: str) -> None:
    # Source: longest path through a chain of stages with release times; common practice, no source.
    catalog = tiny_catalog()
    spec = specify(catalog, _filled(vehicle), Engines())
    days = finish_days(
        [stage.hours_low for stage in spec.plan.stages],
        _arrivals(catalog, vehicle, {(c.group_id, c.option_id) for c in spec.choices}),
        catalog.workshop.queue_weeks,
        catalog.workshop.hours_per_week,
    )
    assert days == (spec.plan.earliest_handover - spec.build.priced_on).days
    assert spec.price.hours_low == sum((s.hours_low for s in spec.plan.stages), Decimal(0))


def _filled(vehicle: str):
    return build_of(vehicle).model_copy(update={"house_choices_for_the_rest": True})


def _arrivals(catalog: Catalog, vehicle: str, chosen: set[tuple[str, str]]) -> list[Arrival]:
    late = [line for line in catalog.vehicle_by_id[vehicle].base_lines if line.needed_by]
    late += [
        option.on_vehicle.get(vehicle, option)
        if "lead_weeks" in getattr(option.on_vehicle.get(vehicle), "model_fields_set", ())
        else option
        for group in catalog.groups_for(vehicle)
        for option in group.options
        if (group.id, option.id) in chosen and option.needed_by
    ]
    return [Arrival(x.lead_weeks, catalog.stage_order[x.needed_by]) for x in late if x.needed_by]
