"""Many vehicles as columns, checked once, so that the arithmetic runs over all of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from operator import attrgetter

import numpy as np
from numpy.typing import NDArray

from configurator.errors import Fault, MeasurementError
from configurator.physics.measurement import (
    EFFICIENCY,
    NOT_NEGATIVE,
    POSITIVE,
    SHARE,
    require_each,
)
from configurator.physics.road_vehicle import RoadVehicle, Trip
from configurator.physics.trip_arrays import Floats

_BOUNDS = {
    "mass_kg": POSITIVE,
    "drag_area_m2": POSITIVE,
    "rolling_resistance": NOT_NEGATIVE,
    "drive_efficiency": EFFICIENCY,
    "no_load_loss_w": NOT_NEGATIVE,
    "recovery_efficiency": SHARE,
    "recovery_share": SHARE,
    "auxiliary_power_w": NOT_NEGATIVE,
    "converter_efficiency": EFFICIENCY,
    "cabin_heat_loss_w_per_k": NOT_NEGATIVE,
    "heater_max_heat_w": NOT_NEGATIVE,
    "usable_energy_wh": POSITIVE,
    "resistance_ohm": NOT_NEGATIVE,
    "nominal_voltage_v": POSITIVE,
    "peak_power_w": POSITIVE,
    "rotating_mass_factor": POSITIVE,
    "mass_sigma_kg": NOT_NEGATIVE,
    "drag_area_sigma_percent": NOT_NEGATIVE,
    "rolling_resistance_sigma_percent": NOT_NEGATIVE,
    "drive_efficiency_sigma_percent": NOT_NEGATIVE,
    "auxiliary_power_sigma_percent": NOT_NEGATIVE,
    "cabin_heat_loss_sigma_percent": NOT_NEGATIVE,
    "usable_energy_sigma_percent": NOT_NEGATIVE,
}
_ROW = attrgetter(*_BOUNDS)

_GREATEST_SHARE_OF_BATTERY = 0.75
"""Of the power V² / 4 R at which a battery's voltage would halve; at this share it has sagged by a
quarter, where inverters give up. Source: common practice, no source."""


@dataclass(frozen=True)
class VehicleColumns:
    """What the model needs of n vehicles on one trip, shape (n, 1) each."""

    mass_kg: Floats
    drag_area_m2: Floats
    rolling_resistance: Floats
    rotating_mass_factor: Floats
    per_drive_efficiency: Floats
    recovery: Floats
    """Share of the braking power at the wheels that reaches the terminals."""
    least_wheel_power_w: Floats
    """Braking at the wheels beyond which no more is recovered [W], negative."""
    cap_w: Floats
    """Greatest power at the terminals, by the drive's peak or by the battery [W]."""
    drive_cap_w: Floats
    """The part of `cap_w` that the drive takes at its peak [W]; 0 where the battery sets it."""
    standing_power_w: Floats
    """Auxiliaries and heating at the terminals [W]."""
    moving_power_w: Floats
    """The same with the no-load loss [W]."""
    auxiliary_power_w: Floats
    """At the terminals [W]."""
    heat_power_w: Floats
    """Heating at the terminals [W]."""
    loss_per_w: Floats
    """4 R / V² [1/W]."""
    usable_energy_wh: Floats
    mass_sigma_kg: Floats
    sigma_shares: Floats
    """Shape (n, 6), in the order drag area, rolling resistance, drive efficiency, auxiliaries, heat
    loss, usable energy; as shares of the value."""

    def rows(self, chosen: slice | NDArray[np.intp]) -> VehicleColumns:
        """Take some of the vehicles."""
        return VehicleColumns(**{name: column[chosen] for name, column in vars(self).items()})

    def with_mass(self, mass_kg: Floats) -> VehicleColumns:
        """Give the same vehicles other masses, shape (n,) [kg]."""
        return replace(self, mass_kg=mass_kg[:, np.newaxis])


def vehicle_columns(vehicles: Sequence[RoadVehicle], trip: Trip) -> VehicleColumns:
    """Check vehicles and lay them out as columns for one trip.

    Parameters
    ----------
    vehicles : sequence of RoadVehicle, shape (n,)
        The vehicles.
    trip : Trip
        Its temperatures say how much the heater takes.

    Returns
    -------
    VehicleColumns
        Columns of shape (n, 1).

    Raises
    ------
    MeasurementError
        With every impossible value of every vehicle.

    Source
    ------
    Terminal power for heating: min(loss (cabin - outside), greatest heat) / COP.
    """
    table = np.array([_ROW(vehicle) for vehicle in vehicles], dtype=np.float64)
    table = table.reshape(len(vehicles), len(_BOUNDS))
    c = {name: table[:, [number]] for number, name in enumerate(_BOUNDS)}
    names = [f"vehicle {number}" for number in range(1, len(vehicles) + 1)]
    require_each(names, {name: (c[name][:, 0], bound) for name, bound in _BOUNDS.items()})
    per_cop = np.array(
        [[_electricity_per_heat(v.heater_cop, trip.temperature_c)] for v in vehicles]
    ).reshape(-1, 1)
    wished_w = c["cabin_heat_loss_w_per_k"] * max(trip.cabin_c - trip.temperature_c, 0.0)
    given_w = np.minimum(wished_w, c["heater_max_heat_w"])
    auxiliary_w = c["auxiliary_power_w"] / c["converter_efficiency"]
    heat_w = given_w * per_cop
    moving_w = auxiliary_w + heat_w + c["no_load_loss_w"]
    loss_per_w = 4 * c["resistance_ohm"] / c["nominal_voltage_v"] ** 2
    with np.errstate(divide="ignore", over="ignore"):
        battery_cap_w = _GREATEST_SHARE_OF_BATTERY / loss_per_w
        least_wheel_w = -c["peak_power_w"] / c["recovery_share"]
    drive_cap_w = c["peak_power_w"] / c["drive_efficiency"]
    return VehicleColumns(
        mass_kg=c["mass_kg"],
        drag_area_m2=c["drag_area_m2"],
        rolling_resistance=c["rolling_resistance"],
        rotating_mass_factor=c["rotating_mass_factor"],
        per_drive_efficiency=1 / c["drive_efficiency"],
        recovery=c["recovery_share"] * c["recovery_efficiency"],
        least_wheel_power_w=least_wheel_w,
        cap_w=np.minimum(moving_w + drive_cap_w, battery_cap_w),
        drive_cap_w=np.where(moving_w + drive_cap_w < battery_cap_w, drive_cap_w, 0.0),
        standing_power_w=auxiliary_w + heat_w,
        moving_power_w=moving_w,
        auxiliary_power_w=auxiliary_w,
        heat_power_w=heat_w,
        loss_per_w=loss_per_w,
        usable_energy_wh=c["usable_energy_wh"],
        mass_sigma_kg=c["mass_sigma_kg"],
        sigma_shares=table[:, -6:] / 100,
    )


@lru_cache(maxsize=256)
def _electricity_per_heat(heater_cop: tuple[tuple[float, float], ...], outside_c: float) -> float:
    if not heater_cop:
        return 0.0
    temperatures = np.array([point[0] for point in heater_cop], dtype=np.float64)
    coefficients = np.array([point[1] for point in heater_cop], dtype=np.float64)
    if not (np.isfinite(temperatures).all() and (np.diff(temperatures) > 0).all()):
        what = f"heater_cop has temperatures {temperatures.tolist()}; each must be above the last"
        raise MeasurementError([Fault("M016", "heater", what, "Sort the points.")])
    where = [f"heater at {temperature:g} °C" for temperature in temperatures]
    require_each(where, {"heater_cop": (coefficients, POSITIVE)})
    return 1 / float(np.interp(outside_c, temperatures, coefficients))
