"""The energy model once more, second by second in plain Python, to check the arrays against."""

from __future__ import annotations

import math
from itertools import pairwise

from configurator.physics.road_vehicle import Leg, RoadVehicle, Trip

GRAVITY = 9.80665


def plain_wh_per_km(vehicle: RoadVehicle, trip: Trip) -> float:
    pressure = 101325 * (1 - 0.0065 * trip.altitude_m / 288.15) ** 5.255880
    density = pressure / (287.05287 * (trip.temperature_c + 273.15))
    always_w = vehicle.auxiliary_power_w / vehicle.converter_efficiency + _climate_w(vehicle, trip)
    peak_w = vehicle.peak_power_w / vehicle.drive_efficiency + vehicle.no_load_loss_w + always_w
    peak_w += vehicle.load_loss_per_w * vehicle.peak_power_w**2
    cap_w = min(peak_w, _battery_cap_w(vehicle))
    joules = metres = 0.0
    for leg in trip.legs or (trip,):
        steady, trace = leg.steady_m_s, leg.speed_m_s
        leg_joules = leg_metres = 0.0
        for start, end in pairwise(trace if steady is None else (steady, steady)):
            speed = (start + end) / 2
            leg_metres += speed
            asked_w = always_w
            if speed > 0:
                asked_w += vehicle.no_load_loss_w + _drive_w(vehicle, leg, density, start, end)
            leg_joules += _cells_w(vehicle, asked_w, cap_w)
        times = leg.distance_m / leg_metres if isinstance(leg, Leg) else 1.0
        joules += times * leg_joules
        metres += times * leg_metres
    return joules / 3600 / (metres / 1000)


def trace_driven(vehicle: RoadVehicle, trip: Trip, density: float) -> tuple[float, ...]:
    """Speeds of a vehicle that goes after the trace as fast as its peak power lets it."""
    speeds = [trip.speed_m_s[0]]
    for wanted in trip.speed_m_s[1:]:
        slow, fast = 0.0, wanted
        if _wheel_w(vehicle, trip, density, speeds[-1], fast) > vehicle.peak_power_w:
            for _ in range(50):
                middle = (slow + fast) / 2
                weak = _wheel_w(vehicle, trip, density, speeds[-1], middle) > vehicle.peak_power_w
                slow, fast = (slow, middle) if weak else (middle, fast)
            # A hair below the peak, so that rounding never counts the second as missed.
            fast = slow * (1 - 1e-9)
        speeds.append(fast)
    return tuple(speeds)


def _climate_w(vehicle: RoadVehicle, trip: Trip) -> float:
    outside, loss = trip.temperature_c, vehicle.cabin_heat_loss_w_per_k
    if outside > trip.cabin_c:
        taken_w = min(
            loss * (outside - trip.cabin_c) + vehicle.cabin_gain_w, vehicle.cooler_max_heat_w
        )
        return _for_heat(taken_w, vehicle.cooler_cop, outside)
    wanted_w = loss * (trip.cabin_c - outside) - vehicle.cabin_gain_w
    if trip.seconds_between_starts is not None:
        joules = vehicle.cabin_heat_capacity_j_per_k * (trip.cabin_c - outside)
        wanted_w += joules / trip.seconds_between_starts
    heat_w = min(max(wanted_w, 0.0), vehicle.heater_max_heat_w)
    return _for_heat(heat_w, vehicle.heater_cop, outside)


def _for_heat(heat_w: float, points: tuple[tuple[float, float], ...], outside: float) -> float:
    if not points:
        return 0.0
    cop = points[0][1] if outside < points[0][0] else points[-1][1]
    for (cold, worse), (warm, better) in pairwise(points):
        if cold <= outside <= warm:
            cop = worse + (better - worse) * (outside - cold) / (warm - cold)
    return heat_w / cop


def _battery_cap_w(vehicle: RoadVehicle) -> float:
    if vehicle.resistance_ohm == 0:
        return math.inf
    return 0.75 * vehicle.nominal_voltage_v**2 / (4 * vehicle.resistance_ohm)


def _drive_w(
    vehicle: RoadVehicle, leg: Trip | Leg, density: float, start: float, end: float
) -> float:
    wheel_w = _wheel_w(vehicle, leg, density, start, end)
    square = vehicle.load_loss_per_w
    if wheel_w >= 0:
        return wheel_w / vehicle.drive_efficiency + square * wheel_w**2
    speed = (start + end) / 2
    share = vehicle.recovery_share
    if speed < vehicle.recovery_full_from_m_s:
        share *= speed / vehicle.recovery_full_from_m_s
    grip_n = vehicle.recovery_grip * vehicle.mass_kg * GRAVITY
    braked = min(-wheel_w * share, vehicle.peak_power_w, grip_n * speed)
    if square > 0:
        braked = min(braked, vehicle.recovery_efficiency / (2 * square))
    return square * braked**2 - braked * vehicle.recovery_efficiency


def _wheel_w(
    vehicle: RoadVehicle, leg: Trip | Leg, density: float, start: float, end: float
) -> float:
    speed = (start + end) / 2
    angle = math.atan(leg.slope_percent / 100)
    weight = vehicle.mass_kg * GRAVITY
    rolling = vehicle.rolling_resistance * (1 + vehicle.rolling_growth * (speed / (100 / 3.6)) ** 2)
    force = (
        0.5 * density * vehicle.drag_area_m2 * speed**2
        + weight * (rolling * math.cos(angle) + math.sin(angle))
        + vehicle.mass_kg * vehicle.rotating_mass_factor * (end - start)
    )
    return force * speed


def _cells_w(vehicle: RoadVehicle, asked_w: float, cap_w: float) -> float:
    volts, ohms = vehicle.nominal_voltage_v, vehicle.resistance_ohm
    given_w = min(asked_w, cap_w)
    if ohms == 0:
        return asked_w
    amps = (volts - math.sqrt(volts**2 - 4 * ohms * given_w)) / (2 * ohms)
    # One more watt at the terminals costs V / (V - 2 I R) at the cells.
    return volts * amps + (asked_w - given_w) * volts / (volts - 2 * amps * ohms)
