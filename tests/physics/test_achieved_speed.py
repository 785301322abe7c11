"""The model that drives forward in time, against the one that faces backward and against sense."""

from __future__ import annotations

import math
from dataclasses import astuple, replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.achieved_speed import drive_trip, drive_trips
from configurator.physics.air_density import air_density_kg_m3
from configurator.physics.cell_energy import cell_energies
from configurator.physics.convention import OWN
from configurator.physics.road_vehicle import Leg, RoadVehicle, Trip
from configurator.physics.vehicle_table import vehicle_table
from tests.physics.plain_model import trace_driven
from tests.physics.road_vehicles import (
    cycle_trip,
    plausible_trips,
    plausible_vehicles,
    road_vehicle,
)

FAST = cycle_trip("wltc-class-3b", 5.0)
TOWN = cycle_trip("wltc-class-1", 5.0)
STRONG = {"peak_power_w": 500_000.0, "nominal_voltage_v": 800.0}


def backward(vehicle: RoadVehicle, trip: Trip) -> tuple[float, float]:
    """Energy out of the cells [J] and seconds that ask too much, of the backward model."""
    energies = cell_energies(vehicle_table([vehicle], trip), trip)
    return float(energies.joules[0]), float(energies.missed_s[0])


@settings(max_examples=60, deadline=None)
@given(plausible_vehicles(), plausible_trips(), st.floats(-4, 4), st.floats(0, 2000))
def test_where_the_power_suffices_forward_and_backward_are_equal(
    vehicle: RoadVehicle, trip: Trip, slope_percent: float, altitude_m: float
) -> None:
    strong = replace(vehicle, **STRONG, resistance_ohm=min(vehicle.resistance_ohm, 0.2))
    trip = replace(trip, slope_percent=slope_percent, altitude_m=altitude_m)
    cell_j, missed_s = backward(strong, trip)
    assert 0 == missed_s
    driven = drive_trip(strong, trip)
    assert cell_j == pytest.approx(driven.cell_j, rel=1e-9, abs=1e-3)
    assert driven.asked_distance_m == pytest.approx(driven.distance_m, rel=1e-12)
    assert (0.0, 0.0) == (driven.seconds_behind, driven.greatest_lag_m_s)


@pytest.mark.parametrize(
    "changes",
    [
        {"load_loss_per_w": 1e-6},
        {"load_loss_per_w": 2e-5, "recovery_efficiency": 0.5},
        {"recovery_grip": 0.03},
        {"recovery_full_from_m_s": 6.0},
        {"rolling_growth": 0.4},
        {"cabin_heat_capacity_j_per_k": 60_000.0, "cabin_gain_w": 150.0},
        {"recovery_share": 0.0},
    ],
)
def test_every_loss_and_limit_is_the_same_forward_and_backward(changes: dict[str, float]) -> None:
    vehicle = road_vehicle(**{**STRONG, **changes})
    trip = replace(FAST, seconds_between_starts=1200.0)
    assert backward(vehicle, trip)[0] == pytest.approx(drive_trip(vehicle, trip).cell_j, rel=1e-9)


def test_legs_are_the_same_forward_and_backward() -> None:
    legs = (
        Leg(distance_m=9_000.0, speed_m_s=TOWN.speed_m_s, slope_percent=0.5),
        Leg(distance_m=12_000.0, steady_m_s=22.0),
        Leg(distance_m=2_000.0, speed_m_s=FAST.speed_m_s[1000:], slope_percent=-1.0),
    )
    trip = Trip(legs=legs, temperature_c=-3.0)
    driven = drive_trip(road_vehicle(**STRONG), trip)
    assert backward(road_vehicle(**STRONG), trip)[0] == pytest.approx(driven.cell_j, rel=1e-9)
    assert 23_000.0 == pytest.approx(driven.distance_m)


def test_a_weak_vehicle_falls_behind_and_takes_less_than_the_backward_model_charges() -> None:
    weak = road_vehicle(peak_power_w=25_000.0)
    driven = drive_trip(weak, FAST)
    cell_j, missed_s = backward(weak, FAST)
    assert missed_s <= driven.seconds_behind
    assert driven.distance_m < driven.asked_distance_m
    assert driven.cell_j < cell_j
    assert driven.cell_j / driven.distance_m < cell_j / driven.asked_distance_m


def test_what_reaches_the_wheels_at_a_held_speed_is_the_peak() -> None:
    # Source: F v = P, solved here by a cubic: 1/2 rho CdA v³ + m g (c cos a + sin a) v = P.
    vehicle = road_vehicle(peak_power_w=30_000.0, resistance_ohm=0.0)
    uphill = Trip(steady_m_s=40.0, temperature_c=15.0, slope_percent=6.0)
    held = drive_trip(vehicle, uphill).distance_m
    sine, cosine = 0.06 / 1.0036**0.5, 1 / 1.0036**0.5
    force = 0.5 * 1.225 * 1.6 * held**2 + 1750.0 * 9.80665 * (0.0135 * cosine + sine)
    assert 30_000.0 == pytest.approx(force * held, rel=1e-4)


def test_a_battery_at_its_cap_holds_the_vehicle_back_as_well() -> None:
    small = road_vehicle(nominal_voltage_v=96.0, resistance_ohm=0.1, peak_power_w=200_000.0)
    cap_w = 0.75 * 96.0**2 / (4 * 0.1)
    uphill = Trip(steady_m_s=40.0, temperature_c=20.0, slope_percent=6.0)
    driven = drive_trip(small, uphill)
    assert cap_w == pytest.approx(driven.terminal_j, rel=1e-9)
    assert 2 * cap_w / 1.5 == pytest.approx(driven.cell_j, rel=1e-9)
    assert driven.greatest_lag_m_s > 10


def test_a_battery_that_cannot_even_feed_the_auxiliaries_leaves_the_vehicle_standing() -> None:
    flat = road_vehicle(nominal_voltage_v=12.0, resistance_ohm=1.0)
    driven = drive_trip(flat, TOWN)
    assert 0.0 == driven.distance_m
    assert max(TOWN.speed_m_s) == driven.greatest_lag_m_s
    assert 0.75 * 12.0**2 / 4 * 1022 == pytest.approx(driven.terminal_j)


@settings(max_examples=40, deadline=None)
@given(plausible_vehicles(), plausible_trips(), st.floats(0, 8))
def test_more_power_never_gets_less_far(
    vehicle: RoadVehicle, trip: Trip, slope_percent: float
) -> None:
    trip = replace(trip, slope_percent=slope_percent)
    by_power = [
        drive_trip(replace(vehicle, peak_power_w=power), trip)
        for power in (8e3, 2e4, 4e4, 8e4, 2e5)
    ]
    for weaker, stronger in pairwise(by_power):
        assert weaker.distance_m <= stronger.distance_m * (1 + 1e-12)
        assert weaker.greatest_lag_m_s >= stronger.greatest_lag_m_s - 1e-9
        assert 0 <= weaker.distance_m <= weaker.asked_distance_m * (1 + 1e-12)


@settings(max_examples=60, deadline=None)
@given(plausible_vehicles(), plausible_trips(), st.floats(-25, 25), st.floats(100, 200_000))
def test_whatever_is_asked_the_answer_is_finite_and_the_cells_give_the_most(
    vehicle: RoadVehicle, trip: Trip, slope_percent: float, peak_power_w: float
) -> None:
    weak = replace(vehicle, peak_power_w=peak_power_w)
    driven = drive_trip(weak, replace(trip, slope_percent=slope_percent))
    assert all(math.isfinite(number) for number in astuple(driven))
    assert driven.cell_j >= driven.terminal_j - 1e-12 * abs(driven.terminal_j) - 1e-6
    assert 0 <= driven.seconds_behind
    assert (driven.seconds_behind > 0) == (driven.greatest_lag_m_s > 1e-9)


@settings(max_examples=40, deadline=None)
@given(plausible_vehicles(), st.floats(1.0, 1.5))
def test_a_heavier_vehicle_never_gets_further_on_the_level(
    vehicle: RoadVehicle, heavier: float
) -> None:
    weak = replace(vehicle, peak_power_w=20_000.0)
    light, heavy = drive_trips([weak, replace(weak, mass_kg=weak.mass_kg * heavier)], FAST)
    assert heavy.distance_m <= light.distance_m * (1 + 1e-12)


@pytest.mark.parametrize("peak_power_w", [9_000.0, 15_000.0, 22_000.0, 35_000.0])
@pytest.mark.parametrize("slope_percent", [0.0, 3.0])
def test_the_speed_achieved_is_that_of_a_plain_search_for_it(
    peak_power_w: float, slope_percent: float
) -> None:
    weak = road_vehicle(peak_power_w=peak_power_w, resistance_ohm=0.0)
    trip = replace(FAST, slope_percent=slope_percent)
    trace = trace_driven(weak, trip, air_density_kg_m3(trip.temperature_c, 0.0))
    driven = drive_trip(weak, trip)
    assert sum(trace) - trace[-1] / 2 == pytest.approx(driven.distance_m, rel=1e-6)
    lags = [asked - speed for asked, speed in zip(trip.speed_m_s, trace, strict=True)]
    assert max(lags) == pytest.approx(driven.greatest_lag_m_s, abs=1e-5)
    assert sum(lag > 1e-6 for lag in lags) == driven.seconds_behind
    cell_j, missed_s = backward(weak, replace(trip, speed_m_s=trace))
    assert 0 == missed_s
    assert cell_j == pytest.approx(driven.cell_j, rel=1e-6)


def test_each_vehicle_is_driven_as_if_it_were_alone() -> None:
    vehicles = [road_vehicle(peak_power_w=1e4 * number) for number in range(1, 8)]
    together = drive_trips(vehicles, FAST)
    assert tuple(drive_trip(vehicle, FAST) for vehicle in vehicles) == together


def test_slopes_of_each_sample_lift_as_the_one_slope_does() -> None:
    sloped = replace(TOWN, slope_percent=2.0)
    each = drive_trip(road_vehicle(), TOWN, OWN, slopes_percent=(2.0,) * len(TOWN.speed_m_s))
    assert drive_trip(road_vehicle(), sloped) == each


@pytest.mark.parametrize(
    ("slopes", "code"), [((1.0, 2.0), "M013"), ((float("nan"),) * len(TOWN.speed_m_s), "M001")]
)
def test_slopes_that_do_not_go_with_the_trace_are_refused(
    slopes: tuple[float, ...], code: str
) -> None:
    with pytest.raises(MeasurementError) as refused:
        drive_trip(road_vehicle(), TOWN, slopes_percent=slopes)
    assert code == refused.value.faults[0].code
