"""What every part of the side view measures itself against."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from configurator.catalog.models.vehicle import Vehicle
from configurator.drawings.clip import height_at
from configurator.drawings.shapes import Point, Points
from configurator.drawings.smooth import smooth_points

USUAL_WHEEL_RADIUS_M = 0.31
"""Rolling radius of the 14 and 15 inch wheels of the period [m]. Common practice, no source."""

TALL_TOP_M = 0.25
"""A roof line this far above the body [m] is a whole top with pillars, not only a lid."""

ROOF_SAMPLES = 24


@dataclass(frozen=True, slots=True)
class Silhouette:
    """The outline as smooth points, with the heights and ends that the parts need [m]."""

    body: Points
    roof: Points
    """From front to rear."""
    top: Points
    """The area between the roof line and the body under it."""
    is_tall_top: bool
    front_x: float
    rear_x: float
    sill_z: float
    waist_z: float
    crown_z: float
    """The highest point of body and roof."""
    wheel_radius: float
    axles_x: tuple[float, float]

    @property
    def roof_span(self) -> tuple[float, float]:
        """Where the roof line begins and ends."""
        return self.roof[0][0], self.roof[-1][0]

    def crown_at(self, x: float) -> float:
        """Find how high the vehicle stands at `x`; the crown beside it."""
        heights = (height_at(self.top, x), height_at(self.body, x))
        return max((height for height in heights if height is not None), default=self.crown_z)


def silhouette_of(vehicle: Vehicle, wheel_radius_m: float = USUAL_WHEEL_RADIUS_M) -> Silhouette:
    """Measure a vehicle's outline.

    Parameters
    ----------
    vehicle : Vehicle
        With its outline [m].
    wheel_radius_m : float
        Radius of the wheel with its tyre [m], > 0.

    Returns
    -------
    Silhouette
        Smooth points and the heights of sill, waist and crown.
    """
    body = smooth_points(vehicle.outline.body, closed=True)
    roof = smooth_points(sorted(vehicle.outline.roof), closed=False)
    top, is_tall = _top_area(body, roof, vehicle)
    sill_z, body_top_z = min(z for _, z in body), max(z for _, z in body)
    return Silhouette(
        body=body,
        roof=roof,
        top=top,
        is_tall_top=is_tall,
        front_x=min(x for x, _ in body),
        rear_x=max(x for x, _ in body),
        sill_z=sill_z,
        waist_z=_waist_z(vehicle, sill_z, body_top_z),
        crown_z=max(body_top_z, *(z for _, z in roof)),
        wheel_radius=wheel_radius_m,
        axles_x=(0.0, vehicle.wheelbase_m),
    )


def height_on_line(line: Points, x: float) -> float:
    """Find the height of a line from front to rear at `x`, held at its ends.

    Examples
    --------
    >>> height_on_line(((0.0, 1.0), (2.0, 2.0)), 1.0)
    1.5
    """
    for (ax, az), (bx, bz) in pairwise(line):
        if ax <= x <= bx and bx > ax:
            return az + (bz - az) * (x - ax) / (bx - ax)
    return line[-1][1] if x >= line[-1][0] else line[0][1]


def _top_area(body: Points, roof: Points, vehicle: Vehicle) -> tuple[Points, bool]:
    start, end = roof[0][0], roof[-1][0]
    base = _base_under(body, roof, start, end)
    inner = base[ROOF_SAMPLES // 6 : -(ROOF_SAMPLES // 6)]
    gap = max(height_on_line(roof, x) - z for x, z in inner)
    if gap <= TALL_TOP_M:
        eaves = min(roof[0][1], roof[-1][1])
        return (*roof, *((x, max(z, eaves)) for x, z in base)), False
    glass_x = (x for window in vehicle.outline.windows for x, _ in window)
    windscreen_x = max(min((start, *glass_x)), min(x for x, _ in body))
    return (*roof, *_base_under(body, roof, windscreen_x, end)), True


def _base_under(body: Points, roof: Points, start: float, end: float) -> Points:
    """Follow the top of the body under the roof, from the rear forward."""
    base: list[Point] = []
    for step in range(ROOF_SAMPLES + 1):
        x = end + (start - end) * step / ROOF_SAMPLES
        roof_z, body_z = height_on_line(roof, x), height_at(body, x)
        base.append((x, roof_z if body_z is None else min(body_z, roof_z)))
    return tuple(base)


def _waist_z(vehicle: Vehicle, sill_z: float, body_top_z: float) -> float:
    glass = [z for window in vehicle.outline.windows for _, z in window]
    wanted = min(glass) - 0.05 if glass else sill_z + 0.62 * (body_top_z - sill_z)
    least, most = sill_z + 0.3 * (body_top_z - sill_z), body_top_z - 0.04
    return max(least, min(wanted, most))
