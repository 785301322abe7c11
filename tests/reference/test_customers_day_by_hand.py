"""A day on one hill, against the same hill worked out by hand."""

from __future__ import annotations

import math

import pytest

from configurator.build_spec.day_trip import legs_by_road, trip_of_legs, with_trailer_behind
from configurator.catalog.cycle_files import bundled_cycles
from configurator.catalog.models.day import CustomersDay, DayRoads, Trailer
from configurator.physics.road_load import consumption_wh_per_km
from tests.physics.road_vehicles import road_vehicle
from tests.reference.test_road_load_by_hand import BARE, G, day_of_density_c

CYCLES = {cycle.id: cycle for cycle in bundled_cycles()}


# Source: first principles, weight along and across the slope; 547.1 Wh/km.
def test_a_day_up_one_hill_of_5_percent_takes_what_that_hill_takes() -> None:
    vehicle = road_vehicle(
        **BARE | {"mass_kg": 2150.0, "drag_area_m2": 1.794, "rolling_resistance": 0.014},
        drive_efficiency=0.90 * 0.88,
        auxiliary_power_w=350.0,
    )
    rise_m = 12_000 * math.sin(math.atan(0.05))
    day = CustomersDay(
        motorway_km=12,
        motorway_km_h=50,
        climbed_m=rise_m,
        temperature_c=day_of_density_c(1.1117, 1000.0),
        altitude_m=1000,
        preheats=True,
    )
    legs = legs_by_road(day, DayRoads(hill_percent=5), CYCLES)["motorway"]
    trip = trip_of_legs(day, legs, all_legs=legs)
    assert consumption_wh_per_km([vehicle], trip)[0] == pytest.approx(547.1, abs=0.06)


# Source: first principles, forces of vehicle and trailer added one by one.
def test_a_trailer_adds_its_own_rolling_and_drag() -> None:
    speed = 80 / 3.6
    own_n = 0.5 * 1.2 * 1.1 * speed**2 + 1500 * G * 0.012
    pulled_n = 0.5 * 1.2 * 0.7 * speed**2 + 600 * G * 0.016
    expected = ((own_n + pulled_n) / 0.85 + 200 / speed) / 3.6
    vehicle = road_vehicle(
        **BARE | {"mass_kg": 1500.0, "drag_area_m2": 1.1, "rolling_resistance": 0.012},
        drive_efficiency=0.85,
        auxiliary_power_w=200.0,
    )
    trailer = Trailer(mass_kg=600, drag_area_m2=0.7, rolling_resistance=0.016)
    day = CustomersDay(
        motorway_km=50, motorway_km_h=80, temperature_c=day_of_density_c(1.2), preheats=True
    )
    legs = legs_by_road(day, DayRoads(), CYCLES)["motorway"]
    trip = trip_of_legs(day, legs, all_legs=legs)
    pulling = with_trailer_behind(vehicle, trailer)
    assert expected == pytest.approx(consumption_wh_per_km([pulling], trip)[0], rel=1e-9)
