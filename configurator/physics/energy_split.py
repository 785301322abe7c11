"""Where the energy of a trip goes, kind by kind, so that a reader can add it up."""

from __future__ import annotations

import math
from dataclasses import astuple, dataclass

import numpy as np

from configurator.physics.cell_energy import GREATEST_SHARE_OF_BATTERY, powers_at_rest_w
from configurator.physics.road_vehicle import RoadVehicle, Trip
from configurator.physics.trip_arrays import Floats, Seconds, trip_arrays
from configurator.physics.vehicle_table import vehicle_table


@dataclass(frozen=True)
class EnergySplit:
    """Energy by kind [J]; all kinds together are what the cells give.

    Drag, rolling, climbing and speeding up count the seconds in which the drive pushes; of braking
    stands what comes back, below 0.
    """

    drag_j: float
    rolling_j: float
    climbing_j: float
    speeding_up_j: float
    drive_loss_j: float
    no_load_j: float
    recovered_j: float
    auxiliaries_j: float
    cabin_j: float
    battery_loss_j: float
    """With what power beyond the cap costs more later."""

    @property
    def total_j(self) -> float:
        """Energy out of the cells [J]."""
        return math.fsum(astuple(self))


def energy_split(vehicle: RoadVehicle, trip: Trip) -> EnergySplit:
    """Split the energy out of the cells by what takes it.

    Parameters
    ----------
    vehicle : RoadVehicle
        The vehicle.
    trip : Trip
        What it drives.

    Returns
    -------
    EnergySplit
        Its kinds sum to the energy of `cell_energies`.

    Raises
    ------
    MeasurementError
        If an input is impossible.

    Source
    ------
    As `cell_energies`: each term of its sums alone.

    Examples
    --------
    >>> from configurator.physics.example_van import EXAMPLE_VAN
    >>> split = energy_split(EXAMPLE_VAN, Trip(steady_m_s=25.0, temperature_c=5.0))
    >>> split.drag_j > split.rolling_j > split.auxiliaries_j > split.climbing_j == 0.0
    True
    """
    arrays = trip_arrays(trip)
    at, lasts = arrays.seconds, arrays.seconds["lasts_s"]
    asked = _asked(vehicle, at)
    rest_w = float(powers_at_rest_w(vehicle_table([vehicle], trip), trip)[0])
    auxiliary_w = vehicle.auxiliary_power_w / vehicle.converter_efficiency
    moving_w = rest_w + vehicle.no_load_loss_w
    terminal_w = asked.driven_w + asked.drive_loss_w + asked.recovered_w + moving_w
    lost_w = _battery_loss_w(vehicle, terminal_w, moving_w)
    standing_lost_w = _battery_loss_w(vehicle, np.array([rest_w]), moving_w)

    def total(power_w: Floats | float) -> float:
        return float(np.sum(lasts * power_w))

    driving = asked.driven_w > 0
    return EnergySplit(
        drag_j=total(driving * vehicle.drag_area_m2 * at["drag_w_per_m2"]),
        rolling_j=total(driving * _rolling_w(vehicle, at)),
        climbing_j=total(driving * vehicle.mass_kg * at["climbing_w_per_kg"]),
        speeding_up_j=total(driving * _speeding_up_w(vehicle, at)),
        drive_loss_j=total(asked.drive_loss_w),
        no_load_j=total(vehicle.no_load_loss_w),
        recovered_j=total(asked.recovered_w),
        auxiliaries_j=auxiliary_w * arrays.duration_s,
        cabin_j=(rest_w - auxiliary_w) * arrays.duration_s,
        battery_loss_j=total(lost_w) + float(standing_lost_w[0]) * arrays.standing_s,
    )


@dataclass(frozen=True)
class _Asked:
    """Powers of the moving seconds [W]."""

    driven_w: Floats
    """At the wheels, while the drive pushes."""
    drive_loss_w: Floats
    recovered_w: Floats
    """Back at the terminals, at most 0 where the loss by the square leaves anything."""


def _rolling_w(vehicle: RoadVehicle, at: Seconds) -> Floats:
    grown = at["rolling_w_per_kg"] + vehicle.rolling_growth * at["fast_rolling_w_per_kg"]
    return np.asarray(vehicle.mass_kg * vehicle.rolling_resistance * grown)


def _speeding_up_w(vehicle: RoadVehicle, at: Seconds) -> Floats:
    rotating_kg = vehicle.mass_kg * vehicle.rotating_mass_factor
    return np.asarray(rotating_kg * at["speeding_up_w_per_kg"])


def _asked(vehicle: RoadVehicle, at: Seconds) -> _Asked:
    wheel_w = (
        vehicle.drag_area_m2 * at["drag_w_per_m2"]
        + _rolling_w(vehicle, at)
        + vehicle.mass_kg * at["climbing_w_per_kg"]
        + _speeding_up_w(vehicle, at)
    )
    driven_w = np.maximum(wheel_w, 0.0)
    load_loss, recovery = vehicle.load_loss_per_w, vehicle.recovery_efficiency
    least_w = -vehicle.peak_power_w
    if load_loss > 0:
        least_w = max(least_w, -recovery / (2 * load_loss))
    full_m_s = vehicle.recovery_full_from_m_s
    slow = np.minimum(at["speed_m_s"] / full_m_s, 1.0) if full_m_s > 0 else 1.0
    gripped_w = -vehicle.recovery_grip * vehicle.mass_kg * at["weight_w_per_kg"]
    braked_w = np.maximum(
        np.minimum(wheel_w, 0.0) * vehicle.recovery_share * slow, np.maximum(least_w, gripped_w)
    )
    return _Asked(
        driven_w,
        driven_w * (1 / vehicle.drive_efficiency - 1 + load_loss * driven_w),
        braked_w * (recovery + load_loss * braked_w),
    )


def _battery_loss_w(vehicle: RoadVehicle, asked_w: Floats, moving_w: float) -> Floats:
    """Find what the battery's resistance takes, with the dearer power beyond the cap."""
    loss_per_w = 4 * vehicle.resistance_ohm / vehicle.nominal_voltage_v**2
    by_drive_w = (
        moving_w
        + vehicle.peak_power_w / vehicle.drive_efficiency
        + vehicle.load_loss_per_w * vehicle.peak_power_w**2
    )
    by_battery_w = GREATEST_SHARE_OF_BATTERY / loss_per_w if loss_per_w > 0 else by_drive_w
    cap_w = min(by_drive_w, by_battery_w)
    terminal_w = np.minimum(asked_w, cap_w)
    cells_w = 2 * terminal_w / (1 + np.sqrt(1 - terminal_w * loss_per_w))
    beyond_w = (asked_w - terminal_w) / np.sqrt(1 - cap_w * loss_per_w)
    return np.asarray(cells_w + beyond_w - asked_w)
