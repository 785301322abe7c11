"""Energy from the cells to move a vehicle along a trip, second by second.

The model faces backward: the trace says the speed, the speed says the power. Where drive or
battery is too weak for a second, what is missing is given later at the greatest power, so the whole
energy of the trace is counted. Against a vehicle that falls behind and hurries after, this errs to
the safe side: by 1 to 2 % where 5 % of the seconds are missed, by 20 % where a quarter is; leaving
the missing energy out would promise as much too far. `share_not_followed` counts those seconds, so
that nobody trusts the range on a trip that the vehicle cannot drive. The battery takes whatever the
drive recovers; a full or cold pack that refuses it is not modelled.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from configurator.errors import Fault, MeasurementError
from configurator.physics.cell_energy import cell_joules, seconds_beyond_cap
from configurator.physics.road_vehicle import RoadVehicle, Trip
from configurator.physics.trip_arrays import Floats, trip_arrays
from configurator.physics.vehicle_columns import vehicle_columns

_SECONDS_PER_HOUR = 3600.0


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
    joules = cell_joules(vehicle_columns(vehicles, trip), trip)
    return tuple(wh_per_km(joules, trip).tolist())


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
    """
    missed = seconds_beyond_cap(vehicle_columns(vehicles, trip), trip)
    return tuple((missed / trip_arrays(trip).duration_s).tolist())


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
