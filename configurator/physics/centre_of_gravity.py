"""Where the centre of gravity lies, how it loads the sides, and what it means for the brakes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from configurator.physics.measurement import (
    FINITE,
    NOT_NEGATIVE,
    POSITIVE,
    Checks,
    require,
)

HEIGHT_PER_ROOF_HEIGHT = 0.39
"""Height of an empty vehicle's centre of gravity over its roof's."""

GUESSED_HEIGHT_SIGMA_PERCENT = 10.0
"""How far the rule may miss a single vehicle."""


@dataclass(frozen=True)
class MassAt:
    """A mass [kg], negative when it is taken out, with its place [m].

    x is behind the front axle, y to the right of the centre line, z above the ground.
    """

    mass_kg: float
    x_m: float
    y_m: float
    z_m: float


@dataclass(frozen=True)
class Stance:
    """How a vehicle stands: its mass [kg], split by axles and by sides, and its centre [m]."""

    mass_kg: float
    front_kg: float
    rear_kg: float
    left_kg: float
    right_kg: float
    x_m: float
    y_m: float
    height_m: float


def stance(items: Sequence[MassAt], wheelbase_m: float, track_m: float) -> Stance:
    """Split placed masses between axles and sides, and find their centre of gravity.

    Parameters
    ----------
    items : sequence of MassAt, shape (n,)
        Masses [kg] with their places [m]; together they must weigh something.
    wheelbase_m, track_m : float
        Distance between the axles and between the wheels of an axle [m], > 0.

    Returns
    -------
    Stance
        Front and rear, and left and right, each sum to the mass.

    Raises
    ------
    MeasurementError
        If a measure is not positive, a mass or place is not a finite number, or nothing is left.

    Source
    ------
    Static equilibrium: rear = sum(m x) / wheelbase, right = sum(m (track/2 + y)) / track;
    height = sum(m z) / sum(m).

    Examples
    --------
    >>> stance([MassAt(100.0, 1.2, 0.0, 0.5)], wheelbase_m=2.4, track_m=1.4).right_kg
    50.0
    """
    checks: Checks = {
        "wheelbase_m": (wheelbase_m, POSITIVE),
        "track_m": (track_m, POSITIVE),
        **{
            f"{name} of item {number}": (getattr(item, name), FINITE)
            for number, item in enumerate(items, 1)
            for name in ("mass_kg", "x_m", "y_m", "z_m")
        },
    }
    require("stance", checks)
    mass_kg = math.fsum(item.mass_kg for item in items)
    require("stance", {"mass_kg of all items": (mass_kg, POSITIVE)})
    x_m = math.fsum(item.mass_kg * item.x_m for item in items) / mass_kg
    y_m = math.fsum(item.mass_kg * item.y_m for item in items) / mass_kg
    height_m = math.fsum(item.mass_kg * item.z_m for item in items) / mass_kg
    rear_kg = mass_kg * x_m / wheelbase_m
    right_kg = mass_kg * (0.5 + y_m / track_m)
    return Stance(
        mass_kg, mass_kg - rear_kg, rear_kg, mass_kg - right_kg, right_kg, x_m, y_m, height_m
    )


def rollover_threshold_g(track_m: float, height_m: float) -> float:
    """Compute the sideways acceleration at which a rigid vehicle would tip over [g].

    Parameters
    ----------
    track_m : float
        Distance between the wheels of an axle [m], > 0.
    height_m : float
        Height of the centre of gravity above the ground [m], > 0.

    Returns
    -------
    float
        The static stability factor; springs and tyres give way, so a real vehicle tips earlier.

    Raises
    ------
    MeasurementError
        If a measure is not positive.

    Source
    ------
    National Highway Traffic Safety Administration, 49 CFR Part 575, Consumer Information
    Regulations, Rollover Resistance: static stability factor = track / (2 height).

    Examples
    --------
    >>> rollover_threshold_g(track_m=1.5, height_m=0.6)
    1.25
    """
    require("rollover", {"track_m": (track_m, POSITIVE), "height_m": (height_m, POSITIVE)})
    return track_m / (2 * height_m)


def rear_braking_share_percent(
    rear_share: float, height_m: float, wheelbase_m: float, deceleration_g: float
) -> float:
    """Compute the share of all braking that the rear axle can carry before it slides first [%].

    Parameters
    ----------
    rear_share : float
        Share of the mass that stands on the rear axle at rest.
    height_m : float
        Height of the centre of gravity above the ground [m], > 0.
    wheelbase_m : float
        Distance between the axles [m], > 0.
    deceleration_g : float
        Deceleration [g], >= 0.

    Returns
    -------
    float
        The rear axle's share of the load while braking; negative when the rear would lift.

    Raises
    ------
    MeasurementError
        If a measure is not positive or not a finite number.

    Source
    ------
    Static equilibrium while braking, as in UN Regulation No. 13-H, Annex 5: the rear axle loses
    z h / wheelbase of the weight; with the same grip the axles brake in proportion to their loads.

    Examples
    --------
    >>> round(rear_braking_share_percent(0.45, 0.6, 2.4, 0.8), 6)
    25.0
    """
    checks: Checks = {
        "rear_share": (rear_share, FINITE),
        "height_m": (height_m, POSITIVE),
        "wheelbase_m": (wheelbase_m, POSITIVE),
        "deceleration_g": (deceleration_g, NOT_NEGATIVE),
    }
    require("braking", checks)
    return 100 * (rear_share - deceleration_g * height_m / wheelbase_m)


def guessed_height_m(roof_height_m: float) -> float:
    """Guess the height of an empty vehicle's centre of gravity from that of its roof [m].

    Parameters
    ----------
    roof_height_m : float
        Height of the vehicle above the ground [m], > 0.

    Returns
    -------
    float
        Good to `GUESSED_HEIGHT_SIGMA_PERCENT`.

    Raises
    ------
    MeasurementError
        If the height is not positive.

    Source
    ------
    From memory, nobody has looked it up yet: measured cars, vans and pickups have 0.37 to 0.41 of
    their roof's height (light vehicle inertial parameters, SAE 1999-01-1336).

    Examples
    --------
    >>> guessed_height_m(1.95)
    0.7605
    """
    require("centre of gravity", {"roof_height_m": (roof_height_m, POSITIVE)})
    return HEIGHT_PER_ROOF_HEIGHT * roof_height_m
