"""The least of everything that limits what an axle may carry."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from configurator.physics.measurement import POSITIVE, require
from configurator.physics.tyre import tyre_load_kg

LimitedBy = Literal["axle", "tyre", "wheel"]


@dataclass(frozen=True)
class AxleLimit:
    """What an axle may carry [kg], and which part says so."""

    limit_kg: float
    limited_by: LimitedBy


def axle_limit_kg(axle_limit_kg: float, load_index: int, wheel_rating_kg: float) -> AxleLimit:
    """Find the least of the axle's own limit, its two tyres and its two wheels.

    Parameters
    ----------
    axle_limit_kg : float
        The vehicle maker's limit of the axle [kg], > 0.
    load_index : int
        Load index of the tyres.
    wheel_rating_kg : float
        What one wheel may carry [kg], > 0.

    Returns
    -------
    AxleLimit
        The limit [kg] and the part that sets it; where two agree, the axle is named before
        the tyre and the tyre before the wheel.

    Raises
    ------
    MeasurementError
        If a rating is not positive or the load index is not in the table.

    Source
    ------
    Common practice: an axle has two tyres and two wheels, the weakest sets the limit.

    Examples
    --------
    >>> axle_limit_kg(1300.0, load_index=91, wheel_rating_kg=640.0)
    AxleLimit(limit_kg=1230.0, limited_by='tyre')
    """
    ratings = {
        "axle_limit_kg": (axle_limit_kg, POSITIVE),
        "wheel_rating_kg": (wheel_rating_kg, POSITIVE),
    }
    require("axle limit", ratings)
    limits: tuple[tuple[float, LimitedBy], ...] = (
        (axle_limit_kg, "axle"),
        (2 * tyre_load_kg(load_index), "tyre"),
        (2 * wheel_rating_kg, "wheel"),
    )
    limit_kg, limited_by = min(limits, key=lambda limit: limit[0])
    return AxleLimit(limit_kg=float(limit_kg), limited_by=limited_by)
