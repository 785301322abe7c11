"""A trip as arrays: what each second asks of any vehicle."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from configurator.errors import Fault, MeasurementError
from configurator.physics.air_density import air_density_kg_m3
from configurator.physics.measurement import FINITE, NOT_NEGATIVE, TEMPERATURE, require
from configurator.physics.road_vehicle import Trip
from configurator.units import STANDARD_GRAVITY_M_S2

Floats = NDArray[np.float64]


SECOND_TYPE = np.dtype(
    [
        ("drag_w_per_m2", np.float64),
        ("rolling_w_per_kg", np.float64),
        ("speeding_up_w_per_kg", np.float64),
        ("climbing_w_per_kg", np.float64),
    ]
)
"""What a second asks of any vehicle: power against the air for each square metre of drag area
[W/m²]; for each kilogram power at a rolling resistance of 1, power into what gains speed, negative
while slowing, and power to lift it [W/kg]."""

Seconds = NDArray[np.void]
"""Of `SECOND_TYPE`, shape (t,)."""


@dataclass(frozen=True)
class TripArrays:
    """The moving seconds of a trip, and how many seconds it stands.

    Each second is taken at the mean of the speeds at its two ends.
    """

    seconds: Seconds
    standing_s: float
    duration_s: float
    distance_m: float


@lru_cache(maxsize=64)
def trip_arrays(trip: Trip) -> TripArrays:
    """Turn a trip into arrays; the last trips are remembered.

    Parameters
    ----------
    trip : Trip
        Speed trace or steady speed, weather, altitude, slope.

    Returns
    -------
    TripArrays
        With t seconds in which the vehicle moves.

    Raises
    ------
    MeasurementError
        If the trip has no speed or two, goes nowhere, or a value is impossible.

    Source
    ------
    Longitudinal forces on a vehicle; a second's speed is the mean of its ends, so the distance
    is the trapezoidal sum of the trace.

    Examples
    --------
    >>> trip_arrays(Trip(speed_m_s=(0.0, 0.0, 2.0, 2.0), temperature_c=20.0)).distance_m
    3.0
    """
    speed, gain = _speed_and_gain(trip)
    moving = speed > 0
    if not moving.any():
        raise MeasurementError(
            [
                Fault(
                    "M014", "trip", "its speed is always 0; a range needs a distance", "Give speed."
                )
            ]
        )
    density = air_density_kg_m3(trip.temperature_c, trip.altitude_m)
    slope = math.atan(trip.slope_percent / 100)
    moving_speed = speed[moving]
    weight_w_per_kg = STANDARD_GRAVITY_M_S2 * moving_speed
    seconds = np.empty(moving_speed.size, SECOND_TYPE)
    seconds["drag_w_per_m2"] = 0.5 * density * moving_speed**3
    seconds["rolling_w_per_kg"] = weight_w_per_kg * math.cos(slope)
    seconds["speeding_up_w_per_kg"] = gain[moving] * moving_speed
    seconds["climbing_w_per_kg"] = weight_w_per_kg * math.sin(slope)
    return TripArrays(
        seconds=seconds,
        standing_s=float(np.count_nonzero(~moving)),
        duration_s=float(speed.size),
        distance_m=float(speed.sum()),
    )


def _speed_and_gain(trip: Trip) -> tuple[Floats, Floats]:
    """Mean speed [m/s] and gain of speed [m/s²] of each second."""
    has_trace = len(trip.speed_m_s) >= 2
    if has_trace == (trip.steady_m_s is not None):
        what = "it needs exactly one of a speed trace of two samples or more and a steady speed"
        raise MeasurementError([Fault("M013", "trip", what, "Give the one that is meant.")])
    samples = trip.speed_m_s if has_trace else (trip.steady_m_s, trip.steady_m_s)
    ends = _checked(trip, samples)
    return (ends[:-1] + ends[1:]) / 2, np.diff(ends)


def _checked(trip: Trip, samples: Sequence[float | None]) -> Floats:
    ends = np.array(samples, dtype=np.float64)
    wrong = np.flatnonzero(~np.isfinite(ends) | (ends < 0))
    # Saying the first bad sample is enough: a broken trace is rarely broken once.
    first = {f"speed_m_s at {n} s": (float(ends[n]), NOT_NEGATIVE) for n in wrong[:1]}
    require(
        "trip",
        {
            **first,
            "temperature_c": (trip.temperature_c, TEMPERATURE),
            "cabin_c": (trip.cabin_c, TEMPERATURE),
            "slope_percent": (trip.slope_percent, FINITE),
        },
    )
    return ends
