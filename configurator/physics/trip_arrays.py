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
from configurator.physics.measurement import (
    FINITE,
    NOT_NEGATIVE,
    POSITIVE,
    TEMPERATURE,
    require,
)
from configurator.physics.road_vehicle import Leg, Trip
from configurator.units import KM_H_PER_M_S, STANDARD_GRAVITY_M_S2

Floats = NDArray[np.float64]

GROWTH_SPEED_M_S = 100 / KM_H_PER_M_S
"""Speed at which the rolling resistance has grown by `rolling_growth` [m/s]."""

SECOND_TYPE = np.dtype(
    [
        ("lasts_s", np.float64),
        ("speed_m_s", np.float64),
        ("drag_w_per_m2", np.float64),
        ("weight_w_per_kg", np.float64),
        ("rolling_w_per_kg", np.float64),
        ("fast_rolling_w_per_kg", np.float64),
        ("speeding_up_w_per_kg", np.float64),
        ("climbing_w_per_kg", np.float64),
    ]
)
"""What a second asks of any vehicle: how long it lasts, 1 s but for legs driven in proportion [s];
its speed [m/s]; power against the air for each square metre of drag area [W/m²]; for each kilogram
the weight times the speed, power at a rolling resistance of 1, how much of that comes by speed at a
growth of 1, power into what gains speed, negative while slowing, and power to lift it [W/kg]."""

Seconds = NDArray[np.void]
"""Of `SECOND_TYPE`, shape (t,)."""


@dataclass(frozen=True)
class TripArrays:
    """The moving seconds of a trip, and how long it stands.

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
    _check_weather(trip)
    density = air_density_kg_m3(trip.temperature_c, trip.altitude_m)
    legs = {f"leg {n} of the trip": leg for n, leg in enumerate(trip.legs, 1)}
    parts = [
        _leg_arrays(where, leg, density) for where, leg in (legs or {"trip": _whole(trip)}).items()
    ]
    return TripArrays(
        seconds=np.concatenate([part.seconds for part in parts]),
        standing_s=math.fsum(part.standing_s for part in parts),
        duration_s=math.fsum(part.duration_s for part in parts),
        distance_m=math.fsum(part.distance_m for part in parts),
    )


def starts_per_s(trip: Trip) -> float:
    """Tell how often a cold cabin is warmed anew [1/s]; 0 for never."""
    return 0.0 if trip.seconds_between_starts is None else 1 / trip.seconds_between_starts


def _whole(trip: Trip) -> Leg:
    """Take a trip of one trace or one steady speed as its only leg, driven once."""
    return Leg(
        distance_m=math.nan,
        speed_m_s=trip.speed_m_s,
        steady_m_s=trip.steady_m_s,
        slope_percent=trip.slope_percent,
    )


def _leg_arrays(where: str, leg: Leg, density_kg_m3: float) -> TripArrays:
    speed, gain = _speed_and_gain(where, leg)
    moving = speed > 0
    if not moving.any():
        what = "its speed is always 0; a range needs a distance"
        raise MeasurementError([Fault("M014", where, what, "Give speed.")])
    driven_m = float(speed.sum())
    lasts_s = 1.0 if math.isnan(leg.distance_m) else leg.distance_m / driven_m
    slope = math.atan(leg.slope_percent / 100)
    moving_speed = speed[moving]
    weight_w_per_kg = STANDARD_GRAVITY_M_S2 * moving_speed
    seconds = np.empty(moving_speed.size, SECOND_TYPE)
    seconds["lasts_s"] = lasts_s
    seconds["speed_m_s"] = moving_speed
    seconds["drag_w_per_m2"] = 0.5 * density_kg_m3 * moving_speed**3
    seconds["weight_w_per_kg"] = weight_w_per_kg
    seconds["rolling_w_per_kg"] = weight_w_per_kg * math.cos(slope)
    seconds["fast_rolling_w_per_kg"] = (
        seconds["rolling_w_per_kg"] * (moving_speed / GROWTH_SPEED_M_S) ** 2
    )
    seconds["speeding_up_w_per_kg"] = gain[moving] * moving_speed
    seconds["climbing_w_per_kg"] = weight_w_per_kg * math.sin(slope)
    return TripArrays(
        seconds=seconds,
        standing_s=lasts_s * np.count_nonzero(~moving),
        duration_s=lasts_s * speed.size,
        distance_m=lasts_s * driven_m,
    )


def _speed_and_gain(where: str, leg: Leg) -> tuple[Floats, Floats]:
    """Mean speed [m/s] and gain of speed [m/s²] of each second."""
    has_trace = len(leg.speed_m_s) >= 2
    if has_trace == (leg.steady_m_s is not None):
        what = "it needs exactly one of a speed trace of two samples or more and a steady speed"
        raise MeasurementError([Fault("M013", where, what, "Give the one that is meant.")])
    samples = leg.speed_m_s if has_trace else (leg.steady_m_s, leg.steady_m_s)
    ends = _checked(where, leg, samples)
    return (ends[:-1] + ends[1:]) / 2, np.diff(ends)


def _checked(where: str, leg: Leg, samples: Sequence[float | None]) -> Floats:
    ends = np.array(samples, dtype=np.float64)
    wrong = np.flatnonzero(~np.isfinite(ends) | (ends < 0))
    # Saying the first bad sample is enough: a broken trace is rarely broken once.
    first = {f"speed_m_s at {n} s": (float(ends[n]), NOT_NEGATIVE) for n in wrong[:1]}
    # Only a leg of a trip has a distance of its own.
    distance = {} if math.isnan(leg.distance_m) else {"distance_m": (leg.distance_m, POSITIVE)}
    require(where, {**first, **distance, "slope_percent": (leg.slope_percent, FINITE)})
    return ends


def _check_weather(trip: Trip) -> None:
    between_s = trip.seconds_between_starts
    starts = {} if between_s is None else {"seconds_between_starts": (between_s, POSITIVE)}
    require(
        "trip",
        {
            "temperature_c": (trip.temperature_c, TEMPERATURE),
            "cabin_c": (trip.cabin_c, TEMPERATURE),
            **starts,
        },
    )
    if trip.legs and (trip.speed_m_s or trip.steady_m_s is not None):
        what = "it has legs and a speed of its own; which is driven is unclear"
        raise MeasurementError([Fault("M013", "trip", what, "Give the one that is meant.")])
