"""The energy out of the cells over a trip, and how it moves with each input, second by second."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

import numpy as np

from configurator.compiled_loops import compiled_loop
from configurator.physics.road_vehicle import Trip
from configurator.physics.trip_arrays import Floats, Seconds, trip_arrays
from configurator.physics.vehicle_table import VehicleRows, VehicleTable

GREATEST_SHARE_OF_BATTERY = 0.75
"""Of the power V² / 4 R at which a battery's voltage would halve; at this share it has sagged by a
quarter, where inverters give up. Source: common practice, no source."""

BLEND_W = 2000.0
"""Width over which the slope of the energy goes from braking to driving [W]."""


class CellEnergies(NamedTuple):
    """Energy out of the cells over a trip, and how it moves with each input; n vehicles."""

    joules: Floats
    """Shape (n,) [J]."""
    missed_s: Floats
    """Seconds that ask for more than drive or battery can give, shape (n,) [s]."""
    slopes: Floats
    """Change of the energy's logarithm, shape (n, 7): for a kilogram more; for a change by its own
    size of drag area, rolling resistance, drive efficiency, auxiliaries, heat loss. The seventh is
    1: the range's logarithm moves so with the usable energy."""


def cell_energies(vehicles: VehicleTable, trip: Trip) -> CellEnergies:
    """Compute the energy out of the cells with its first derivatives.

    Where a second turns from braking to driving the slope of the energy would jump; it is blended
    there, as the doubt about the power itself blends it. Without that, the edges of the band would
    jump by up to half a thousandth as one second after the other changes side, and a heavier
    vehicle could seem to drive further.

    Parameters
    ----------
    vehicles : VehicleTable
        The n vehicles, laid out for this trip.
    trip : Trip
        What all of them drive.

    Returns
    -------
    CellEnergies
        Energy [J] with its derivatives; a vehicle's are the same alone or among others.

    Source
    ------
    As `road_load.consumption_wh_per_km`; chain rule through its steps.
    """
    count = vehicles.rows.size
    energies = CellEnergies(np.empty(count), np.empty(count), np.empty((count, 7)))
    warmer_k = max(trip.cabin_c - trip.temperature_c, 0.0)
    arrays = trip_arrays(trip)
    _drive_all(vehicles.rows, arrays.seconds, arrays.standing_s, warmer_k, energies)
    return energies


class _Terminals(NamedTuple):
    """What hangs on the battery terminals, and what they can give."""

    auxiliary_w: float
    heat_w: float
    moving_w: float
    """Both with the no-load loss."""
    cap_w: float
    """Greatest power, by the drive's peak or by the battery."""
    drive_cap_w: float
    """The part of `cap_w` that the drive takes at its peak; 0 where the battery sets it."""
    loss_per_w: float
    """4 R / V² [1/W]."""


@compiled_loop
def _terminals(vehicle: Any, warmer_k: float) -> _Terminals:
    """Heating takes min(heat loss × kelvins, greatest heat) by the coefficient of performance."""
    auxiliary_w = vehicle.auxiliary_power_w / vehicle.converter_efficiency
    given_heat_w = min(vehicle.cabin_heat_loss_w_per_k * warmer_k, vehicle.heater_max_heat_w)
    heat_w = given_heat_w * vehicle.electricity_per_heat
    moving_w = auxiliary_w + heat_w + vehicle.no_load_loss_w
    loss_per_w = 4 * vehicle.resistance_ohm / vehicle.nominal_voltage_v**2
    battery_cap_w = GREATEST_SHARE_OF_BATTERY / loss_per_w
    drive_cap_w = vehicle.peak_power_w / vehicle.drive_efficiency
    cap_w = min(moving_w + drive_cap_w, battery_cap_w)
    if moving_w + drive_cap_w >= battery_cap_w:
        drive_cap_w = 0.0
    return _Terminals(auxiliary_w, heat_w, moving_w, cap_w, drive_cap_w, loss_per_w)


@compiled_loop
def _drive_all(
    vehicles: VehicleRows,
    seconds: Seconds,
    standing_s: float,
    warmer_k: float,
    energies: CellEnergies,
) -> None:
    """Drive each vehicle through the moving seconds, then let it stand; fill the energies.

    At the wheels P = 1/2 rho CdA v³ + m v (g (c cos a + sin a) + k dv/dt). Driving divides by the
    drive's efficiency, braking multiplies by the recovery; since the first is never the flatter
    line, the greater of both is the right one on either side of zero. In the battery
    P_terminals = V I - I² R, solved for V I and written so that nothing cancels when R is small.
    Power beyond the cap is given later at the cap, so it costs what the last watt there costs.
    """
    for number, vehicle in enumerate(vehicles):
        at = _terminals(vehicle, warmer_k)
        per_efficiency = 1 / vehicle.drive_efficiency
        recovery = vehicle.recovery_share * vehicle.recovery_efficiency
        least_wheel_w = -vehicle.peak_power_w / vehicle.recovery_share
        root_at_cap = math.sqrt(1 - at.loss_per_w * at.cap_w)

        given_j = beyond_j = missed = 0.0
        cells_per_terminal = driven_j = 0.0
        per_kg = per_drag_area = per_rolling = 0.0
        for second in seconds:
            wheel_w_per_kg = (
                vehicle.rolling_resistance * second.rolling_w_per_kg
                + vehicle.rotating_mass_factor * second.speeding_up_w_per_kg
                + second.climbing_w_per_kg
            )
            wheel_w = max(
                vehicle.mass_kg * wheel_w_per_kg + vehicle.drag_area_m2 * second.drag_w_per_m2,
                least_wheel_w,
            )
            asked_w = max(wheel_w * per_efficiency, wheel_w * recovery) + at.moving_w
            terminal_w = min(asked_w, at.cap_w)
            root = math.sqrt(1 - terminal_w * at.loss_per_w)
            given_j += 2 * terminal_w / (1 + root)
            beyond_j += asked_w - terminal_w
            missed += asked_w > at.cap_w

            per_terminal = 1 / root
            cells_per_terminal += per_terminal
            driven_j += max(wheel_w, 0.0) * per_terminal
            driving = min(max(wheel_w / BLEND_W + 0.5, 0.0), 1.0)
            per_wheel = (recovery + driving * (per_efficiency - recovery)) * per_terminal
            per_kg += per_wheel * wheel_w_per_kg
            per_drag_area += per_wheel * second.drag_w_per_m2
            per_rolling += per_wheel * second.rolling_w_per_kg

        standing_w = at.auxiliary_w + at.heat_w
        standing_given_w = min(standing_w, at.cap_w)
        standing_root = math.sqrt(1 - standing_given_w * at.loss_per_w)
        standing_cells_w = (
            2 * standing_given_w / (1 + standing_root)
            + (standing_w - standing_given_w) / root_at_cap
        )
        energy_j = given_j + beyond_j / root_at_cap + standing_cells_w * standing_s
        joules_per_cap_w = beyond_j * at.loss_per_w / (2 * root_at_cap**3)
        joules_per_w = cells_per_terminal + standing_s / standing_root
        if at.drive_cap_w > 0:
            joules_per_w += joules_per_cap_w

        energies.joules[number] = energy_j
        energies.missed_s[number] = missed
        energies.slopes[number, 0] = per_kg / energy_j
        energies.slopes[number, 1] = per_drag_area * vehicle.drag_area_m2 / energy_j
        energies.slopes[number, 2] = (
            per_rolling * vehicle.mass_kg * vehicle.rolling_resistance / energy_j
        )
        energies.slopes[number, 3] = (
            -(driven_j * per_efficiency + at.drive_cap_w * joules_per_cap_w) / energy_j
        )
        energies.slopes[number, 4] = at.auxiliary_w * joules_per_w / energy_j
        energies.slopes[number, 5] = at.heat_w * joules_per_w / energy_j
        energies.slopes[number, 6] = 1.0
