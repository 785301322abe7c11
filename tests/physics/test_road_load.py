"""The consumption against a plain loop, and what must hold for every vehicle."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.air_density import air_density_kg_m3
from configurator.physics.road_load import consumption_wh_per_km, share_not_followed
from configurator.physics.road_vehicle import Leg, RoadVehicle, Trip
from tests.physics.plain_model import plain_wh_per_km, trace_driven
from tests.physics.road_vehicles import (
    cycle_trip,
    plausible_trips,
    plausible_vehicles,
    road_vehicle,
)

TOWN = cycle_trip("wltc-class-1")

LOSSLESS = {
    "mass_kg": 1000.0,
    "rolling_resistance": 0.0,
    "rotating_mass_factor": 1.0,
    "drag_area_m2": 1e-9,
    "drive_efficiency": 1.0,
    "recovery_efficiency": 1.0,
    "recovery_share": 1.0,
    "no_load_loss_w": 0.0,
    "auxiliary_power_w": 50.0,
    "resistance_ohm": 0.0,
    "peak_power_w": 1e9,
}


@settings(max_examples=40, deadline=None)
@given(st.lists(plausible_vehicles(), min_size=1, max_size=3), plausible_trips())
def test_the_arrays_agree_with_a_plain_loop_over_the_seconds(
    vehicles: list[RoadVehicle], trip: Trip
) -> None:
    expected = [plain_wh_per_km(vehicle, trip) for vehicle in vehicles]
    assert expected == pytest.approx(consumption_wh_per_km(vehicles, trip), rel=1e-7)


@pytest.mark.parametrize("slope_percent", [-2.0, 6.0])
def test_the_arrays_agree_with_a_plain_loop_on_a_slope_up_in_the_hills(
    slope_percent: float,
) -> None:
    trip = replace(TOWN, slope_percent=slope_percent, altitude_m=900.0, temperature_c=3.0)
    vehicle = road_vehicle()
    expected = plain_wh_per_km(vehicle, trip)
    assert expected == pytest.approx(consumption_wh_per_km([vehicle], trip)[0], rel=1e-7)


def test_a_vehicle_gets_the_same_figure_alone_and_among_five_hundred() -> None:
    vehicles = [road_vehicle(mass_kg=900.0 + 3 * number) for number in range(500)]
    alone = tuple(consumption_wh_per_km([vehicle], TOWN)[0] for vehicle in vehicles)
    assert alone == consumption_wh_per_km(vehicles, TOWN)


def test_no_vehicles_give_no_figures() -> None:
    assert consumption_wh_per_km([], TOWN) == ()
    assert share_not_followed([], TOWN) == ()


@settings(max_examples=30, deadline=None)
@given(
    plausible_vehicles(),
    plausible_trips(),
    st.sampled_from(
        [
            "mass_kg",
            "drag_area_m2",
            "rolling_resistance",
            "no_load_loss_w",
            "auxiliary_power_w",
            "cabin_heat_loss_w_per_k",
        ]
    ),
    st.floats(1.001, 1.5),
)
def test_more_mass_drag_rolling_or_load_never_lowers_the_consumption(
    vehicle: RoadVehicle, trip: Trip, name: str, factor: float
) -> None:
    worse = replace(vehicle, **{name: getattr(vehicle, name) * factor})
    before, after = consumption_wh_per_km([vehicle, worse], trip)
    assert before <= after


@pytest.mark.parametrize("temperature_c", [20.0, 28.0])
def test_a_warm_day_needs_no_heating_and_a_cabin_without_cooling_is_not_cooled(
    temperature_c: float,
) -> None:
    trip = replace(TOWN, temperature_c=temperature_c)
    without = road_vehicle(heater_cop=())
    assert consumption_wh_per_km([without], trip) == consumption_wh_per_km([road_vehicle()], trip)


def test_a_heater_at_its_greatest_takes_no_more_in_harder_frost() -> None:
    cold = Trip(steady_m_s=10.0, temperature_c=-30.0)
    vehicle = road_vehicle(heater_max_heat_w=1000.0, heater_cop=((0.0, 2.0),))
    warm, cabin = replace(cold, cabin_c=-30.0), replace(cold, cabin_c=10.0)
    unheated, heated = (consumption_wh_per_km([vehicle], trip)[0] for trip in (warm, cabin))
    # 1000 W of heat at a COP of 2 for 100 s a kilometre, with a little lost in the battery.
    assert heated - unheated == pytest.approx(500 * 100 / 3600, rel=0.02)


def test_a_drive_that_is_strong_enough_follows_every_second() -> None:
    assert share_not_followed([road_vehicle(peak_power_w=200_000.0)], TOWN) == (0.0,)


def test_the_seconds_a_weak_drive_misses_are_counted() -> None:
    # Four seconds: 0-1-2 m/s gently, then 2-8 m/s, then steady; only the third is beyond 5 kW.
    trip = Trip(speed_m_s=(0.0, 1.0, 2.0, 8.0, 8.0), temperature_c=20.0)
    assert share_not_followed([road_vehicle(peak_power_w=5000.0)], trip) == (0.25,)


def test_the_seconds_a_soft_battery_misses_are_counted() -> None:
    trip = Trip(speed_m_s=(0.0, 1.0, 2.0, 8.0, 8.0), temperature_c=20.0)
    soft = road_vehicle(nominal_voltage_v=96.0, resistance_ohm=0.2)  # 8.6 kW at most
    assert share_not_followed([soft], trip) == (0.25,)


def test_a_weak_drive_still_pays_for_the_whole_trip() -> None:
    weak, strong = road_vehicle(peak_power_w=20_000.0), road_vehicle(peak_power_w=200_000.0)
    less, more = consumption_wh_per_km([weak, strong], cycle_trip("wltc-class-3b"))
    assert 0.95 * more < less < more


@pytest.mark.parametrize(
    ("peak_power_w", "most_missed", "most_over"), [(50_000.0, 0.05, 0.02), (25_000.0, 0.25, 0.2)]
)
def test_a_weak_drive_is_told_more_than_it_uses_when_it_falls_behind_and_hurries_after(
    peak_power_w: float, most_missed: float, most_over: float
) -> None:
    trip = cycle_trip("wltc-class-3b")
    weak = road_vehicle(peak_power_w=peak_power_w)
    driven = trace_driven(weak, trip, air_density_kg_m3(trip.temperature_c, trip.altitude_m))
    used = consumption_wh_per_km([weak], replace(trip, speed_m_s=driven))[0]
    told = consumption_wh_per_km([weak], trip)[0]
    assert 0 < share_not_followed([weak], trip)[0] < most_missed
    assert 0 <= told / used - 1 < most_over


def test_a_trip_in_one_leg_is_that_trip() -> None:
    leg = Leg(distance_m=50_000.0, speed_m_s=TOWN.speed_m_s)
    in_a_leg = Trip(legs=(leg,), temperature_c=20.0)
    expected = consumption_wh_per_km([road_vehicle()], TOWN)[0]
    assert expected == pytest.approx(consumption_wh_per_km([road_vehicle()], in_a_leg)[0])


def test_the_legs_of_a_day_add_up_by_their_kilometres() -> None:
    town = Leg(distance_m=12_000.0, speed_m_s=TOWN.speed_m_s)
    hill = Leg(distance_m=3_000.0, steady_m_s=14.0, slope_percent=4.0)
    alone = [
        consumption_wh_per_km([road_vehicle()], Trip(legs=(leg,), temperature_c=2.0))[0]
        for leg in (town, hill)
    ]
    day = consumption_wh_per_km([road_vehicle()], Trip(legs=(hill, town), temperature_c=2.0))[0]
    assert (12 * alone[0] + 3 * alone[1]) / 15 == pytest.approx(day)


def test_driving_up_and_down_costs_more_than_the_level_and_less_than_the_climb_alone() -> None:
    level, up, down = (
        Leg(distance_m=5_000.0, steady_m_s=14.0, slope_percent=slope) for slope in (0.0, 5.0, -5.0)
    )
    there, hills, climb = (
        consumption_wh_per_km([road_vehicle()], Trip(legs=legs, temperature_c=20.0))[0]
        for legs in ((level,), (up, down), (up,))
    )
    assert there < hills < climb


# Source: first principles: F v, F = m g c (1 + growth (v / 100 km/h)²) + 1/2 rho CdA v².
def test_tyres_roll_harder_with_the_square_of_the_speed() -> None:
    trip = Trip(steady_m_s=50 / 3.6, temperature_c=20.0)
    slow = road_vehicle(rolling_growth=0.0)
    more = road_vehicle(rolling_growth=0.4)
    a_tenth_more = replace(slow, rolling_resistance=1.1 * slow.rolling_resistance)
    expected = consumption_wh_per_km([a_tenth_more], trip)[0]
    assert expected == pytest.approx(consumption_wh_per_km([more], trip)[0])


# Source: first principles: friction on the driven axle can't exceed its share of the weight.
def test_recovery_stops_where_the_driven_axle_would_slide() -> None:
    # One second of braking at 5 m/s², mean speed 10 m/s, lossless: m v (a - grip g) is lost.
    trip = Trip(speed_m_s=(0.0, 12.5, 12.5, 7.5, 7.5), temperature_c=20.0)
    free = road_vehicle(**LOSSLESS)
    gripped = replace(free, recovery_grip=0.2)
    expected_j = 1000.0 * 10.0 * (5.0 - 0.2 * 9.80665)
    less, more = (each * 3.6 * 36.25 for each in consumption_wh_per_km([free, gripped], trip))
    assert expected_j == pytest.approx(more - less, rel=1e-6)


def test_recovery_fades_in_proportion_at_low_speed() -> None:
    trip = Trip(speed_m_s=(0.0, 3.0, 3.0, 1.0, 1.0), temperature_c=20.0)
    free = road_vehicle(**LOSSLESS)
    fading = replace(free, recovery_full_from_m_s=4.0)
    # The braking second has a mean speed of 2 m/s: half of its 4 kJ comes back.
    less, more = (each * 3.6 * 7.5 for each in consumption_wh_per_km([free, fading], trip))
    assert 2000.0 == pytest.approx(more - less, rel=1e-6)


# Source: the heat balance of a cabin, C dT/dt = Q - loss (T - outside) + gain, in steps of 0.1 s.
def test_warming_the_cabin_takes_what_its_heat_balance_takes() -> None:
    capacity, loss, gain, outside, inside = 60_000.0, 70.0, 120.0, -5.0, 18.0
    temperature, heat_j = outside, 0.0
    for _ in range(36_000):
        wanted = capacity * (inside - temperature) / 60 + loss * (temperature - outside) - gain
        heat = max(wanted, 0.0)
        heat_j += 0.1 * heat
        temperature += 0.1 * (heat - loss * (temperature - outside) + gain) / capacity
    vehicle = road_vehicle(
        cabin_heat_capacity_j_per_k=capacity,
        cabin_heat_loss_w_per_k=loss,
        cabin_gain_w=gain,
        heater_max_heat_w=20_000.0,
        heater_cop=((0.0, 1.0),),
        resistance_ohm=0.0,
    )
    trip = Trip(
        steady_m_s=10.0, temperature_c=outside, cabin_c=inside, seconds_between_starts=3600.0
    )
    unheated = replace(vehicle, heater_cop=())
    with_heat, without = consumption_wh_per_km([vehicle, unheated], trip)
    # 36 km in the hour; the balance loses a little less while the cabin is not yet warm.
    assert heat_j == pytest.approx(3600 * 36 * (with_heat - without), rel=0.02)


# Source: heat balance: what comes in through the walls and from people must be taken out.
def test_cooling_takes_out_what_comes_in() -> None:
    trip = Trip(steady_m_s=10.0, temperature_c=32.0, cabin_c=22.0)
    cooled = road_vehicle(
        cabin_gain_w=300.0,
        cooler_max_heat_w=4000.0,
        cooler_cop=((30.0, 2.6), (34.0, 2.4)),
        resistance_ohm=0.0,
    )
    with_it, without = consumption_wh_per_km([cooled, replace(cooled, cooler_cop=())], trip)
    assert (70.0 * 10 + 300) / 2.5 / 36 == pytest.approx(with_it - without)


def test_recovery_stops_at_the_peak_of_the_drive() -> None:
    trip = Trip(speed_m_s=(0.0, 5.0, 10.0, 15.0, 20.0, 20.0, 0.0), temperature_c=20.0)
    weak = road_vehicle(recovery_share=1.0, peak_power_w=100_000.0)
    strong = replace(weak, peak_power_w=500_000.0)
    assert consumption_wh_per_km([strong], trip) < consumption_wh_per_km([weak], trip)


def test_every_impossible_value_of_every_vehicle_is_named_at_once() -> None:
    vehicles = [
        road_vehicle(mass_kg=float("nan"), drive_efficiency=1.2),
        road_vehicle(),
        road_vehicle(recovery_share=-0.1, usable_energy_wh=0.0),
    ]
    with pytest.raises(MeasurementError) as refused:
        consumption_wh_per_km(vehicles, TOWN)
    found = {(fault.where, fault.what.split()[0], fault.code) for fault in refused.value.faults}
    expected = {
        ("vehicle 1", "mass_kg", "M001"),
        ("vehicle 1", "drive_efficiency", "M004"),
        ("vehicle 3", "recovery_share", "M005"),
        ("vehicle 3", "usable_energy_wh", "M002"),
    }
    assert expected == found


@pytest.mark.parametrize(
    ("trip", "code"),
    [
        (Trip(temperature_c=20.0), "M013"),
        (Trip(speed_m_s=(1.0, 1.0), steady_m_s=5.0, temperature_c=20.0), "M013"),
        (Trip(speed_m_s=(0.0, 0.0), temperature_c=20.0), "M014"),
        (Trip(steady_m_s=0.0, temperature_c=20.0), "M014"),
        (Trip(steady_m_s=-3.0, temperature_c=20.0), "M003"),
        (Trip(steady_m_s=float("nan"), temperature_c=20.0), "M001"),
        (Trip(steady_m_s=20.0, temperature_c=99.0), "M007"),
        (Trip(steady_m_s=20.0, temperature_c=20.0, altitude_m=20_000.0), "M008"),
        (Trip(steady_m_s=20.0, temperature_c=20.0, slope_percent=-30.0), "M015"),
    ],
)
def test_an_impossible_trip_is_refused(trip: Trip, code: str) -> None:
    with pytest.raises(MeasurementError) as refused:
        consumption_wh_per_km([road_vehicle()], trip)
    assert [code] == [fault.code for fault in refused.value.faults]


@pytest.mark.parametrize(
    ("points", "code"), [(((0.0, 2.0), (0.0, 3.0)), "M016"), (((0.0, 0.0),), "M002")]
)
def test_an_impossible_heater_is_refused(
    points: tuple[tuple[float, float], ...], code: str
) -> None:
    with pytest.raises(MeasurementError) as refused:
        consumption_wh_per_km([road_vehicle(heater_cop=points)], TOWN)
    assert [code] == [fault.code for fault in refused.value.faults]
