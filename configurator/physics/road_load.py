"""Energy from the cells to move a vehicle along a trip, second by second.

The model faces backward: the trace says the speed, the speed says the power. A drive that is too
weak gives its peak, and the trace is still counted as driven; `share_not_followed` says in how many
seconds, so that nobody trusts a consumption of a trip that the vehicle cannot drive. The battery
takes whatever the drive recovers; a full or cold pack that refuses it is not modelled.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from configurator.errors import Fault, MeasurementError
from configurator.physics.road_vehicle import RoadVehicle, Trip
from configurator.physics.trip_arrays import Floats, TripArrays, trip_arrays
from configurator.physics.vehicle_columns import VehicleColumns, vehicle_columns

_SECONDS_PER_HOUR = 3600.0
_CELLS_OF_A_BLOCK = 16_384
"""Vehicles are taken in blocks so small that a block's arrays stay in the processor's cache."""


@dataclass(frozen=True)
class CellEnergy:
    """Energy out of the cells over a trip [J], and how it moves with each input.

    A slope is the energy's change for a whole change of the input by its own size (by a kilogram
    for the mass), shape (n,) or (n, 5): drag area, rolling resistance, drive efficiency,
    auxiliaries, heat loss.
    """

    joules: Floats
    joules_per_kg: Floats
    joules_per_share: Floats


def consumption_wh_per_km(vehicles: Sequence[RoadVehicle], trip: Trip) -> tuple[float, ...]:
    """Compute the energy out of the cells for each kilometre.

    Parameters
    ----------
    vehicles : sequence of RoadVehicle, shape (n,)
        The vehicles; each result is the same alone or among others, to the last digit.
    trip : Trip
        What all of them drive.

    Returns
    -------
    tuple of float, shape (n,)
        Consumption at the cells [Wh/km].

    Raises
    ------
    MeasurementError
        If an input is impossible, or the trip gives back as much as it takes.

    Source
    ------
    Longitudinal forces F = 1/2 rho CdA v² + m g (c cos a + sin a) + m k dv/dt; battery with inner
    resistance, P_cells = V I with P_terminals = V I - I² R.

    Examples
    --------
    >>> from configurator.physics.road_vehicle import RoadVehicle, Trip
    >>> car = RoadVehicle(mass_kg=1800.0, drag_area_m2=1.2, rolling_resistance=0.013,
    ...     drive_efficiency=0.92 * 0.90, no_load_loss_w=0.0, recovery_efficiency=0.7,
    ...     recovery_share=0.6, auxiliary_power_w=300.0, converter_efficiency=1.0,
    ...     cabin_heat_loss_w_per_k=0.0, heater_max_heat_w=0.0, heater_cop=(),
    ...     usable_energy_wh=40000.0, resistance_ohm=0.0, nominal_voltage_v=350.0,
    ...     peak_power_w=80000.0, mass_sigma_kg=30.0, drag_area_sigma_percent=8.0,
    ...     rolling_resistance_sigma_percent=10.0, drive_efficiency_sigma_percent=4.0,
    ...     auxiliary_power_sigma_percent=20.0, cabin_heat_loss_sigma_percent=20.0,
    ...     usable_energy_sigma_percent=3.0)
    >>> [round(x, 1) for x in consumption_wh_per_km([car], Trip(steady_m_s=100 / 3.6,
    ...     temperature_c=15.0))]
    [270.2]
    """
    columns = vehicle_columns(vehicles, trip)
    energy = np.concatenate(
        [np.zeros(0), *(_block_joules(block, trip) for block in _blocks(columns, trip))]
    )
    return tuple(wh_per_km(energy, trip).tolist())


def share_not_followed(vehicles: Sequence[RoadVehicle], trip: Trip) -> tuple[float, ...]:
    """Count the seconds in which a vehicle is too weak for the trip.

    Parameters
    ----------
    vehicles : sequence of RoadVehicle, shape (n,)
        The vehicles.
    trip : Trip
        What all of them are asked to drive.

    Returns
    -------
    tuple of float, shape (n,)
        Seconds in which drive or battery cannot give the power asked for, by all seconds of the
        trip; 0 when the vehicle follows it throughout.

    Raises
    ------
    MeasurementError
        If an input is impossible.

    Source
    ------
    As `consumption_wh_per_km`; a battery gives at most V² / 4 R.
    """
    arrays = trip_arrays(trip)
    columns = vehicle_columns(vehicles, trip)
    shares: list[float] = []
    for block in _blocks(columns, trip):
        asked_w, _ = _wheel_power_w(block, arrays)
        terminal_w = _terminal_power_w(block, np.minimum(asked_w, block.peak_power_w))
        missed = (asked_w > block.peak_power_w) | (terminal_w * block.loss_per_w > 1)
        shares.extend((np.count_nonzero(missed, axis=1) / arrays.duration_s).tolist())
    return tuple(shares)


def cell_energy(columns: VehicleColumns, trip: Trip) -> CellEnergy:
    """Compute the energy out of the cells and how it moves with each input.

    Parameters
    ----------
    columns : VehicleColumns, shape (n, 1)
        The vehicles, laid out for this trip.
    trip : Trip
        What all of them drive.

    Returns
    -------
    CellEnergy
        Energy [J] with its exact first derivatives.

    Source
    ------
    Chain rule through the steps of `consumption_wh_per_km`.
    """
    blocks = [_block_energy(block, trip) for block in _blocks(columns, trip)]
    return CellEnergy(
        joules=np.concatenate([np.zeros(0), *(block.joules for block in blocks)]),
        joules_per_kg=np.concatenate([np.zeros(0), *(block.joules_per_kg for block in blocks)]),
        joules_per_share=np.concatenate(
            [np.zeros((0, 5)), *(block.joules_per_share for block in blocks)]
        ),
    )


def wh_per_km(joules: Floats, trip: Trip) -> Floats:
    """Turn energies over a trip into consumptions.

    Parameters
    ----------
    joules : array, shape (n,)
        Energy out of the cells over the trip [J].
    trip : Trip
        The trip.

    Returns
    -------
    array, shape (n,)
        Consumption [Wh/km].

    Raises
    ------
    MeasurementError
        If a trip gives back as much as it takes, so that a range would have no end.
    """
    where = [f"vehicle {number}" for number in range(1, joules.size + 1)]
    faults = [
        Fault(
            "M015",
            where[number],
            "the trip gives back as much energy as it takes; a range would have no end",
            "Give a trip that is not downhill and does not only brake.",
        )
        for number in np.flatnonzero(~(joules > 0))
    ]
    if faults:
        raise MeasurementError(faults)
    return joules / _SECONDS_PER_HOUR / (trip_arrays(trip).distance_m / 1000)


def _blocks(columns: VehicleColumns, trip: Trip) -> Iterator[VehicleColumns]:
    count = columns.mass_kg.shape[0]
    step = max(1, _CELLS_OF_A_BLOCK // trip_arrays(trip).drag_w_per_m2.size)
    return (columns.rows(slice(start, start + step)) for start in range(0, count, step))


def _wheel_power_w(block: VehicleColumns, arrays: TripArrays) -> tuple[Floats, Floats]:
    """Power asked for at the wheels [W], and the part for each kilogram [W/kg]; shape (n, t)."""
    per_kg = block.rolling_resistance * arrays.rolling_w_per_kg
    work = block.rotating_mass_factor * arrays.speeding_up_w_per_kg
    per_kg += work
    per_kg += arrays.climbing_w_per_kg
    power_w = np.multiply(block.drag_area_m2, arrays.drag_w_per_m2, out=work)
    power_w += block.mass_kg * per_kg
    return power_w, per_kg


def _terminal_power_w(block: VehicleColumns, wheel_w: Floats) -> Floats:
    """Power at the battery terminals while moving [W].

    Driving divides by the efficiency, braking multiplies by the recovery; since the first is never
    the flatter line, the greater of both is the right one on either side of zero.
    """
    terminal_w = wheel_w * block.per_drive_efficiency
    np.maximum(terminal_w, wheel_w * block.recovery, out=terminal_w)
    terminal_w += block.moving_power_w
    return terminal_w


def _cell_power_w(terminal_w: Floats, loss_per_w: Floats) -> tuple[Floats, Floats]:
    """Power out of the cells [W], and the root that is its inverse slope; overwrites `terminal_w`.

    V I = P + I² R solved for V I; written so that nothing cancels when R is small. A battery asked
    for more than V² / 4 R gives that.
    """
    root = terminal_w * loss_per_w
    np.minimum(root, 1.0, out=root)
    np.subtract(1.0, root, out=root)
    np.sqrt(root, out=root)
    with np.errstate(divide="ignore"):
        np.minimum(terminal_w, 1 / loss_per_w, out=terminal_w)
    terminal_w *= 2.0
    terminal_w /= 1.0 + root
    return terminal_w, root


def _block_joules(block: VehicleColumns, trip: Trip) -> Floats:
    arrays = trip_arrays(trip)
    wheel_w, _ = _wheel_power_w(block, arrays)
    np.clip(wheel_w, -block.peak_power_w, block.peak_power_w, out=wheel_w)
    moving_w, _ = _cell_power_w(_terminal_power_w(block, wheel_w), block.loss_per_w)
    standing_w, _ = _cell_power_w(block.standing_power_w.copy(), block.loss_per_w)
    joules: Floats = moving_w.sum(axis=1) + standing_w[:, 0] * arrays.standing_s
    return joules


def _block_energy(block: VehicleColumns, trip: Trip) -> CellEnergy:
    arrays = trip_arrays(trip)
    wheel_w, per_kg = _wheel_power_w(block, arrays)
    is_within_peak = np.abs(wheel_w) < block.peak_power_w
    np.clip(wheel_w, -block.peak_power_w, block.peak_power_w, out=wheel_w)
    moving_w, root = _cell_power_w(_terminal_power_w(block, wheel_w), block.loss_per_w)
    standing_w, standing_root = _cell_power_w(block.standing_power_w.copy(), block.loss_per_w)
    per_terminal = _inverse(root)
    per_wheel = np.where(wheel_w > 0, block.per_drive_efficiency, block.recovery)
    per_wheel *= per_terminal
    per_wheel *= is_within_peak
    seconds = per_terminal.sum(axis=1) + _inverse(standing_root)[:, 0] * arrays.standing_s
    driven = (np.maximum(wheel_w, 0.0) * per_terminal).sum(axis=1)
    return CellEnergy(
        joules=moving_w.sum(axis=1) + standing_w[:, 0] * arrays.standing_s,
        joules_per_kg=(per_wheel * per_kg).sum(axis=1),
        joules_per_share=np.column_stack(
            [
                block.drag_area_m2[:, 0] * (per_wheel * arrays.drag_w_per_m2).sum(axis=1),
                (block.mass_kg * block.rolling_resistance)[:, 0]
                * (per_wheel * arrays.rolling_w_per_kg).sum(axis=1),
                -block.per_drive_efficiency[:, 0] * driven,
                block.auxiliary_power_w[:, 0] * seconds,
                block.heat_power_w[:, 0] * seconds,
            ]
        ),
    )


def _inverse(root: Floats) -> Floats:
    """1 / root, and 0 where the battery is at its greatest and gives no more."""
    return np.divide(1.0, root, out=np.zeros_like(root), where=root > 0)
