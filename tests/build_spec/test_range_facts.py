"""What the memory of bands tells is what the energy model says of each state."""

from dataclasses import replace

import pytest

from configurator.build_spec.driving_inputs import road_vehicle
from configurator.build_spec.range_facts import RangeMemory, trip_of
from configurator.physics.range_band import range_bands
from tests.build_spec.tiny_builds import compiled_of, every_build, tiny_catalog, with_limits

CATALOG = with_limits(tiny_catalog())
VEHICLES = [vehicle.id for vehicle in CATALOG.vehicles]


@pytest.mark.parametrize("vehicle_id", VEHICLES)
@pytest.mark.parametrize("case", CATALOG.driving_cases, ids=lambda case: case.id)
def test_states_with_the_same_components_each_have_their_own_band(vehicle_id, case) -> None:
    book = compiled_of(CATALOG, vehicle_id).book
    fact = book.drive_fact("range_mid_km", case.id)
    states = [book.state(fact, build.choices) for build in every_build(vehicle_id)][:30]
    heavier = [replace(state, mass_g=state.mass_g + 50_000) for state in states]
    trip = trip_of(case, {cycle.id: cycle for cycle in CATALOG.cycles})
    memory = RangeMemory(book.around, case, trip)
    expected = [
        None if vehicle is None else range_bands([vehicle], trip)[0]
        for state in states + heavier
        for vehicle in [road_vehicle(book.around, case, state)]
    ]
    assert expected == memory.bands(states) + memory.bands(heavier)
    assert expected == memory.bands(states + heavier)
    assert any(band is not None for band in expected)
