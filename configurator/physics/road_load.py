"""Energy from the cells to move a vehicle along a trip, second by second.

The model faces backward: the trace says the speed, the speed says the power. Where drive or
battery is too weak for a second, what is missing is given later at the greatest power, so the whole
energy of the trace is counted. Against a vehicle that falls behind and hurries after, this errs to
the safe side: by 1 to 2 % where 5 % of the seconds are missed, by 20 % where a quarter is; leaving
the missing energy out would promise as much too far. `share_not_followed` counts those seconds, so
that nobody trusts the range on a trip that the vehicle cannot drive; `achieved_speed` solves what
it does drive. That one is no promise: a heavier vehicle that falls further behind may use less for
each kilometre, so no bound over many builds could rest on it. The battery takes whatever the
drive recovers; a full or cold pack that refuses it is not modelled.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from configurator.errors import Fault, MeasurementError
from configurator.physics.cell_energy import cell_energies
from configurator.physics.road_vehicle import RoadVehicle, Trip
from configurator.physics.trip_arrays import Floats, trip_arrays
from configurator.physics.vehicle_table import vehicle_table
from configurator.units import JOULES_PER_WATT_HOUR


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
    >>> from configurator.physics.example_van import EXAMPLE_VAN
    >>> warm_day = Trip(steady_m_s=100 / 3.6, temperature_c=15.0, cabin_c=15.0)
    >>> [round(figure, 1) for figure in consumption_wh_per_km([EXAMPLE_VAN], warm_day)]
    [270.2]
    """
    energies = cell_energies(vehicle_table(vehicles, trip), trip)
    return tuple(wh_per_km(energies.joules, trip).tolist())


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
    As `consumption_wh_per_km`; the cap is the drive's peak, or three quarters of the power at which
    the battery's voltage would halve.

    Examples
    --------
    >>> from configurator.physics.example_van import EXAMPLE_VAN
    >>> uphill_flat_out = Trip(steady_m_s=40.0, temperature_c=15.0, slope_percent=10.0)
    >>> share_not_followed([EXAMPLE_VAN], uphill_flat_out)
    (1.0,)
    """
    energies = cell_energies(vehicle_table(vehicles, trip), trip)
    return tuple((energies.missed_s / trip_arrays(trip).duration_s).tolist())


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

    Examples
    --------
    >>> round(float(wh_per_km(np.array([3.6e6]), Trip(steady_m_s=10.0, temperature_c=15.0))[0]))
    100000
    """
    faults = [
        Fault(
            "M015",
            f"vehicle {number + 1}",
            "the trip gives back as much energy as it takes; a range would have no end",
            "Give a trip that is not downhill and does not only brake.",
        )
        for number in np.flatnonzero(~(joules > 0))
    ]
    if faults:
        raise MeasurementError(faults)
    return joules / JOULES_PER_WATT_HOUR / (trip_arrays(trip).distance_m / 1000)
