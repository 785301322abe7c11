"""The band once more, with whole arrays of seconds in numpy, to check the compiled loop against."""

from __future__ import annotations

import math

import numpy as np

from configurator.physics.air_density import air_density_kg_m3
from configurator.physics.range_band import RangeBand
from configurator.physics.road_vehicle import RoadVehicle, Trip

GRAVITY = 9.80665
BLEND_W = 2000.0


def array_band(vehicle: RoadVehicle, trip: Trip) -> RangeBand:
    consumption, by_doubt = consumption_and_doubts(vehicle, trip)
    mid_km = vehicle.usable_energy_wh / consumption
    factor = math.exp(1.2815515655446004 * math.sqrt(sum(doubt**2 for doubt in by_doubt)))
    return RangeBand(mid_km / factor, mid_km, mid_km * factor, consumption)


def consumption_and_doubts(vehicle: RoadVehicle, trip: Trip) -> tuple[float, list[float]]:
    """Consumption [Wh/km] and what each doubt does to its logarithm, by hand-made derivatives."""
    trace = trip.speed_m_s if trip.steady_m_s is None else (trip.steady_m_s, trip.steady_m_s)
    ends = np.array(trace)
    speed, gain = (ends[1:] + ends[:-1]) / 2, np.diff(ends)
    angle = math.atan(trip.slope_percent / 100)
    weight = GRAVITY * speed
    drag = 0.5 * air_density_kg_m3(trip.temperature_c, trip.altitude_m) * speed**3
    rolling = weight * math.cos(angle)
    per_kg = (
        vehicle.rolling_resistance * rolling
        + vehicle.rotating_mass_factor * gain * speed
        + weight * math.sin(angle)
    )
    wheel_w = vehicle.mass_kg * per_kg + vehicle.drag_area_m2 * drag
    if vehicle.recovery_share > 0:
        wheel_w = np.maximum(wheel_w, -vehicle.peak_power_w / vehicle.recovery_share)
    recovery = vehicle.recovery_share * vehicle.recovery_efficiency
    auxiliary_w = vehicle.auxiliary_power_w / vehicle.converter_efficiency
    heat_w = heating_w(vehicle, trip)
    moving = speed > 0
    drive_w = np.where(wheel_w > 0, wheel_w / vehicle.drive_efficiency, wheel_w * recovery)
    asked_w = auxiliary_w + heat_w + np.where(moving, drive_w + vehicle.no_load_loss_w, 0.0)

    drive_cap_w = vehicle.peak_power_w / vehicle.drive_efficiency
    by_drive_w = auxiliary_w + heat_w + vehicle.no_load_loss_w + drive_cap_w
    loss_per_w = 4 * vehicle.resistance_ohm / vehicle.nominal_voltage_v**2
    by_battery_w = 0.75 / loss_per_w if loss_per_w > 0 else math.inf
    cap_w = min(by_drive_w, by_battery_w)
    given_w = np.minimum(asked_w, cap_w)
    root, root_at_cap = np.sqrt(1 - loss_per_w * given_w), math.sqrt(1 - loss_per_w * cap_w)
    beyond_w = asked_w - given_w
    joules = (2 * given_w / (1 + root) + beyond_w / root_at_cap).sum()

    # A second beyond the cap costs 1 / root_at_cap for each watt, and root is root_at_cap there.
    blend = np.clip(wheel_w / BLEND_W + 0.5, 0, 1)
    per_wheel = (recovery + blend * (1 / vehicle.drive_efficiency - recovery)) / root
    per_wheel[~moving] = 0.0
    driven_w = np.where(moving, np.maximum(wheel_w, 0), 0.0) / vehicle.drive_efficiency
    # More auxiliaries, or a worse drive, raise the cap too, and with it what the last watt costs.
    per_cap_w = (beyond_w[moving] * loss_per_w).sum() / (2 * root_at_cap**3)
    drive_sets_cap = by_drive_w < by_battery_w
    per_watt = (1 / root).sum() + per_cap_w * drive_sets_cap
    per_efficiency = (driven_w / root).sum() + drive_cap_w * per_cap_w * drive_sets_cap
    joules_by_doubt = [
        vehicle.mass_sigma_kg * (per_wheel * per_kg).sum(),
        vehicle.drag_area_sigma_percent / 100 * vehicle.drag_area_m2 * (per_wheel * drag).sum(),
        vehicle.rolling_resistance_sigma_percent
        / 100
        * vehicle.mass_kg
        * vehicle.rolling_resistance
        * (per_wheel * rolling).sum(),
        -vehicle.drive_efficiency_sigma_percent / 100 * per_efficiency,
        vehicle.auxiliary_power_sigma_percent / 100 * auxiliary_w * per_watt,
        vehicle.cabin_heat_loss_sigma_percent / 100 * heat_w * per_watt,
        vehicle.usable_energy_sigma_percent / 100 * joules,
    ]
    consumption = joules / 3600 / (speed.sum() / 1000)
    return float(consumption), [float(doubt / joules) for doubt in joules_by_doubt]


def heating_w(vehicle: RoadVehicle, trip: Trip) -> float:
    if not vehicle.heater_cop:
        return 0.0
    temperatures, coefficients = zip(*vehicle.heater_cop, strict=True)
    wished_w = vehicle.cabin_heat_loss_w_per_k * max(trip.cabin_c - trip.temperature_c, 0.0)
    cop = float(np.interp(trip.temperature_c, temperatures, coefficients))
    return min(wished_w, vehicle.heater_max_heat_w) / cop
