"""The band against the true model over the stated doubts, and how many vehicles it holds.

Source: JCGM 101, propagation of distributions; points of a Halton sequence, shifted by chance
(Cranley and Patterson), in place of independent draws.
"""

from __future__ import annotations

from dataclasses import replace
from statistics import NormalDist

import numpy as np
import pytest
from numpy.typing import NDArray

from configurator.physics.range_band import range_bands
from configurator.physics.road_load import consumption_wh_per_km
from configurator.physics.road_vehicle import Leg, RoadVehicle, Trip
from tests.physics.road_vehicles import cycle_trip, road_vehicle

DRAWS = 4096
PRIMES = (2, 3, 5, 7, 11, 13, 17, 19, 23)
NORMAL = NormalDist()

VAN = road_vehicle(
    recovery_efficiency_sigma_percent=6.0,
    no_load_loss_sigma_percent=30.0,
    drag_rolling_correlation=-0.6,
)
LIGHT = replace(VAN, mass_kg=1050.0, drag_area_m2=0.85, mass_sigma_kg=20.0)
UNSURE = replace(VAN, drag_area_sigma_percent=12.0, usable_energy_sigma_percent=6.0)
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


def spread_points(count: int, seed: int) -> NDArray[np.float64]:
    """Points that fill the cube of nine doubts evenly, as standard normal numbers."""
    shift = np.random.default_rng(seed).random(len(PRIMES))
    columns = []
    for base, moved in zip(PRIMES, shift, strict=True):
        values = np.zeros(count)
        number, weight = np.arange(1, count + 1), 1 / base
        while number.any():
            values += weight * (number % base)
            number, weight = number // base, weight / base
        columns.append((values + moved) % 1.0)
    inverse = np.vectorize(NORMAL.inv_cdf)
    cube = np.clip(np.stack(columns, axis=1), 1e-9, 1 - 1e-9)
    return np.asarray(inverse(cube), dtype=np.float64)


def true_ranges(vehicle: RoadVehicle, trip: Trip, points: NDArray[np.float64]) -> list[float]:
    """Ranges of vehicles drawn from the doubts that are stated."""
    correlation = vehicle.drag_rolling_correlation
    rolling = correlation * points[:, 1] + np.sqrt(1 - correlation**2) * points[:, 2]
    drawn = [
        replace(
            vehicle,
            mass_kg=vehicle.mass_kg + mass * vehicle.mass_sigma_kg,
            drag_area_m2=_moved(vehicle.drag_area_m2, drag, vehicle.drag_area_sigma_percent),
            rolling_resistance=_moved(
                vehicle.rolling_resistance, roll, vehicle.rolling_resistance_sigma_percent
            ),
            drive_efficiency=min(
                1.0, _moved(vehicle.drive_efficiency, drive, vehicle.drive_efficiency_sigma_percent)
            ),
            recovery_efficiency=min(
                1.0,
                _moved(
                    vehicle.recovery_efficiency, back, vehicle.recovery_efficiency_sigma_percent
                ),
            ),
            no_load_loss_w=_moved(vehicle.no_load_loss_w, idle, vehicle.no_load_loss_sigma_percent),
            auxiliary_power_w=_moved(
                vehicle.auxiliary_power_w, power, vehicle.auxiliary_power_sigma_percent
            ),
            cabin_heat_loss_w_per_k=_moved(
                vehicle.cabin_heat_loss_w_per_k, heat, vehicle.cabin_heat_loss_sigma_percent
            ),
            usable_energy_wh=_moved(
                vehicle.usable_energy_wh, energy, vehicle.usable_energy_sigma_percent
            ),
        )
        for (mass, drag, _, drive, back, idle, power, heat, energy), roll in zip(
            points.tolist(), rolling.tolist(), strict=True
        )
    ]
    used = consumption_wh_per_km(drawn, trip)
    return [each.usable_energy_wh / wh for each, wh in zip(drawn, used, strict=True)]


def _moved(value: float, by: float, sigma_percent: float) -> float:
    return value * float(np.exp(by * sigma_percent / 100))


@pytest.mark.parametrize("trip", TRIPS.values(), ids=TRIPS)
@pytest.mark.parametrize("vehicle", [VAN, LIGHT, UNSURE], ids=["van", "light", "unsure"])
def test_tenth_and_ninetieth_percentile_are_those_of_the_true_model_and_eight_in_ten_lie_within(
    vehicle: RoadVehicle, trip: Trip
) -> None:
    ranges = np.array(true_ranges(vehicle, trip, spread_points(DRAWS, seed=20_26)))
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
        true_km = true_ranges(stated, trip, chance.standard_normal((1, 9)))[0]
        band = range_bands([stated], trip)[0]
        held.append(band.low_km <= true_km <= band.high_km)
    assert float(np.mean(held)) == pytest.approx(0.80, abs=0.03)
