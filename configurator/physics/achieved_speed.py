"""The speed a vehicle really reaches on a trip, second by second and forward in time.

Where drive and battery can give what the trace asks, this equals the energy model that faces
backward. Where they cannot, the speed at the end of the second is solved from the power that is
left, the next second starts from there, and the vehicle hurries after the trace as best it can.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from configurator.compiled_loops import compiled_loop
from configurator.physics.air_density import air_density_kg_m3
from configurator.physics.asked_seconds import Asked, asked_seconds
from configurator.physics.cell_energy import GREATEST_SHARE_OF_BATTERY, powers_at_rest_w
from configurator.physics.convention import OWN, Convention, EfficiencyMap
from configurator.physics.road_vehicle import RoadVehicle, Trip
from configurator.physics.trip_arrays import GROWTH_SPEED_M_S, Floats, trip_arrays
from configurator.physics.vehicle_table import VehicleRows, vehicle_table

HALVINGS = 60
"""Of the span in which an achieved speed lies; more would not change a digit."""

NOT_BEHIND_M_S = 1e-9
"""Lag that is put down to rounding [m/s]."""


@dataclass(frozen=True, slots=True)
class DrivenTrip:
    """What comes of a trip in the time it asks for; a vehicle that falls behind gets less far."""

    distance_m: float
    asked_distance_m: float
    terminal_j: float
    """Energy out of the battery's terminals [J]."""
    cell_j: float
    """Energy out of the cells [J]."""
    seconds_behind: float
    """Seconds at whose end the vehicle is slower than asked [s]."""
    greatest_lag_m_s: float
    """How much slower at most [m/s]."""


def drive_trip(
    vehicle: RoadVehicle,
    trip: Trip,
    convention: Convention = OWN,
    *,
    slopes_percent: tuple[float, ...] = (),
) -> DrivenTrip:
    """Drive a vehicle along a trip as it asks, or as fast as the vehicle can.

    Parameters
    ----------
    vehicle : RoadVehicle
        The vehicle.
    trip : Trip
        What it is asked to drive. Each leg starts at its own first speed; a steady speed that is
        too fast becomes the greatest that can be held.
    convention : Convention
        How powers and distances are counted.
    slopes_percent : tuple of float, shape (t + 1,)
        Slope at each sample of the trip's trace [%]; empty for the slopes the trip says.

    Returns
    -------
    DrivenTrip
        Distances, energies, and how far the vehicle falls behind.

    Raises
    ------
    MeasurementError
        If an input is impossible.

    Source
    ------
    Forces and losses as `road_load.consumption_wh_per_km`. An achieved speed is the greatest at
    which the power at the wheels and at the terminals stays within what drive and battery can
    give, found by halving the span from a standstill to the speed asked for.

    Examples
    --------
    >>> from configurator.physics.example_van import EXAMPLE_VAN
    >>> steep = Trip(steady_m_s=25.0, temperature_c=15.0, cabin_c=15.0, slope_percent=18.0)
    >>> round(drive_trip(EXAMPLE_VAN, steep).greatest_lag_m_s, 2)
    8.15
    """
    return drive_trips([vehicle], trip, convention, slopes_percent=slopes_percent)[0]


def drive_trips(
    vehicles: Sequence[RoadVehicle],
    trip: Trip,
    convention: Convention = OWN,
    *,
    slopes_percent: tuple[float, ...] = (),
) -> tuple[DrivenTrip, ...]:
    """Drive several vehicles along a trip, each as if it were alone; as `drive_trip`.

    Returns
    -------
    tuple of DrivenTrip, shape (n,)
        In the order of the vehicles.

    Raises
    ------
    MeasurementError
        If an input is impossible.
    """
    table = vehicle_table(vehicles, trip)
    rules = _rules(trip, convention)
    late = convention.late_air_density_kg_m3
    driven = np.empty((len(vehicles), 5))
    _drive_all(
        table.rows,
        powers_at_rest_w(table, trip),
        asked_seconds(trip, convention, slopes_percent),
        (rules, rules._replace(density_kg_m3=late or rules.density_kg_m3)),
        driven,
    )
    asked_m = trip_arrays(trip).distance_m
    return tuple(DrivenTrip(row[0], asked_m, *row[1:]) for row in driven.tolist())


class _Points(NamedTuple):
    """An `EfficiencyMap` as arrays; empty for none."""

    power_w: Floats
    efficiency: Floats
    stepped: float


class _Rules(NamedTuple):
    """A `Convention` as numbers, on one day."""

    gravity_m_s2: float
    density_kg_m3: float
    end_share: float
    """Of a second's last speed in the speed that its distance is taken at."""
    recovery_peak: float
    """Greatest power while braking by the drive's peak."""
    growth_speed_m_s: float
    battery_share: float
    motor: _Points
    battery: _Points


def _rules(trip: Trip, convention: Convention) -> _Rules:
    density = convention.air_density_kg_m3
    if density is None:
        density = air_density_kg_m3(trip.temperature_c, trip.altitude_m)
    return _Rules(
        gravity_m_s2=convention.gravity_m_s2,
        density_kg_m3=density,
        end_share=1.0 if convention.distance_at_end else 0.5,
        recovery_peak=1.0 if convention.recovery_within_peak else math.inf,
        growth_speed_m_s=GROWTH_SPEED_M_S,
        battery_share=GREATEST_SHARE_OF_BATTERY,
        motor=_points(convention.motor_map),
        battery=_points(convention.battery_map),
    )


def _points(efficiency_map: EfficiencyMap | None) -> _Points:
    if efficiency_map is None:
        return _Points(np.empty(0), np.empty(0), 0.0)
    power_w, efficiency = np.array([efficiency_map.power_w, efficiency_map.efficiency])
    return _Points(power_w, efficiency, float(efficiency_map.stepped))


@compiled_loop
def _efficiency(points: _Points, power_w: float) -> float:
    last = points.power_w.size - 1
    if power_w <= points.power_w[0]:
        return float(points.efficiency[0])
    if power_w >= points.power_w[last]:
        return float(points.efficiency[last])
    above = 1
    while points.power_w[above] <= power_w:
        above += 1
    low_w, low = points.power_w[above - 1], points.efficiency[above - 1]
    if points.stepped > 0:
        return float(low)
    share = (power_w - low_w) / (points.power_w[above] - low_w)
    return float(low + share * (points.efficiency[above] - low))


@compiled_loop
def _wheel_w(vehicle: Any, second: Any, rules: _Rules, ends: tuple[float, float]) -> float:
    """P = v (m (g (c (1 + growth) cos a + sin a) + k dv/dt) + 1/2 rho CdA v²), v the mean speed."""
    start, end = ends
    speed = (start + end) / 2
    growth = vehicle.rolling_growth * (speed / rules.growth_speed_m_s) ** 2
    m_s2 = (
        vehicle.rolling_resistance * (1 + growth) * second.rolling_m_s2
        + second.climbing_m_s2
        + vehicle.rotating_mass_factor * (end - start)
    )
    drag_n = 0.5 * rules.density_kg_m3 * vehicle.drag_area_m2 * speed**2
    return float(speed * (vehicle.mass_kg * m_s2 + drag_n))


@compiled_loop
def _drive_w(vehicle: Any, rules: _Rules, wheel_w: float, speed: float) -> float:
    """Find what the drive takes at the terminals, negative where it recovers."""
    if speed <= 0:
        return 0.0
    if wheel_w >= 0:
        taken_w = wheel_w / vehicle.drive_efficiency
        if rules.motor.power_w.size > 0:
            taken_w /= _efficiency(rules.motor, taken_w)
        return float(taken_w + vehicle.load_loss_per_w * wheel_w**2 + vehicle.no_load_loss_w)
    share = vehicle.recovery_share * min(speed / vehicle.recovery_full_from_m_s, 1.0)
    grip_w = vehicle.recovery_grip * vehicle.mass_kg * rules.gravity_m_s2 * speed
    braked_w = max(wheel_w * share, -rules.recovery_peak * vehicle.peak_power_w, -grip_w)
    if vehicle.load_loss_per_w > 0:
        braked_w = max(braked_w, -vehicle.recovery_efficiency / (2 * vehicle.load_loss_per_w))
    per_w = vehicle.recovery_efficiency + vehicle.load_loss_per_w * braked_w
    return float(per_w * braked_w + vehicle.no_load_loss_w)


@compiled_loop
def _is_too_much(
    vehicle: Any, second: Any, rules: _Rules, spare_w: float, ends: tuple[float, float]
) -> bool:
    """Tell whether drive or battery, with its spare power, cannot bring the vehicle to a speed."""
    wheel_w = _wheel_w(vehicle, second, rules, ends)
    if wheel_w > vehicle.peak_power_w:
        return True
    return _drive_w(vehicle, rules, wheel_w, (ends[0] + ends[1]) / 2) > spare_w


@compiled_loop
def _achieved(vehicle: Any, second: Any, rules: _Rules, spare_w: float, start: float) -> float:
    """Find the greatest speed at the end of a second that is not too much, by halving the span.

    From a standstill up the power only rises, but for a slope downhill, where it first falls: so
    what is too much stays too much with more speed.
    """
    slow, fast = 0.0, second.end_m_s
    for _ in range(HALVINGS):
        middle = (slow + fast) / 2
        begin = middle if second.steady > 0 else start
        if _is_too_much(vehicle, second, rules, spare_w, (begin, middle)):
            fast = middle
        else:
            slow = middle
    return float(slow)


@compiled_loop
def _cells_w(vehicle: Any, rules: _Rules, terminal_w: float, loss_per_w: float) -> float:
    if rules.battery.power_w.size > 0:
        efficiency = _efficiency(rules.battery, terminal_w)
        return terminal_w / efficiency if terminal_w > 0 else terminal_w * efficiency
    return 2 * terminal_w / (1 + math.sqrt(1 - loss_per_w * terminal_w))


@compiled_loop
def _drive_all(
    vehicles: VehicleRows,
    rest_w: Floats,
    asked: Asked,
    both_rules: tuple[_Rules, _Rules],
    driven: Floats,
) -> None:
    """Drive each vehicle through every second; fill its numbers of a `DrivenTrip`.

    The second rules are those an achieved speed is solved by.
    """
    rules, late_rules = both_rules
    for number, vehicle in enumerate(vehicles):
        loss_per_w = 4 * vehicle.resistance_ohm / vehicle.nominal_voltage_v**2
        cap_w = rules.battery_share / loss_per_w
        spare_w = cap_w - rest_w[number]
        distance_m = terminal_j = cell_j = behind_s = greatest_lag = speed = 0.0
        for second in asked:
            start = second.start_m_s if second.starts > 0 else speed
            speed = second.end_m_s
            if _is_too_much(vehicle, second, rules, spare_w, (start, speed)):
                speed = _achieved(vehicle, second, late_rules, spare_w, start)
                start = speed if second.steady > 0 else start
            mean = (start + speed) / 2
            # A vehicle that cannot even slow down within its power gives what it has.
            wheel_w = min(_wheel_w(vehicle, second, rules, (start, speed)), vehicle.peak_power_w)
            drive_w = min(_drive_w(vehicle, rules, wheel_w, mean), max(spare_w, 0.0))
            terminal_w = min(drive_w + rest_w[number], cap_w)
            lag = second.end_m_s - speed
            distance_m += second.lasts_s * (start + rules.end_share * (speed - start))
            terminal_j += second.lasts_s * terminal_w
            cell_j += second.lasts_s * _cells_w(vehicle, rules, terminal_w, loss_per_w)
            behind_s += second.lasts_s * (lag > NOT_BEHIND_M_S)
            greatest_lag = max(greatest_lag, lag)
        driven[number, :] = (distance_m, terminal_j, cell_j, behind_s, greatest_lag)
