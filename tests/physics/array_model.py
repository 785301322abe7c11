"""The band once more, with whole arrays of seconds in numpy, to check the compiled loop against."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from configurator.physics.air_density import air_density_kg_m3
from configurator.physics.range_band import RangeBand
from configurator.physics.road_vehicle import Leg, RoadVehicle, Trip

Floats = NDArray[np.float64]

GRAVITY = 9.80665
BLEND_W = 2000.0


def array_band(vehicle: RoadVehicle, trip: Trip) -> RangeBand:
    consumption, by_doubt = consumption_and_doubts(vehicle, trip)
    mid_km = vehicle.usable_energy_wh / consumption
    variance = sum(doubt**2 for doubt in by_doubt)
    variance += 2 * vehicle.drag_rolling_correlation * by_doubt[1] * by_doubt[2]
    factor = math.exp(1.2815515655446004 * math.sqrt(variance))
    return RangeBand(mid_km / factor, mid_km, mid_km * factor, consumption)


@dataclass(frozen=True)
class Sampled:
    """The seconds of a trip, standing ones too, each with how long it lasts."""

    speed: Floats
    gain: Floats
    lasts: Floats
    slope: Floats


def sampled(trip: Trip) -> Sampled:
    legs = trip.legs or (trip,)
    parts = []
    for leg in legs:
        trace = leg.speed_m_s if leg.steady_m_s is None else (leg.steady_m_s, leg.steady_m_s)
        ends = np.array(trace)
        speed = (ends[1:] + ends[:-1]) / 2
        lasts = leg.distance_m / speed.sum() if isinstance(leg, Leg) else 1.0
        parts.append(
            (
                speed,
                np.diff(ends),
                np.full(speed.size, lasts),
                np.full(speed.size, leg.slope_percent),
            )
        )
    return Sampled(*(np.concatenate(column) for column in zip(*parts, strict=True)))


def consumption_and_doubts(vehicle: RoadVehicle, trip: Trip) -> tuple[float, list[float]]:
    """Consumption [Wh/km] and what each doubt does to its logarithm, by hand-made derivatives."""
    at = sampled(trip)
    moving = at.speed > 0
    angle = np.arctan(at.slope / 100)
    weight = GRAVITY * at.speed
    drag = 0.5 * air_density_kg_m3(trip.temperature_c, trip.altitude_m) * at.speed**3
    grown = 1 + vehicle.rolling_growth * (at.speed * 3.6 / 100) ** 2
    rolling = weight * np.cos(angle) * grown
    per_kg = (
        vehicle.rolling_resistance * rolling
        + vehicle.rotating_mass_factor * at.gain * at.speed
        + weight * np.sin(angle)
    )
    wheel_w = vehicle.mass_kg * per_kg + vehicle.drag_area_m2 * drag
    driven = np.where(moving, np.maximum(wheel_w, 0), 0.0)
    share = np.full(at.speed.size, vehicle.recovery_share)
    if vehicle.recovery_full_from_m_s > 0:
        share *= np.minimum(at.speed / vehicle.recovery_full_from_m_s, 1.0)
    braked = np.minimum(wheel_w, 0) * share
    braked = np.maximum(braked, -vehicle.peak_power_w)
    braked = np.maximum(braked, -vehicle.recovery_grip * vehicle.mass_kg * weight)
    square = vehicle.load_loss_per_w
    if square > 0:
        braked = np.maximum(braked, -vehicle.recovery_efficiency / square / 2)

    auxiliary_w = vehicle.auxiliary_power_w / vehicle.converter_efficiency
    climate_w, climate_slope_w = climate(vehicle, trip)
    always_w = auxiliary_w + climate_w
    asked_w = always_w + np.where(moving, vehicle.no_load_loss_w, 0.0)
    asked_w += driven / vehicle.drive_efficiency + square * driven**2
    asked_w += vehicle.recovery_efficiency * braked + square * braked**2

    drive_cap_w = vehicle.peak_power_w / vehicle.drive_efficiency
    by_drive_w = always_w + vehicle.no_load_loss_w + drive_cap_w + square * vehicle.peak_power_w**2
    loss_per_w = 4 * vehicle.resistance_ohm / vehicle.nominal_voltage_v**2
    by_battery_w = 0.75 / loss_per_w if loss_per_w > 0 else math.inf
    cap_w = min(by_drive_w, by_battery_w)
    given_w = np.minimum(asked_w, cap_w)
    root, root_at_cap = np.sqrt(1 - loss_per_w * given_w), math.sqrt(1 - loss_per_w * cap_w)
    beyond_w = asked_w - given_w
    joules = (at.lasts * (2 * given_w / (1 + root) + beyond_w / root_at_cap)).sum()

    # A second beyond the cap costs 1 / root_at_cap for each watt, and root is root_at_cap there.
    blend = np.clip(wheel_w / BLEND_W + 0.5, 0, 1)
    braking = share * (vehicle.recovery_efficiency + 2 * square * braked)
    driving = 1 / vehicle.drive_efficiency + 2 * square * driven
    per_watt = at.lasts / root
    per_wheel = np.where(moving, (braking + blend * (driving - braking)) * per_watt, 0.0)
    # More auxiliaries, or a worse drive, raise the cap too, and with it what the last watt costs.
    beyond_j = (at.lasts * beyond_w)[moving].sum()
    per_cap_w = beyond_j * loss_per_w / (2 * root_at_cap**3) * (by_drive_w < by_battery_w)
    always = per_watt.sum() + per_cap_w
    efficiency = (driven * per_watt).sum() / vehicle.drive_efficiency + drive_cap_w * per_cap_w
    joules_by_doubt = [
        vehicle.mass_sigma_kg * (per_wheel * per_kg).sum(),
        vehicle.drag_area_sigma_percent / 100 * vehicle.drag_area_m2 * (per_wheel * drag).sum(),
        vehicle.rolling_resistance_sigma_percent
        / 100
        * vehicle.mass_kg
        * vehicle.rolling_resistance
        * (per_wheel * rolling).sum(),
        -vehicle.drive_efficiency_sigma_percent / 100 * efficiency,
        vehicle.recovery_efficiency_sigma_percent
        / 100
        * vehicle.recovery_efficiency
        * (braked * per_watt).sum(),
        vehicle.no_load_loss_sigma_percent
        / 100
        * vehicle.no_load_loss_w
        * (per_watt[moving].sum() + per_cap_w),
        vehicle.auxiliary_power_sigma_percent / 100 * auxiliary_w * always,
        vehicle.cabin_heat_loss_sigma_percent / 100 * climate_slope_w * always,
        vehicle.usable_energy_sigma_percent / 100 * joules,
    ]
    consumption = joules / 3600 / ((at.lasts * at.speed).sum() / 1000)
    return float(consumption), [float(doubt / joules) for doubt in joules_by_doubt]


def climate(vehicle: RoadVehicle, trip: Trip) -> tuple[float, float]:
    """Power of heating or cooling [W], and how it moves with the heat loss."""
    below_k = trip.cabin_c - trip.temperature_c
    through_w = vehicle.cabin_heat_loss_w_per_k * abs(below_k)
    if below_k < 0:
        taken_w = min(through_w + vehicle.cabin_gain_w, vehicle.cooler_max_heat_w)
        per_heat = _per_heat(vehicle.cooler_cop, trip.temperature_c)
        most_w = max(vehicle.cooler_max_heat_w - vehicle.cabin_gain_w, 0.0)
        return taken_w * per_heat, min(through_w, most_w) * per_heat
    wished_w = through_w - vehicle.cabin_gain_w
    if trip.seconds_between_starts is not None:
        wished_w += vehicle.cabin_heat_capacity_j_per_k * below_k / trip.seconds_between_starts
    given_w = min(max(wished_w, 0.0), vehicle.heater_max_heat_w)
    per_heat = _per_heat(vehicle.heater_cop, trip.temperature_c)
    most_w = max(vehicle.heater_max_heat_w - (wished_w - through_w), 0.0)
    return given_w * per_heat, min(through_w, given_w, most_w) * per_heat


def _per_heat(points: tuple[tuple[float, float], ...], outside_c: float) -> float:
    if not points:
        return 0.0
    temperatures, coefficients = zip(*points, strict=True)
    return 1 / float(np.interp(outside_c, temperatures, coefficients))
