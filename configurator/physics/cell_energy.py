"""The energy out of the cells over a trip, and how it moves with each input; arrays throughout."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from configurator.physics.road_vehicle import Trip
from configurator.physics.trip_arrays import Floats, TripArrays, trip_arrays
from configurator.physics.vehicle_columns import VehicleColumns

_CELLS_OF_A_BLOCK = 16_384
"""Vehicles are taken in blocks so small that a block's arrays stay in the processor's cache."""

_BLEND_W = 2000.0
"""Width over which the slope of the energy goes from braking to driving [W]."""


@dataclass(frozen=True)
class CellEnergy:
    """Energy out of the cells over a trip, and how it moves with each input."""

    joules: Floats
    """Shape (n,) [J]."""
    joules_per_kg: Floats
    """Shape (n,) [J/kg]."""
    joules_per_share: Floats
    """Change of the energy for a change of an input by its own size [J]; shape (n, 5): drag area,
    rolling resistance, drive efficiency, auxiliaries, heating."""


def cell_joules(columns: VehicleColumns, trip: Trip) -> Floats:
    """Compute the energy out of the cells.

    Parameters
    ----------
    columns : VehicleColumns, shape (n, 1)
        The vehicles, laid out for this trip.
    trip : Trip
        What all of them drive.

    Returns
    -------
    array, shape (n,)
        Energy out of the cells over the trip [J].

    Source
    ------
    As `road_load.consumption_wh_per_km`.
    """
    joules = [_moving_and_standing(block, trip) for block in _blocks(columns, trip)]
    return np.concatenate([np.zeros(0), *joules])


def seconds_beyond_cap(columns: VehicleColumns, trip: Trip) -> Floats:
    """Count the seconds that ask for more than drive or battery can give.

    Parameters
    ----------
    columns : VehicleColumns, shape (n, 1)
        The vehicles, laid out for this trip.
    trip : Trip
        What all of them drive.

    Returns
    -------
    array, shape (n,)
        Seconds [s].

    Source
    ------
    As `road_load.share_not_followed`.
    """
    arrays = trip_arrays(trip)
    counts = [
        np.count_nonzero(_asked(block, arrays).terminal_w > block.cap_w, axis=1)
        for block in _blocks(columns, trip)
    ]
    return np.concatenate([np.zeros(0), *counts])


def cell_energy(columns: VehicleColumns, trip: Trip) -> CellEnergy:
    """Compute the energy out of the cells with its first derivatives.

    Where a second turns from braking to driving the slope of the energy would jump; it is blended
    there, as the doubt about the power itself blends it. Without that, the edges of the band would
    jump by up to half a thousandth as one second after the other changes side, and a heavier
    vehicle could seem to drive further.

    Parameters
    ----------
    columns : VehicleColumns, shape (n, 1)
        The vehicles, laid out for this trip.
    trip : Trip
        What all of them drive.

    Returns
    -------
    CellEnergy
        Energy [J] with its derivatives.

    Source
    ------
    Chain rule through the steps of `cell_joules`.
    """
    blocks = [_with_slopes(block, trip) for block in _blocks(columns, trip)]
    return CellEnergy(
        joules=np.concatenate([np.zeros(0), *(block.joules for block in blocks)]),
        joules_per_kg=np.concatenate([np.zeros(0), *(block.joules_per_kg for block in blocks)]),
        joules_per_share=np.concatenate(
            [np.zeros((0, 5)), *(block.joules_per_share for block in blocks)]
        ),
    )


@dataclass(frozen=True)
class _Asked:
    """What each moving second asks for, shape (n, t)."""

    per_kg: Floats
    """Power at the wheels for each kilogram [W/kg]."""
    wheel_w: Floats
    """Power at the wheels, braking only as far as the drive recovers [W]."""
    terminal_w: Floats
    """Power at the battery terminals [W]."""


@dataclass(frozen=True)
class _Given:
    """What the cells give for powers at the terminals."""

    joules: Floats
    """Sum over the seconds, shape (n,) [J]."""
    per_terminal: Floats
    """Watts from the cells for one more at the terminals, shape (n, t)."""
    joules_per_cap_w: Floats
    """How the sum moves with the cap, shape (n,) [J/W]."""


def _blocks(columns: VehicleColumns, trip: Trip) -> Iterator[VehicleColumns]:
    count = columns.mass_kg.shape[0]
    step = max(1, _CELLS_OF_A_BLOCK // trip_arrays(trip).drag_w_per_m2.size)
    return (columns.rows(slice(start, start + step)) for start in range(0, count, step))


def _asked(block: VehicleColumns, arrays: TripArrays) -> _Asked:
    """Powers asked for.

    Driving divides by the efficiency, braking multiplies by the recovery; since the first is never
    the flatter line, the greater of both is the right one on either side of zero.
    """
    work = block.rotating_mass_factor * arrays.speeding_up_w_per_kg
    per_kg = block.rolling_resistance * arrays.rolling_w_per_kg
    per_kg += work
    per_kg += arrays.climbing_w_per_kg
    wheel_w = block.mass_kg * per_kg
    wheel_w += np.multiply(block.drag_area_m2, arrays.drag_w_per_m2, out=work)
    np.maximum(wheel_w, block.least_wheel_power_w, out=wheel_w)
    terminal_w = wheel_w * block.per_drive_efficiency
    np.maximum(terminal_w, np.multiply(wheel_w, block.recovery, out=work), out=terminal_w)
    terminal_w += block.moving_power_w
    return _Asked(per_kg, wheel_w, terminal_w)


def _given(block: VehicleColumns, terminal_w: Floats, *, slopes: bool) -> _Given:
    """Energy out of the cells for powers at the terminals, which are overwritten.

    V I = P + I² R solved for V I, written so that nothing cancels when R is small. Power beyond the
    cap is given later at the cap, so it costs what the last watt at the cap costs.
    """
    asked_j = terminal_w.sum(axis=1)
    np.minimum(terminal_w, block.cap_w, out=terminal_w)
    beyond_j = asked_j - terminal_w.sum(axis=1)
    root = terminal_w * block.loss_per_w
    np.subtract(1.0, root, out=root)
    np.sqrt(root, out=root)
    root_at_cap = np.sqrt(1.0 - block.loss_per_w * block.cap_w)[:, 0]
    per_terminal = 1.0 / root if slopes else root
    root += 1.0
    terminal_w /= root
    return _Given(
        joules=2.0 * terminal_w.sum(axis=1) + beyond_j / root_at_cap,
        per_terminal=per_terminal,
        joules_per_cap_w=beyond_j * block.loss_per_w[:, 0] / (2 * root_at_cap**3),
    )


def _moving_and_standing(block: VehicleColumns, trip: Trip) -> Floats:
    arrays = trip_arrays(trip)
    moving = _given(block, _asked(block, arrays).terminal_w, slopes=False)
    standing = _given(block, block.standing_power_w.copy(), slopes=False)
    return moving.joules + standing.joules * arrays.standing_s


def _with_slopes(block: VehicleColumns, trip: Trip) -> CellEnergy:
    arrays = trip_arrays(trip)
    asked = _asked(block, arrays)
    moving = _given(block, asked.terminal_w, slopes=True)
    standing = _given(block, block.standing_power_w.copy(), slopes=True)
    per_wheel = _per_wheel(block, asked.wheel_w)
    per_wheel *= moving.per_terminal
    driving_w = np.maximum(asked.wheel_w, 0.0)
    driving_w *= moving.per_terminal
    driven_j = driving_w.sum(axis=1) * block.per_drive_efficiency[:, 0]
    driven_j += block.drive_cap_w[:, 0] * moving.joules_per_cap_w
    per_watt_j = moving.per_terminal.sum(axis=1)
    per_watt_j += np.where(block.drive_cap_w[:, 0] > 0, moving.joules_per_cap_w, 0.0)
    per_watt_j += standing.per_terminal[:, 0] * arrays.standing_s
    rolling_kg = (block.mass_kg * block.rolling_resistance)[:, 0]
    shares = (
        block.drag_area_m2[:, 0] * (per_wheel * arrays.drag_w_per_m2).sum(axis=1),
        rolling_kg * (per_wheel * arrays.rolling_w_per_kg).sum(axis=1),
        -driven_j,
        block.auxiliary_power_w[:, 0] * per_watt_j,
        block.heat_power_w[:, 0] * per_watt_j,
    )
    return CellEnergy(
        joules=moving.joules + standing.joules * arrays.standing_s,
        joules_per_kg=(per_wheel * asked.per_kg).sum(axis=1),
        joules_per_share=np.column_stack(shares),
    )


def _per_wheel(block: VehicleColumns, wheel_w: Floats) -> Floats:
    """Watts at the terminals for one more at the wheels, blended where braking turns to driving."""
    slope = wheel_w / _BLEND_W
    slope += 0.5
    np.clip(slope, 0.0, 1.0, out=slope)
    slope *= block.per_drive_efficiency - block.recovery
    slope += block.recovery
    return slope
