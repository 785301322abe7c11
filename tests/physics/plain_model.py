"""The energy model once more, second by second in plain Python, to check the arrays against."""

from __future__ import annotations

import math
from itertools import pairwise

from configurator.physics.road_vehicle import RoadVehicle, Trip

GRAVITY = 9.80665


def plain_wh_per_km(vehicle: RoadVehicle, trip: Trip) -> float:
    trace = trip.speed_m_s if trip.steady_m_s is None else (trip.steady_m_s, trip.steady_m_s)
    pressure = 101325 * (1 - 0.0065 * trip.altitude_m / 288.15) ** 5.255880
    density = pressure / (287.05287 * (trip.temperature_c + 273.15))
    always_w = vehicle.auxiliary_power_w / vehicle.converter_efficiency + _heating_w(vehicle, trip)
    peak_w = vehicle.peak_power_w / vehicle.drive_efficiency + vehicle.no_load_loss_w + always_w
    cap_w = min(peak_w, _battery_cap_w(vehicle))
    joules = metres = 0.0
    for start, end in pairwise(trace):
        speed = (start + end) / 2
        metres += speed
        asked_w = always_w
        if speed > 0:
            asked_w += vehicle.no_load_loss_w + _drive_w(vehicle, trip, density, start, end)
        joules += _cells_w(vehicle, asked_w, cap_w)
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


def _heating_w(vehicle: RoadVehicle, trip: Trip) -> float:
    points = vehicle.heater_cop
    if not points or trip.temperature_c >= trip.cabin_c:
        return 0.0
    outside = trip.temperature_c
    cop = points[0][1] if outside < points[0][0] else points[-1][1]
    for (cold, worse), (warm, better) in pairwise(points):
        if cold <= outside <= warm:
            cop = worse + (better - worse) * (outside - cold) / (warm - cold)
    loss_w = vehicle.cabin_heat_loss_w_per_k * (trip.cabin_c - outside)
    return min(loss_w, vehicle.heater_max_heat_w) / cop


def _battery_cap_w(vehicle: RoadVehicle) -> float:
    if vehicle.resistance_ohm == 0:
        return math.inf
    return 0.75 * vehicle.nominal_voltage_v**2 / (4 * vehicle.resistance_ohm)


def _drive_w(vehicle: RoadVehicle, trip: Trip, density: float, start: float, end: float) -> float:
    wheel_w = _wheel_w(vehicle, trip, density, start, end)
    if wheel_w >= 0:
        return wheel_w / vehicle.drive_efficiency
    electric = min(-wheel_w * vehicle.recovery_share, vehicle.peak_power_w)
    return -electric * vehicle.recovery_efficiency


def _wheel_w(vehicle: RoadVehicle, trip: Trip, density: float, start: float, end: float) -> float:
    speed = (start + end) / 2
    angle = math.atan(trip.slope_percent / 100)
    weight = vehicle.mass_kg * GRAVITY
    force = (
        0.5 * density * vehicle.drag_area_m2 * speed**2
        + weight * (vehicle.rolling_resistance * math.cos(angle) + math.sin(angle))
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
