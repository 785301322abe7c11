"""Consumption against four cases worked out by hand."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from configurator.physics.air_density import air_density_kg_m3
from configurator.physics.road_load import consumption_wh_per_km
from configurator.physics.road_vehicle import Trip
from tests.physics.road_vehicles import road_vehicle

G = 9.80665
"""Source: ISO 80000-3, standard acceleration of free fall [m/s²]."""

BARE = {
    "no_load_loss_w": 0.0,
    "converter_efficiency": 1.0,
    "heater_cop": (),
    "resistance_ohm": 0.0,
    "recovery_efficiency": 0.0,
    "recovery_share": 0.0,
    "peak_power_w": 100_000.0,
}


def day_of_density_c(density: float, altitude_m: float = 0.0) -> float:
    """Temperature [°C] at which the air has a density, by proportion from a day at 15 °C."""
    return 288.15 * air_density_kg_m3(15.0, altitude_m) / density - 273.15


# Source: first principles: F = 1/2 rho CdA v² + m g c; 270.2 Wh/km.
def test_level_road_at_100_km_h() -> None:
    speed = 100 / 3.6
    force = 0.5 * 1.225 * 1.2 * speed**2 + 1800 * G * 0.013
    expected = (force / (0.92 * 0.90) + 300 / speed) / 3.6
    vehicle = road_vehicle(
        **BARE | {"mass_kg": 1800.0, "drag_area_m2": 1.2, "rolling_resistance": 0.013},
        drive_efficiency=0.92 * 0.90,
        auxiliary_power_w=300.0,
    )
    trip = Trip(steady_m_s=speed, temperature_c=day_of_density_c(1.225))
    assert expected == pytest.approx(270.2, abs=0.05)
    assert expected == pytest.approx(consumption_wh_per_km([vehicle], trip)[0], rel=1e-9)


# Source: first principles, weight along and across the slope; 547.1 Wh/km.
def test_climbing_5_percent_at_50_km_h_in_thin_air() -> None:
    speed, angle = 50 / 3.6, math.atan(0.05)
    weight = 2150 * G
    force = 0.5 * 1.1117 * 1.794 * speed**2
    force += weight * (0.014 * math.cos(angle) + math.sin(angle))
    expected = (force / (0.90 * 0.88) + 350 / speed) / 3.6
    vehicle = road_vehicle(
        **BARE | {"mass_kg": 2150.0, "drag_area_m2": 1.794, "rolling_resistance": 0.014},
        drive_efficiency=0.90 * 0.88,
        auxiliary_power_w=350.0,
    )
    trip = Trip(
        steady_m_s=speed,
        temperature_c=day_of_density_c(1.1117, 1000.0),
        altitude_m=1000.0,
        slope_percent=5.0,
    )
    assert expected == pytest.approx(547.1, abs=0.06)
    assert expected == pytest.approx(consumption_wh_per_km([vehicle], trip)[0], rel=1e-9)


# Source: first principles, Ohm's law at the battery: 147.0 at the terminals, 149.3 in the cells.
def test_the_battery_loses_by_the_square_of_the_current() -> None:
    speed = 90 / 3.6
    force = 0.5 * 1.14624 * 0.70 * speed**2 + 1000 * G * 0.0125
    terminals_w = force * speed / (0.93 * 0.91) + 2200
    amps = (320 - math.sqrt(320**2 - 4 * 0.12 * terminals_w)) / (2 * 0.12)
    assert terminals_w == pytest.approx(320 * amps - 0.12 * amps**2)
    at_terminals, in_cells = terminals_w / speed / 3.6, 320 * amps / speed / 3.6
    vehicle = road_vehicle(
        **BARE | {"mass_kg": 1000.0, "drag_area_m2": 0.70, "rolling_resistance": 0.0125},
        drive_efficiency=0.93 * 0.91,
        auxiliary_power_w=2200.0,
    )
    lossy = road_vehicle(
        **BARE
        | {"mass_kg": 1000.0, "drag_area_m2": 0.70, "rolling_resistance": 0.0125}
        | {"resistance_ohm": 0.12, "nominal_voltage_v": 320.0},
        drive_efficiency=0.93 * 0.91,
        auxiliary_power_w=2200.0,
    )
    trip = Trip(steady_m_s=speed, temperature_c=day_of_density_c(1.14624))
    assert (at_terminals, in_cells) == pytest.approx((147.0, 149.3), abs=0.05)
    computed = consumption_wh_per_km([vehicle, lossy], trip)
    assert (at_terminals, in_cells) == pytest.approx(computed, rel=1e-9)


# Source: first principles, each second at its mean speed; 1050 m, 136.9 Wh/km.
def test_a_start_a_cruise_and_a_stop() -> None:
    trace = [1.5 * second for second in range(11)] + [15.0] * 60
    trace += [15 - 1.5 * second for second in range(1, 11)]
    joules = metres = 0.0
    for start, end in pairwise(trace):
        speed = (start + end) / 2
        wheel_w = (0.5 * 1.2 * 1.0 * speed**2 + 1500 * G * 0.012 + 1545 * (end - start)) * speed
        driven = wheel_w / (0.92 * 0.90) if wheel_w > 0 else wheel_w * 0.6 * 0.92 * 0.85
        joules += driven + 250
        metres += speed
    expected = joules / 3.6 / metres
    vehicle = road_vehicle(
        **BARE
        | {"mass_kg": 1500.0, "drag_area_m2": 1.0, "rolling_resistance": 0.012}
        | {"recovery_share": 0.6, "recovery_efficiency": 0.92 * 0.85},
        drive_efficiency=0.92 * 0.90,
        auxiliary_power_w=250.0,
        rotating_mass_factor=1.03,
    )
    trip = Trip(speed_m_s=tuple(trace), temperature_c=day_of_density_c(1.2))
    assert metres == pytest.approx(1050)
    assert expected == pytest.approx(136.9, abs=0.05)
    assert expected == pytest.approx(consumption_wh_per_km([vehicle], trip)[0], rel=1e-9)
