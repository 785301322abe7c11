"""What a trip asks second by second, in its order, for the model that drives forward in time."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from configurator.errors import Fault, MeasurementError
from configurator.physics.convention import Convention
from configurator.physics.measurement import FINITE, require
from configurator.physics.road_vehicle import Leg, Trip
from configurator.physics.trip_arrays import trip_arrays

_ASKED_TYPE = np.dtype(
    [
        ("lasts_s", np.float64),
        ("steady", np.float64),
        ("starts", np.float64),
        ("start_m_s", np.float64),
        ("end_m_s", np.float64),
        ("rolling_m_s2", np.float64),
        ("climbing_m_s2", np.float64),
    ]
)
"""How long a second lasts, 1 s but for legs driven in proportion [s]; 1 where its speed is held all
the way; 1 where a leg starts; the speeds at its ends [m/s]; the parts of gravity across the road
and along it [m/s²]."""

Asked = NDArray[np.void]
"""Of `_ASKED_TYPE`, shape (t,)."""


@lru_cache(maxsize=32)
def asked_seconds(trip: Trip, convention: Convention, slopes_percent: tuple[float, ...]) -> Asked:
    """Lay out a trip in its order; the last trips are remembered.

    Parameters
    ----------
    trip : Trip
        Trace, steady speed or legs.
    convention : Convention
        Says the gravity, and how slopes count.
    slopes_percent : tuple of float, shape (t + 1,)
        Slope at each sample of the trip's trace [%]; empty for the slopes the trip says.

    Returns
    -------
    array, shape (t,)
        Every second, standing ones too.

    Raises
    ------
    MeasurementError
        If an input is impossible.

    Examples
    --------
    >>> trip = Trip(speed_m_s=(0.0, 2.0, 2.0), temperature_c=20.0)
    >>> asked_seconds(trip, Convention(), ())["end_m_s"].tolist()
    [2.0, 2.0]
    """
    whole = Leg(
        distance_m=trip_arrays(trip).distance_m,
        speed_m_s=trip.speed_m_s,
        steady_m_s=trip.steady_m_s,
        slope_percent=trip.slope_percent,
    )
    if slopes_percent:
        _check_slopes(trip, slopes_percent)
    parts = [_leg_seconds(leg, convention, slopes_percent) for leg in trip.legs or (whole,)]
    return np.concatenate(parts)


def _check_slopes(trip: Trip, slopes_percent: tuple[float, ...]) -> None:
    if len(slopes_percent) != len(trip.speed_m_s):
        what = (
            f"it has {len(slopes_percent)} slopes and {len(trip.speed_m_s)} samples of speed; "
            "slopes go with a trace, one for each sample"
        )
        raise MeasurementError([Fault("M013", "trip", what, "Give as many.")])
    slopes = {f"slope at {n} s": (slope, FINITE) for n, slope in enumerate(slopes_percent)}
    require("trip", slopes)


def _leg_seconds(leg: Leg, convention: Convention, slopes_percent: tuple[float, ...]) -> Asked:
    steady = leg.steady_m_s
    ends = np.array(leg.speed_m_s if steady is None else (steady, steady), dtype=np.float64)
    slopes = np.array(slopes_percent or (leg.slope_percent,) * ends.size) / 100
    tangent = slopes[1:] if convention.slope_at_end else (slopes[:-1] + slopes[1:]) / 2
    angle = np.arctan(tangent)
    along = tangent if convention.climbs_by_tangent else np.sin(angle)
    asked = np.zeros(ends.size - 1, _ASKED_TYPE)
    asked["lasts_s"] = leg.distance_m / ((ends[:-1] + ends[1:]) / 2).sum()
    asked["steady"] = steady is not None
    asked["starts"][0] = 1.0
    asked["start_m_s"], asked["end_m_s"] = ends[:-1], ends[1:]
    asked["rolling_m_s2"] = convention.gravity_m_s2 * np.cos(angle)
    asked["climbing_m_s2"] = convention.gravity_m_s2 * along
    return asked
