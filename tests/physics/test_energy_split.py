"""The kinds of energy sum to what the compiled loop computes, for any vehicle and trip."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.physics.cell_energy import cell_energies
from configurator.physics.energy_split import energy_split
from configurator.physics.example_van import EXAMPLE_VAN
from configurator.physics.road_vehicle import Leg, Trip
from configurator.physics.vehicle_table import vehicle_table

HUMPS = tuple(float(v) for v in 12 * (1 - np.cos(np.linspace(0, 8 * np.pi, 400))))
TRIPS = (
    Trip(steady_m_s=25.0, temperature_c=5.0),
    Trip(speed_m_s=HUMPS, temperature_c=-5.0, seconds_between_starts=1200.0),
    Trip(speed_m_s=(*HUMPS, 0.0, 0.0, 0.0), temperature_c=35.0, altitude_m=800.0),
    Trip(
        legs=(
            Leg(distance_m=3000.0, speed_m_s=HUMPS, slope_percent=5.0),
            Leg(distance_m=7000.0, steady_m_s=20.0, slope_percent=-4.0),
        ),
        temperature_c=12.0,
    ),
)


@settings(max_examples=60, deadline=None)
@given(
    trip=st.sampled_from(TRIPS),
    mass_kg=st.floats(400, 5000),
    peak_power_w=st.floats(4e3, 2e5),
    load_loss_per_w=st.sampled_from([0.0, 2e-7, 5e-6]),
    resistance_ohm=st.sampled_from([0.0, 0.1, 0.6]),
    recovery_full_from_m_s=st.sampled_from([0.0, 6.0]),
    rolling_growth=st.floats(0, 0.5),
)
def test_the_kinds_sum_to_the_energy_out_of_the_cells(trip: Trip, **changes: Any) -> None:
    vehicle = replace(EXAMPLE_VAN, **changes)
    expected = cell_energies(vehicle_table([vehicle], trip), trip).joules[0]
    assert expected == pytest.approx(energy_split(vehicle, trip).total_j, rel=1e-9)


def test_what_comes_back_is_below_zero_and_the_rest_is_not() -> None:
    split = energy_split(EXAMPLE_VAN, TRIPS[1])
    assert split.recovered_j < 0
    for part in (split.drag_j, split.rolling_j, split.speeding_up_j, split.drive_loss_j):
        assert part > 0
    for part in (split.no_load_j, split.auxiliaries_j, split.cabin_j, split.battery_loss_j):
        assert part >= 0


def test_uphill_climbing_is_mass_times_gravity_times_height() -> None:
    trip = Trip(
        legs=(Leg(distance_m=2000.0, steady_m_s=15.0, slope_percent=6.0),), temperature_c=15.0
    )
    height_m = 2000.0 * 0.06 / np.hypot(1, 0.06)
    expected = EXAMPLE_VAN.mass_kg * 9.80665 * height_m
    assert expected == pytest.approx(energy_split(EXAMPLE_VAN, trip).climbing_j, rel=1e-12)
