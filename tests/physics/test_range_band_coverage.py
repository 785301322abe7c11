"""The band against the true model over the stated doubts, and how many vehicles it holds.

Source: JCGM 101, propagation of distributions.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from configurator.physics.range_band import range_bands
from configurator.physics.road_load import consumption_wh_per_km
from configurator.physics.road_vehicle import Leg, RoadVehicle, Trip
from tests.physics.drawn_vehicles import Points, drawn_vehicles, sobol_points
from tests.physics.road_vehicles import cycle_trip, road_vehicle

VAN = road_vehicle(
    recovery_efficiency_sigma_percent=6.0,
    no_load_loss_sigma_percent=30.0,
    drag_rolling_correlation=-0.6,
)
VEHICLES = {
    "van": VAN,
    "light": replace(VAN, mass_kg=1050.0, drag_area_m2=0.85, mass_sigma_kg=20.0),
    "unsure": replace(VAN, drag_area_sigma_percent=12.0, usable_energy_sigma_percent=8.0),
    "weak and unsure of its mass": replace(VAN, mass_sigma_kg=120.0, peak_power_w=40_000.0),
}
TRIPS = {
    "town, warm": cycle_trip("wltc-class-1", 20.0),
    "town, frost": cycle_trip("wltc-class-1", -5.0),
    "mixed": cycle_trip("wltc-class-2", 20.0),
    "motorway": Trip(steady_m_s=110 / 3.6, temperature_c=20.0),
    "motorway, frost": Trip(steady_m_s=110 / 3.6, temperature_c=-5.0),
    "a day": Trip(
        legs=(
            Leg(distance_m=20_000.0, speed_m_s=cycle_trip("wltc-class-1").speed_m_s),
            Leg(distance_m=6_000.0, steady_m_s=16.0, slope_percent=4.0),
            Leg(distance_m=6_000.0, steady_m_s=16.0, slope_percent=-4.0),
        ),
        temperature_c=5.0,
    ),
}


def true_ranges_km(vehicle: RoadVehicle, trip: Trip, points: Points) -> list[float]:
    drawn = drawn_vehicles(vehicle, points)
    used = consumption_wh_per_km(drawn, trip)
    return [each.usable_energy_wh / wh for each, wh in zip(drawn, used, strict=True)]


@pytest.mark.parametrize("trip", TRIPS.values(), ids=TRIPS)
@pytest.mark.parametrize("vehicle", VEHICLES.values(), ids=VEHICLES)
def test_tenth_and_ninetieth_percentile_are_those_of_the_true_model_and_eight_in_ten_lie_within(
    vehicle: RoadVehicle, trip: Trip
) -> None:
    ranges = np.array(true_ranges_km(vehicle, trip, sobol_points(power_of_two=12, seed=20_26)))
    band = range_bands([vehicle], trip)[0]
    expected = np.percentile(ranges, [10, 50, 90]).tolist()
    assert expected == pytest.approx([band.low_km, band.mid_km, band.high_km], rel=0.02)
    within = float(np.mean((ranges >= band.low_km) & (ranges <= band.high_km)))
    assert within == pytest.approx(0.80, abs=0.03)


def test_the_bands_of_many_different_vehicles_hold_eight_true_ranges_in_ten() -> None:
    chance = np.random.default_rng(5)
    trips, held = list(TRIPS.values()), []
    for number in range(1500):
        stated = replace(
            VAN,
            mass_kg=chance.uniform(900, 2200),
            drag_area_m2=chance.uniform(0.6, 2.0),
            rolling_resistance=chance.uniform(0.009, 0.018),
            drag_area_sigma_percent=chance.uniform(2, 14),
            usable_energy_sigma_percent=chance.uniform(1, 8),
            drag_rolling_correlation=chance.uniform(-0.9, 0.0),
        )
        trip = trips[number % len(trips)]
        true_km = true_ranges_km(stated, trip, chance.standard_normal((1, 9)))[0]
        band = range_bands([stated], trip)[0]
        held.append(band.low_km <= true_km <= band.high_km)
    assert float(np.mean(held)) == pytest.approx(0.80, abs=0.03)
