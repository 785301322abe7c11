"""What the tyres of the driven axle bring to the road."""

from __future__ import annotations

from typing import Literal

from configurator.physics.measurement import NOT_NEGATIVE, POSITIVE, SHARE, require
from configurator.units import STANDARD_GRAVITY_M_S2

Axle = Literal["front", "rear"]


def grip_hill_percent(
    *,
    friction: float,
    driven_axle: Axle,
    driven_share: float,
    height_over_wheelbase: float,
    rolling_resistance: float,
    trailer_over_vehicle: float = 0.0,
) -> float | None:
    """Find the steepest hill that the grip of one driven axle allows.

    A slope moves weight to the rear axle. A trailer pulls level with the road; its weight on the
    tow bar is not counted.

    Parameters
    ----------
    friction : float
        Between tyres and road, > 0.
    driven_axle : {"front", "rear"}
        The driven axle.
    driven_share : float
        Share of the vehicle's weight on it, on the level, 0 to 1.
    height_over_wheelbase : float
        Height of the centre of gravity by the wheelbase, >= 0.
    rolling_resistance : float
        Of the whole train by weight, >= 0.
    trailer_over_vehicle : float
        Mass of the trailer by that of the vehicle, >= 0.

    Returns
    -------
    float or None
        Rise by horizontal distance [%], negative where it slips on the level; None where grip sets
        no limit, because the slope loads the driven axle faster than it pulls.

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    Statics on a slope, friction x (share + h/L tan a) = train/vehicle x (tan a + c), with minus
    h/L for the front axle.

    Examples
    --------
    >>> round(grip_hill_percent(friction=0.7, driven_axle="rear", driven_share=0.55,
    ...     height_over_wheelbase=0.22, rolling_resistance=0.013), 1)
    44.0
    """
    require(
        "grip on a hill",
        {
            "friction": (friction, POSITIVE),
            "driven_share": (driven_share, SHARE),
            "height_over_wheelbase": (height_over_wheelbase, NOT_NEGATIVE),
            "rolling_resistance": (rolling_resistance, NOT_NEGATIVE),
            "trailer_over_vehicle": (trailer_over_vehicle, NOT_NEGATIVE),
        },
    )
    train = 1 + trailer_over_vehicle
    moved = height_over_wheelbase if driven_axle == "rear" else -height_over_wheelbase
    left = train - friction * moved
    if left <= 0:
        return None
    return 100 * (friction * driven_share - train * rolling_resistance) / left


def grip_force_n(
    *,
    mass_kg: float,
    friction: float,
    driven_axle: Axle,
    driven_share: float,
    height_over_wheelbase: float,
) -> float:
    """Find the greatest force that one driven axle brings to a level road when pulling away.

    Parameters
    ----------
    mass_kg : float
        Mass of the vehicle [kg], > 0.
    friction, driven_axle, driven_share, height_over_wheelbase
        As for `grip_hill_percent`.

    Returns
    -------
    float
        Force [N].

    Raises
    ------
    MeasurementError
        If a value is impossible.

    Source
    ------
    Statics with the force of inertia: F = friction x (share m g + F h/L), with minus h/L for the
    front axle; drag and rolling resistance move little weight and are not counted.

    Examples
    --------
    >>> round(grip_force_n(mass_kg=1500.0, friction=0.7, driven_axle="rear", driven_share=0.6,
    ...     height_over_wheelbase=0.0))
    6178
    """
    require(
        "grip",
        {
            "mass_kg": (mass_kg, POSITIVE),
            "friction": (friction, POSITIVE),
            "driven_share": (driven_share, SHARE),
            "height_over_wheelbase": (height_over_wheelbase, NOT_NEGATIVE),
        },
    )
    weight_n = mass_kg * STANDARD_GRAVITY_M_S2
    moved = height_over_wheelbase if driven_axle == "rear" else -height_over_wheelbase
    free = 1 - friction * moved
    # With all the weight on the driven axle the other leaves the road; no force beyond that.
    most_n = friction * weight_n
    return min(friction * driven_share * weight_n / free, most_n) if free > 0 else most_n
