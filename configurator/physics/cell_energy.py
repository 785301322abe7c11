"""The energy out of the cells over a trip, and how it moves with each input, second by second."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

import numpy as np

from configurator.compiled_loops import compiled_loop
from configurator.physics.road_vehicle import Trip
from configurator.physics.trip_arrays import Floats, Seconds, starts_per_s, trip_arrays
from configurator.physics.vehicle_table import VehicleRows, VehicleTable

GREATEST_SHARE_OF_BATTERY = 0.75
"""Of the power V² / 4 R at which a battery's voltage would halve; at this share it has sagged by a
quarter, where inverters give up. Source: common practice, no source."""

SLOPES = 9
"""Inputs in doubt, as `range_band.DOUBTS`."""

BLEND_W = 2000.0
"""Width over which the slope of the energy goes from braking to driving [W]."""


class CellEnergies(NamedTuple):
    """Energy out of the cells over a trip, and how it moves with each input; n vehicles."""

    joules: Floats
    """Shape (n,) [J]."""
    missed_s: Floats
    """Seconds that ask for more than drive or battery can give, shape (n,) [s]."""
    slopes: Floats
    """Change of the energy's logarithm, shape (n, 9): for a kilogram more; for a change by its own
    size of drag area, rolling resistance, drive efficiency, recovery, no-load loss, auxiliaries,
    heat loss. The ninth is 1: the range's logarithm moves so with the usable energy."""


def cell_energies(vehicles: VehicleTable, trip: Trip) -> CellEnergies:
    """Compute the energy out of the cells with its first derivatives.

    Where a second turns from braking to driving the slope of the energy would jump; it is blended
    there, as the doubt about the power itself blends it. Without that, the edges of the band would
    jump by up to half a thousandth as one second after the other changes side, and a heavier
    vehicle could seem to drive further. For the same reason a second whose recovery is capped keeps
    the slope it has below the cap.

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
    energies = CellEnergies(np.empty(count), np.empty(count), np.empty((count, SLOPES)))
    arrays = trip_arrays(trip)
    _drive_all(vehicles.rows, arrays.seconds, arrays.standing_s, _climate(trip), energies)
    return energies


def powers_at_rest_w(vehicles: VehicleTable, trip: Trip) -> Floats:
    """Find what auxiliaries and the cabin take at the terminals all the time.

    Parameters
    ----------
    vehicles : VehicleTable
        The n vehicles, laid out for this trip.
    trip : Trip
        Its weather counts.

    Returns
    -------
    array, shape (n,)
        Power [W].
    """
    powers_w = np.empty(vehicles.rows.size)
    _rest_all(vehicles.rows, _climate(trip), powers_w)
    return powers_w


def _climate(trip: Trip) -> _Climate:
    return _Climate(
        warmer_k=max(trip.cabin_c - trip.temperature_c, 0.0),
        cooler_k=max(trip.temperature_c - trip.cabin_c, 0.0),
        starts_per_s=starts_per_s(trip),
    )


class _Climate(NamedTuple):
    """What the weather asks of the cabin."""

    warmer_k: float
    cooler_k: float
    starts_per_s: float


class _Terminals(NamedTuple):
    """What hangs on the battery terminals, and what they can give."""

    auxiliary_w: float
    climate_w: float
    """For heating or cooling the cabin."""
    climate_slope_w: float
    """Change of it for a change of the heat loss by its own size."""
    moving_w: float
    """Both with the no-load loss."""
    cap_w: float
    """Greatest power, by the drive's peak or by the battery."""
    drive_cap_w: float
    """The part of `cap_w` that the drive's efficiency moves; 0 where the battery sets the cap."""
    drive_sets_cap: float
    """1 or 0."""
    loss_per_w: float
    """4 R / V² [1/W]."""


@compiled_loop
def _cabin(vehicle: Any, climate: _Climate) -> tuple[float, float]:
    """Find the power of heating or cooling [W] and its slope by the heat loss.

    Heating gives what the cabin loses and what warms it after each start, less what people and sun
    give, up to the heater's greatest; cooling takes out what comes in. The slope rises from 0 with
    the heat that is given, so that no band jumps where the first watt is needed, and stops with the
    heat loss that takes all a device can give: one that costs no more must not widen the band.
    """
    if climate.cooler_k > 0:
        comes_in_w = vehicle.cabin_heat_loss_w_per_k * climate.cooler_k
        taken_w = min(comes_in_w + vehicle.cabin_gain_w, vehicle.cooler_max_heat_w)
        per_heat = vehicle.electricity_per_cooling
        most_w = max(vehicle.cooler_max_heat_w - vehicle.cabin_gain_w, 0.0)
        return taken_w * per_heat, min(comes_in_w, most_w) * per_heat
    lost_w = vehicle.cabin_heat_loss_w_per_k * climate.warmer_k
    warmed_w = vehicle.cabin_heat_capacity_j_per_k * climate.warmer_k * climate.starts_per_s
    wanted_w = max(lost_w + warmed_w - vehicle.cabin_gain_w, 0.0)
    given_w = min(wanted_w, vehicle.heater_max_heat_w)
    per_heat = vehicle.electricity_per_heat
    most_w = max(vehicle.heater_max_heat_w + vehicle.cabin_gain_w - warmed_w, 0.0)
    return given_w * per_heat, min(lost_w, given_w, most_w) * per_heat


@compiled_loop
def _terminals(vehicle: Any, climate: _Climate) -> _Terminals:
    """Gather what is always taken, and the greatest power that can be."""
    auxiliary_w = vehicle.auxiliary_power_w / vehicle.converter_efficiency
    climate_w, climate_slope_w = _cabin(vehicle, climate)
    moving_w = auxiliary_w + climate_w + vehicle.no_load_loss_w
    loss_per_w = 4 * vehicle.resistance_ohm / vehicle.nominal_voltage_v**2
    battery_cap_w = GREATEST_SHARE_OF_BATTERY / loss_per_w
    drive_cap_w = vehicle.peak_power_w / vehicle.drive_efficiency
    by_drive_w = moving_w + drive_cap_w + vehicle.load_loss_per_w * vehicle.peak_power_w**2
    cap_w = min(by_drive_w, battery_cap_w)
    drive_sets_cap = 1.0 if by_drive_w < battery_cap_w else 0.0
    return _Terminals(
        auxiliary_w,
        climate_w,
        climate_slope_w,
        moving_w,
        cap_w,
        drive_cap_w * drive_sets_cap,
        drive_sets_cap,
        loss_per_w,
    )


@compiled_loop
def _rest_all(vehicles: VehicleRows, climate: _Climate, powers_w: Floats) -> None:
    for number, vehicle in enumerate(vehicles):
        at = _terminals(vehicle, climate)
        powers_w[number] = at.auxiliary_w + at.climate_w


@compiled_loop
def _standing(at: _Terminals, root_at_cap: float) -> tuple[float, float]:
    """Find the power out of the cells while standing [W], and its slope by the power asked."""
    asked_w = at.auxiliary_w + at.climate_w
    terminal_w = min(asked_w, at.cap_w)
    root = math.sqrt(1 - terminal_w * at.loss_per_w)
    return 2 * terminal_w / (1 + root) + (asked_w - terminal_w) / root_at_cap, 1 / root


@compiled_loop
def _drive_all(
    vehicles: VehicleRows,
    seconds: Seconds,
    standing_s: float,
    climate: _Climate,
    energies: CellEnergies,
) -> None:
    """Drive each vehicle through the moving seconds, then let it stand; fill the energies.

    At the wheels P = 1/2 rho CdA v³ + m v (g (c (1 + growth) cos a + sin a) + k dv/dt). Driving
    costs P / efficiency + q P²; of braking, the drive's share comes back times the recovery, less
    q P², within the drive's peak and the grip of its axle, and less at low speed. In the battery
    P_terminals = V I - I² R, solved for V I and written so that nothing cancels when R is small.
    Power beyond the cap is given later at the cap, so it costs what the last watt there costs.
    """
    for number, vehicle in enumerate(vehicles):
        at = _terminals(vehicle, climate)
        per_efficiency = 1 / vehicle.drive_efficiency
        load_loss = vehicle.load_loss_per_w
        recovery = vehicle.recovery_efficiency
        least_braked_w = -vehicle.peak_power_w
        if load_loss > 0:
            # Beyond this, the loss by the square eats more of a further watt than comes back.
            least_braked_w = max(least_braked_w, -recovery / (2 * load_loss))
        gripped_kg = vehicle.recovery_grip * vehicle.mass_kg
        full_per_m_s = 1 / vehicle.recovery_full_from_m_s
        root_at_cap = math.sqrt(1 - at.loss_per_w * at.cap_w)

        given_j = beyond_j = missed_s = 0.0
        cells_per_terminal = driven_j = recovered_j = 0.0
        per_kg = per_drag_area = per_rolling = 0.0
        for second in seconds:
            rolling_w_per_kg = (
                second.rolling_w_per_kg + vehicle.rolling_growth * second.fast_rolling_w_per_kg
            )
            wheel_w_per_kg = (
                vehicle.rolling_resistance * rolling_w_per_kg
                + vehicle.rotating_mass_factor * second.speeding_up_w_per_kg
                + second.climbing_w_per_kg
            )
            wheel_w = vehicle.mass_kg * wheel_w_per_kg + vehicle.drag_area_m2 * second.drag_w_per_m2
            driven_w = max(wheel_w, 0.0)
            share = vehicle.recovery_share * min(full_per_m_s * second.speed_m_s, 1.0)
            braked_w = max(
                min(wheel_w, 0.0) * share, least_braked_w, -gripped_kg * second.weight_w_per_kg
            )
            asked_w = (
                driven_w * (per_efficiency + load_loss * driven_w)
                + braked_w * (recovery + load_loss * braked_w)
                + at.moving_w
            )
            terminal_w = min(asked_w, at.cap_w)
            root = math.sqrt(1 - terminal_w * at.loss_per_w)
            given_j += second.lasts_s * (2 * terminal_w / (1 + root))
            beyond_j += second.lasts_s * (asked_w - terminal_w)
            missed_s += second.lasts_s * (asked_w > at.cap_w)

            per_terminal = second.lasts_s / root
            cells_per_terminal += per_terminal
            driven_j += driven_w * per_terminal
            recovered_j += braked_w * per_terminal
            driving = min(max(wheel_w / BLEND_W + 0.5, 0.0), 1.0)
            per_braked = share * (recovery + 2 * load_loss * braked_w)
            per_driven = per_efficiency + 2 * load_loss * driven_w
            per_wheel = (per_braked + driving * (per_driven - per_braked)) * per_terminal
            per_kg += per_wheel * wheel_w_per_kg
            per_drag_area += per_wheel * second.drag_w_per_m2
            per_rolling += per_wheel * rolling_w_per_kg

        standing_w, standing_slope = _standing(at, root_at_cap)
        energy_j = given_j + beyond_j / root_at_cap + standing_w * standing_s
        joules_per_cap_w = beyond_j * at.loss_per_w / (2 * root_at_cap**3)
        joules_per_moving_w = cells_per_terminal + at.drive_sets_cap * joules_per_cap_w
        joules_per_w = joules_per_moving_w + standing_slope * standing_s

        energies.joules[number] = energy_j
        energies.missed_s[number] = missed_s
        energies.slopes[number, :] = (
            per_kg / energy_j,
            per_drag_area * vehicle.drag_area_m2 / energy_j,
            per_rolling * vehicle.mass_kg * vehicle.rolling_resistance / energy_j,
            -(driven_j * per_efficiency + at.drive_cap_w * joules_per_cap_w) / energy_j,
            recovered_j * recovery / energy_j,
            vehicle.no_load_loss_w * joules_per_moving_w / energy_j,
            at.auxiliary_w * joules_per_w / energy_j,
            at.climate_slope_w * joules_per_w / energy_j,
            1.0,
        )
