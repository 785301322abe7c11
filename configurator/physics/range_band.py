"""The range as a band, from the stated doubt about each input.

Each edge falls steadily with mass, and never rises with drag, rolling resistance, auxiliary power
or heat loss, because an input lowers the middle faster than it can narrow the band. That holds
until all doubts together pass 78 %, where the low edge is below 1 / e of the middle. For the middle
itself: with more mass, speeding up and rolling take more, and braking gives back less than that.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from configurator.physics.cell_energy import cell_energies
from configurator.physics.road_load import wh_per_km
from configurator.physics.road_vehicle import RoadVehicle, Trip
from configurator.physics.trip_arrays import Floats
from configurator.physics.vehicle_table import VehicleTable, vehicle_table

Z_OF_P90 = 1.2815515655446004
"""Standard deviations from the median to the tenth and ninetieth percentile of a normal law."""

DOUBTS = (
    "mass",
    "drag area",
    "rolling resistance",
    "drive efficiency",
    "recovery",
    "no-load loss",
    "auxiliaries",
    "heat loss",
    "usable energy",
)
"""The uncertain inputs, in the order of `variance_shares`."""

_DRAG, _ROLLING = DOUBTS.index("drag area"), DOUBTS.index("rolling resistance")
_ENERGY = DOUBTS.index("usable energy")
"""All before it are doubts about the consumption."""


@dataclass(frozen=True)
class RangeBand:
    """Nine in ten likely get beyond `low_km`, half beyond `mid_km`, one in ten beyond `high_km`."""

    low_km: float
    mid_km: float
    high_km: float
    consumption_wh_per_km: float
    """At the cells."""


def range_bands(vehicles: Sequence[RoadVehicle], trip: Trip) -> tuple[RangeBand, ...]:
    """Compute the range as a band.

    Parameters
    ----------
    vehicles : sequence of RoadVehicle, shape (n,)
        The vehicles with the standard deviations of their inputs.
    trip : Trip
        What all of them drive.

    Returns
    -------
    tuple of RangeBand, shape (n,)
        Tenth, fiftieth and ninetieth percentile of the range [km].

    Raises
    ------
    MeasurementError
        If an input is impossible.

    Source
    ------
    First-order propagation of the doubts in the logarithm of the range (GUM, JCGM 100, clauses
    5.1.2 and 5.2.2), independent but for drag area and rolling resistance, with the derivatives of
    `cell_energies`. A heater at its greatest keeps its
    doubt.

    Examples
    --------
    >>> from configurator.physics.example_van import EXAMPLE_VAN
    >>> trip = Trip(steady_m_s=25.0, temperature_c=5.0)
    >>> band = range_bands([EXAMPLE_VAN], trip)[0]
    >>> round(band.low_km), round(band.mid_km), round(band.high_km)
    (148, 164, 181)
    """
    return range_bands_of_table(vehicle_table(vehicles, trip), trip)


def range_bands_of_table(vehicles: VehicleTable, trip: Trip) -> tuple[RangeBand, ...]:
    """Compute the range as a band, of vehicles laid out for the trip; as `range_bands`."""
    consumption, variances = _consumption_and_variances(vehicles, trip)
    mid_km = vehicles.rows["usable_energy_wh"] / consumption
    factor = np.exp(Z_OF_P90 * np.sqrt(variances.sum(axis=1)))
    edges = (mid_km / factor, mid_km, mid_km * factor, consumption)
    return tuple(RangeBand(*row) for row in np.stack(edges, axis=1).tolist())


def variance_shares(vehicles: Sequence[RoadVehicle], trip: Trip) -> tuple[Mapping[str, float], ...]:
    """Say how much of the band's width comes from each doubt.

    Parameters
    ----------
    vehicles : sequence of RoadVehicle, shape (n,)
        The vehicles with the standard deviations of their inputs.
    trip : Trip
        What all of them drive.

    Returns
    -------
    tuple of mapping, shape (n,)
        Input, as in `DOUBTS` → its share of the variance of log(range); they sum to 1, or are all
        0 when nothing is in doubt.

    Raises
    ------
    MeasurementError
        If an input is impossible.

    Source
    ------
    As `range_bands`.

    Examples
    --------
    >>> from configurator.physics.example_van import EXAMPLE_VAN
    >>> trip = Trip(steady_m_s=25.0, temperature_c=5.0)
    >>> shares = variance_shares([EXAMPLE_VAN], trip)[0]
    >>> max(DOUBTS, key=lambda doubt: shares[doubt])
    'drag area'
    """
    _, variances = _consumption_and_variances(vehicle_table(vehicles, trip), trip)
    total = variances.sum(axis=1, keepdims=True)
    shares = np.divide(variances, total, out=np.zeros_like(variances), where=total > 0)
    return tuple(dict(zip(DOUBTS, row, strict=True)) for row in shares.tolist())


def _consumption_and_variances(vehicles: VehicleTable, trip: Trip) -> tuple[Floats, Floats]:
    """Consumption [Wh/km], shape (n,); variance of log(range) by doubt, shape (n, 9).

    Errors of drag area and rolling resistance may go together; the two bear what that adds or takes
    away by their own variances, so that neither share falls below 0. Measured trips move the
    consumption and narrow its doubts.
    """
    energies = cell_energies(vehicles, trip)
    consumption = wh_per_km(energies.joules, trip) * vehicles.rows["consumption_factor"]
    moved = energies.slopes * vehicles.sigmas
    variances = moved**2
    pair = [_DRAG, _ROLLING]
    alone = variances[:, pair].sum(axis=1)
    together = vehicles.rows["drag_rolling_correlation"] * moved[:, pair].prod(axis=1)
    share = np.divide(2 * together, alone, out=np.zeros_like(alone), where=alone > 0)
    # Rounding may take the two a hair below 0 where one makes up for the other.
    variances[:, pair] *= np.maximum(1 + share, 0.0)[:, None]
    variances[:, :_ENERGY] *= (vehicles.rows["doubt_left"] ** 2)[:, None]
    return consumption, variances
