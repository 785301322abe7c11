"""The band of a customer's day against many days driven with inputs drawn from their doubts."""

from __future__ import annotations

import numpy as np
import pytest

from configurator.build_spec.day_charging import Halfway
from configurator.build_spec.day_driven import DrivenDay, outcome
from configurator.build_spec.day_trip import legs_by_road, trip_of_legs, with_trailer_behind
from configurator.catalog.cycle_files import bundled_cycles
from configurator.catalog.models.day import CustomersDay, DayRoads, Trailer
from configurator.physics.road_load import consumption_wh_per_km
from tests.physics.drawn_vehicles import drawn_vehicles, sobol_points
from tests.physics.road_vehicles import road_vehicle

CYCLES = {cycle.id: cycle for cycle in bundled_cycles()}
TOLERANCE = 0.02
"""Of the energy: what first order leaves out."""

DAYS = {
    "town in frost": CustomersDay(town_km=40, temperature_c=-5, cold_starts=4),
    "hills in summer": CustomersDay(
        country_km=60, climbed_m=900, descended_m=900, temperature_c=22
    ),
    "all roads with a trailer": CustomersDay(
        town_km=10,
        country_km=40,
        motorway_km=30,
        climbed_m=200,
        descended_m=200,
        temperature_c=5,
        trailer=Trailer(mass_kg=600, drag_area_m2=0.8),
    ),
}


# Source: JCGM 101, propagation of distributions, of the same energy model with inputs drawn.
@pytest.mark.parametrize("name", DAYS)
def test_the_band_of_a_day_holds_what_drawn_inputs_give(name: str) -> None:
    day = DAYS[name]
    vehicle = road_vehicle()
    if day.trailer is not None:
        vehicle = with_trailer_behind(vehicle, day.trailer)
    legs = legs_by_road(day, DayRoads(), CYCLES)
    whole = tuple(leg for parts in legs.values() for leg in parts)
    trip = trip_of_legs(day, whole, all_legs=whole)
    charging = Halfway(charged_share=0.0, full_enough_share=0.95, reserve_share=0.1)
    told = outcome("new", DrivenDay(vehicle, legs, trip, day), charging)

    drawn = drawn_vehicles(vehicle, sobol_points(power_of_two=11, seed=20_26))
    used_kwh = np.array(consumption_wh_per_km(drawn, trip)) * day.distance_km / 1000
    usable_kwh = np.array([one.usable_energy_wh for one in drawn]) / 1000
    left_percent = 100 * (1 - used_kwh / usable_kwh)
    for percentile, used, left in (
        (10, told.used_low_kwh, told.left_high_percent),
        (50, told.used_mid_kwh, told.left_mid_percent),
        (90, told.used_high_kwh, told.left_low_percent),
    ):
        assert np.percentile(used_kwh, percentile) == pytest.approx(used, rel=TOLERANCE)
        expected = np.percentile(left_percent, 100 - percentile)
        assert expected == pytest.approx(left, abs=100 * TOLERANCE)
    fitting = 100 * float(np.mean(left_percent >= 10))
    assert fitting == pytest.approx(told.likelihood_percent, abs=4)
