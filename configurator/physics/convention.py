"""What a model of driving may agree on one way or the other, and two sets of such agreements."""

from __future__ import annotations

from dataclasses import dataclass

from configurator.units import STANDARD_GRAVITY_M_S2


@dataclass(frozen=True, kw_only=True)
class EfficiencyMap:
    """An efficiency by the power that goes through, flat outside its points."""

    power_w: tuple[float, ...]
    """Powers of the points [W], rising; of a motor at its shaft, of a battery at its terminals,
    negative while it is charged."""
    efficiency: tuple[float, ...]
    """At each point, above 0, at most 1."""
    stepped: bool = False
    """Whether the value of the point below holds up to the next; else it is linear in between."""


@dataclass(frozen=True, kw_only=True)
class Convention:
    """Agreements about gravity, air, slopes, distance and losses; the defaults are our own."""

    gravity_m_s2: float = STANDARD_GRAVITY_M_S2
    """Acceleration of free fall [m/s²]."""
    air_density_kg_m3: float | None = None
    """The same on every day [kg/m³]; None for that of the trip's temperature and altitude."""
    late_air_density_kg_m3: float | None = None
    """The one the achieved speed is solved with [kg/m³]; None for the one of the power."""
    climbs_by_tangent: bool = False
    """Whether a slope's own number, its tangent, lifts the vehicle; else its sine does."""
    slope_at_end: bool = False
    """Whether a second's slope is the one at its end; else the mean of both ends."""
    distance_at_end: bool = False
    """Whether a second's distance is its last speed; else the mean of both ends."""
    recovery_within_peak: bool = True
    """Whether the drive's peak power limits what it recovers; else nothing but its share does."""
    motor_map: EfficiencyMap | None = None
    """Of the motor alone while driving; then the vehicle's drive efficiency is that of what lies
    between motor and wheels. None for the vehicle's drive efficiency and losses."""
    battery_map: EfficiencyMap | None = None
    """Of the battery, either way. None for the loss in the vehicle's resistance."""


OWN = Convention()
"""How this tool computes."""

REFERENCE = Convention(
    gravity_m_s2=9.80,
    air_density_kg_m3=1.1728476932776808,
    late_air_density_kg_m3=1.2,
    climbs_by_tangent=True,
    slope_at_end=True,
    distance_at_end=True,
    recovery_within_peak=False,
)
"""How FASTSim 3.1.0 computes, found from its results; a vehicle's maps are added to it.

It knows no inner resistance, no converter, and no limit of recovery by grip, axle or low speed: a
vehicle recovers all its braking, with the efficiency its motor has at no power. More braking than
the motor's power it refuses as an error. Its rotating parts are the wheels.
"""
