"""Many vehicles as the rows of one table, checked once, for the compiled loop."""

from __future__ import annotations

import math
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import attrgetter
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from configurator.errors import Fault, MeasurementError
from configurator.physics.measurement import (
    CORRELATION,
    EFFICIENCY,
    NOT_NEGATIVE,
    POSITIVE,
    SHARE,
    Bound,
    require_each,
)
from configurator.physics.road_vehicle import RoadVehicle, Trip
from configurator.physics.trip_arrays import Floats

_COLUMNS_BY_BOUND: dict[Bound, tuple[str, ...]] = {
    EFFICIENCY: ("drive_efficiency", "converter_efficiency"),
    SHARE: ("recovery_efficiency", "recovery_share"),
    CORRELATION: ("drag_rolling_correlation",),
    POSITIVE: (
        "usable_energy_wh",
        "nominal_voltage_v",
        "peak_power_w",
        "rotating_mass_factor",
        "consumption_factor",
        "mass_kg",
        "drag_area_m2",
    ),
    NOT_NEGATIVE: (
        "rolling_resistance",
        "auxiliary_power_w",
        "cabin_heat_loss_w_per_k",
        "rolling_growth",
        "no_load_loss_w",
        "load_loss_per_w",
        "recovery_grip",
        "recovery_full_from_m_s",
        "cabin_heat_capacity_j_per_k",
        "cabin_gain_w",
        "heater_max_heat_w",
        "cooler_max_heat_w",
        "resistance_ohm",
        "doubt_left",
        "mass_sigma_kg",
        "drag_area_sigma_percent",
        "rolling_resistance_sigma_percent",
        "drive_efficiency_sigma_percent",
        "recovery_efficiency_sigma_percent",
        "no_load_loss_sigma_percent",
        "auxiliary_power_sigma_percent",
        "cabin_heat_loss_sigma_percent",
        "usable_energy_sigma_percent",
    ),
}
"""The columns of `Load` stand together, so that a row is given another load in one piece."""

_INTERVALS = {
    EFFICIENCY: (math.ulp(0.0), 1.0),
    SHARE: (0.0, 1.0),
    CORRELATION: (-1.0, 1.0),
    POSITIVE: (math.ulp(0.0), sys.float_info.max),
    NOT_NEGATIVE: (0.0, sys.float_info.max),
}
"""Least and greatest number that keeps a bound: all columns are compared at once."""

_NAMES = tuple(name for names in _COLUMNS_BY_BOUND.values() for name in names)
_BOUNDS = tuple(bound for bound, names in _COLUMNS_BY_BOUND.items() for _ in names)
_LEAST, _GREATEST = np.array([_INTERVALS[bound] for bound in _BOUNDS]).T
_NUMBERS = attrgetter(*_NAMES)
_BY_WEATHER = ("electricity_per_heat", "electricity_per_cooling")
_ROW_TYPE = np.dtype([(name, np.float64) for name in (*_NAMES, *_BY_WEATHER)])
_SIGMA_UNITS = np.array([1.0, *([100.0] * 8)])
"""Kilograms, then per cent of the value eight times."""
_ROW_LENGTH = len(_NAMES) + len(_BY_WEATHER)
_SIGMAS = slice(len(_NAMES) - len(_SIGMA_UNITS), len(_NAMES))


class Load(NamedTuple):
    """What vehicles with the same components may differ in, named as in `RoadVehicle`."""

    mass_kg: float
    drag_area_m2: float
    rolling_resistance: float
    auxiliary_power_w: float
    cabin_heat_loss_w_per_k: float


_LOAD_START = _NAMES.index(Load._fields[0])
_LOAD_END = _LOAD_START + len(Load._fields)

VehicleRow = tuple[float, ...]
"""A vehicle's numbers on one trip, in the order of the columns."""

VehicleRows = NDArray[np.void]
"""Shape (n,); a row has the numbers of a `RoadVehicle` under their own names, and
`electricity_per_heat`, `electricity_per_cooling`: what heater and cooling take for each watt of
heat at the trip's temperature."""


@dataclass(frozen=True)
class VehicleTable:
    """What the model needs of n vehicles on one trip."""

    rows: VehicleRows
    sigmas: Floats
    """Standard deviations, shape (n, 9): mass [kg]; drag area, rolling resistance, drive
    efficiency, recovery efficiency, no-load loss, auxiliaries, heat loss, usable energy, each as a
    share of its value."""


def vehicle_table(vehicles: Sequence[RoadVehicle], trip: Trip) -> VehicleTable:
    """Check vehicles and lay them out as rows for one trip.

    Parameters
    ----------
    vehicles : sequence of RoadVehicle, shape (n,)
        The vehicles.
    trip : Trip
        Its temperature says how much electricity heat takes.

    Returns
    -------
    VehicleTable
        With n rows.

    Raises
    ------
    MeasurementError
        With every impossible value of every vehicle.
    """
    return table_of_rows([vehicle_row(vehicle, trip) for vehicle in vehicles])


def vehicle_row(vehicle: RoadVehicle, trip: Trip) -> VehicleRow:
    """Take a vehicle's numbers for one trip; they are checked when a table is made of them.

    Raises
    ------
    MeasurementError
        If the heater's points are impossible.
    """
    outside_c = trip.temperature_c
    return (
        *_NUMBERS(vehicle),
        _electricity_per_heat("heater", vehicle.heater_cop, outside_c),
        _electricity_per_heat("cooler", vehicle.cooler_cop, outside_c),
    )


def with_load(row: VehicleRow, load: Load) -> VehicleRow:
    """Give a vehicle another load.

    Examples
    --------
    >>> from configurator.physics.example_van import EXAMPLE_VAN
    >>> row = vehicle_row(EXAMPLE_VAN, Trip(steady_m_s=25.0, temperature_c=5.0))
    >>> heavier = with_load(row, Load(1900.0, 1.2, 0.013, 270.0, 70.0))
    >>> table_of_rows([row, heavier]).rows["mass_kg"].tolist()
    [1800.0, 1900.0]
    """
    return row[:_LOAD_START] + load + row[_LOAD_END:]


def table_of_rows(rows: Sequence[VehicleRow]) -> VehicleTable:
    """Check rows and put them into one table.

    Raises
    ------
    MeasurementError
        With every impossible value of every vehicle.
    """
    table = np.array(rows, dtype=np.float64).reshape(len(rows), _ROW_LENGTH)
    numbers = table[:, : len(_NAMES)]
    if not _all_are_possible(numbers):
        _refuse_each(numbers)
    return VehicleTable(table.view(_ROW_TYPE).reshape(-1), table[:, _SIGMAS] / _SIGMA_UNITS)


def _all_are_possible(numbers: Floats) -> bool:
    return bool(((numbers >= _LEAST) & (numbers <= _GREATEST)).all())


def _refuse_each(numbers: Floats) -> None:
    where = [f"vehicle {number}" for number in range(1, len(numbers) + 1)]
    columns = zip(_NAMES, numbers.T, _BOUNDS, strict=True)
    require_each(where, {name: (column, bound) for name, column, bound in columns})


@lru_cache(maxsize=256)
def _electricity_per_heat(
    device: str, points: tuple[tuple[float, float], ...], outside_c: float
) -> float:
    if not points:
        return 0.0
    temperatures = np.array([point[0] for point in points], dtype=np.float64)
    coefficients = np.array([point[1] for point in points], dtype=np.float64)
    if not (np.isfinite(temperatures).all() and (np.diff(temperatures) > 0).all()):
        what = f"{device}_cop has temperatures {temperatures.tolist()}; each must be above the last"
        raise MeasurementError([Fault("M016", device, what, "Sort the points.")])
    where = [f"{device} at {temperature:g} °C" for temperature in temperatures]
    require_each(where, {f"{device}_cop": (coefficients, POSITIVE)})
    return 1 / float(np.interp(outside_c, temperatures, coefficients))
