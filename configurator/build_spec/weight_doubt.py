"""How sure masses, axle loads and the centre of gravity are, until the vehicle is weighed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from configurator.physics.centre_of_gravity import MassAt, Stance

PART_SIGMA_PERCENT = 5.0
"""Standard deviation of what is taken out and put in: brackets, hoses, a maker's rounding.
Source: common practice, no source."""

PLACE_SIGMA_M = 0.03
"""Standard deviation of where its centre of gravity lies. Source: common practice, no source."""

WEIGHBRIDGE_SIGMA_KG = 6.0
"""Standard deviation of an axle on a weighbridge. Source: a step of 20 kg over the root of 12."""

SYMMETRY_SIGMA_PERCENT = 0.7
"""Standard deviation of the share of a donor's mass on one side that nobody weighed by sides.
Source: common practice, no source."""


def side_sigma_percent(donor_kg: float, *, was_weighed: bool) -> float:
    """Tell the standard deviation of the share of a donor's mass on one side [% of the donor].

    Examples
    --------
    >>> side_sigma_percent(1200.0, was_weighed=True), side_sigma_percent(1200.0, was_weighed=False)
    (0.5, 0.7)
    """
    return 100 * WEIGHBRIDGE_SIGMA_KG / donor_kg if was_weighed else SYMMETRY_SIGMA_PERCENT


@dataclass(frozen=True)
class SureMass:
    """A mass at a place, with the standard deviation of the mass [kg] and of the place [m]."""

    at: MassAt
    sigma_kg: float = 0.0
    place_sigma_m: float = 0.0
    is_donor: bool = False
    """It stands in the donor, too, so that its error hardly moves a change against the donor."""


@dataclass(frozen=True)
class SharedDoubt:
    """What is unsure about the donor as a whole: its height and its side."""

    donor: Stance
    height_sigma_m: float
    side_sigma_percent: float


@dataclass(frozen=True)
class Doubt:
    """Standard deviations of a stance."""

    mass_kg: float
    front_kg: float
    rear_kg: float
    side_kg: float
    height_m: float
    rear_share: float
    rear_share_change: float
    """Against the donor's."""
    left_share: float


def doubt_of(
    items: Sequence[SureMass],
    shared: SharedDoubt,
    stands: Stance,
    wheelbase_m: float,
    track_m: float,
) -> Doubt:
    """Propagate standard deviations to a stance, to first order.

    Parameters
    ----------
    items : sequence of SureMass, shape (n,)
        What the vehicle is made of; their errors are independent.
    shared : SharedDoubt
        What is unsure about the donor as a whole.
    stands : Stance
        How they stand together.
    wheelbase_m, track_m : float
        Distance between the axles and between the wheels of an axle [m].

    Returns
    -------
    Doubt
        One standard deviation of each.

    Source
    ------
    JCGM 100, Guide to the expression of uncertainty in measurement, 5.1.2.

    Examples
    --------
    >>> from configurator.physics.centre_of_gravity import stance
    >>> whole = MassAt(1000.0, 1.2, 0.0, 0.5)
    >>> stands = stance([whole], 2.4, 1.4)
    >>> found = doubt_of(
    ...     [SureMass(whole, sigma_kg=20.0)], SharedDoubt(stands, 0.05, 0.0), stands, 2.4, 1.4
    ... )
    >>> found.mass_kg, found.front_kg, found.height_m
    (20.0, 10.0, 0.05)
    """

    def root(by_mass: Sequence[float], by_place: Sequence[float], other: float = 0.0) -> float:
        from_masses = (rate * item.sigma_kg for rate, item in zip(by_mass, items, strict=True))
        from_places = (
            rate * item.place_sigma_m for rate, item in zip(by_place, items, strict=True)
        )
        return math.hypot(*from_masses, *from_places, other)

    masses = [item.at.mass_kg for item in items]
    behind = [item.at.x_m / wheelbase_m for item in items]
    leftward = [0.5 - item.at.y_m / track_m for item in items]
    per_wheelbase = [mass / wheelbase_m for mass in masses]
    per_track = [mass / track_m for mass in masses]
    total_kg, donor = stands.mass_kg, shared.donor
    rear_share, left_share = stands.rear_kg / total_kg, stands.left_kg / total_kg
    of_donor = [
        (share - donor.rear_kg / donor.mass_kg) / donor.mass_kg if item.is_donor else 0.0
        for share, item in zip(behind, items, strict=True)
    ]
    by_share = [(share - rear_share) / total_kg for share in behind]
    side_kg = donor.mass_kg * shared.side_sigma_percent / 100
    return Doubt(
        mass_kg=root([1.0] * len(items), [0.0] * len(items)),
        front_kg=root([1 - share for share in behind], per_wheelbase),
        rear_kg=root(behind, per_wheelbase),
        side_kg=root(leftward, per_track, side_kg),
        height_m=root(
            [(item.at.z_m - stands.height_m) / total_kg for item in items],
            [mass / total_kg for mass in masses],
            donor.mass_kg / total_kg * shared.height_sigma_m,
        ),
        rear_share=root(by_share, [rate / total_kg for rate in per_wheelbase]),
        rear_share_change=root(
            [now - before for now, before in zip(by_share, of_donor, strict=True)],
            [rate / total_kg for rate in per_wheelbase],
        ),
        left_share=root(
            [(share - left_share) / total_kg for share in leftward],
            [rate / total_kg for rate in per_track],
            side_kg / total_kg,
        ),
    )
