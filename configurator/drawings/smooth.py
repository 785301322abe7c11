"""Smooth curves through the points of an outline, its sharp corners kept."""

from __future__ import annotations

import math
from collections.abc import Sequence

from configurator.drawings.shapes import Cubic, Curve, Paint, Point, Points

CORNER_DEGREES = 42.0
"""An outline that turns more than this at a point has a corner there."""

FLAT_STEPS = 8
"""Straight pieces for one Bézier segment; finer than a pixel at the sizes we draw."""

HANDLE_SHARE = 0.36
"""Length of a handle over the shorter neighbouring piece, close to the third of Catmull-Rom."""

COINCIDENT = 1e-6


def smooth_curve(points: Sequence[Point], paint: Paint, *, closed: bool) -> Curve:
    """Draw a smooth curve through points and keep the corners where it turns sharply.

    Parameters
    ----------
    points : sequence of Point, shape (n,)
        What the curve passes through, n >= 1; repeated points are taken once.
    paint : Paint
        How it is drawn.
    closed : bool
        Whether the last point joins the first.

    Returns
    -------
    Curve
        A cubic segment for each piece.

    Source
    ------
    Catmull and Rom, A class of local interpolating splines, 1974, in Bézier form; each handle is
    held to the shorter neighbour so that a long straight sill stays straight.

    Examples
    --------
    >>> square = ((0.0, 0.0), (0.0, 1.0), (1.0, 1.0), (1.0, 0.0))
    >>> curve = smooth_curve(square, Paint(fill="#000000"), closed=True)
    >>> len(curve.cubics), curve.cubics[0][2]
    (4, (0.0, 1.0))
    """
    through = _distinct(points, closed=closed)
    pieces = len(through) if closed else len(through) - 1
    handles = [_handle(through, index, closed=closed) for index in range(len(through))]
    return Curve(
        through[0],
        tuple(_cubic(through, handles, index) for index in range(pieces)),
        closed,
        paint,
    )


def flattened(curve: Curve) -> Points:
    """Replace a curve by points close enough together that nobody sees the difference.

    Examples
    --------
    >>> len(flattened(smooth_curve(((0.0, 0.0), (1.0, 0.0)), Paint(), closed=False)))
    9
    """
    found = [curve.start]
    for cubic in curve.cubics:
        start = found[-1]
        found.extend(_on_cubic(start, cubic, step / FLAT_STEPS) for step in range(1, FLAT_STEPS))
        found.append(cubic[2])
    return tuple(found)


def smooth_points(points: Sequence[Point], *, closed: bool) -> Points:
    """Find the points along the smooth curve through `points`.

    Examples
    --------
    >>> smooth_points(((0.0, 0.0), (1.0, 0.0)), closed=False)[-1]
    (1.0, 0.0)
    """
    return flattened(smooth_curve(points, Paint(), closed=closed))


def ellipse(centre: Point, radii: tuple[float, float], paint: Paint) -> Curve:
    """Draw an ellipse along the axes as four cubic segments.

    Source
    ------
    4/3 (sqrt 2 - 1) = 0.5523 is the usual handle for a quarter of a circle.

    Examples
    --------
    >>> ellipse((0.0, 0.0), (2.0, 1.0), Paint()).start
    (2.0, 0.0)
    """
    (x, y), (a, b) = centre, radii
    h, v = 0.5523 * a, 0.5523 * b
    cubics: tuple[Cubic, ...] = (
        ((x + a, y + v), (x + h, y + b), (x, y + b)),
        ((x - h, y + b), (x - a, y + v), (x - a, y)),
        ((x - a, y - v), (x - h, y - b), (x, y - b)),
        ((x + h, y - b), (x + a, y - v), (x + a, y)),
    )
    return Curve((x + a, y), cubics, closed=True, paint=paint)


def _distinct(points: Sequence[Point], *, closed: bool) -> Points:
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(kept[-1], point) > COINCIDENT:
            kept.append(point)
    while closed and len(kept) > 1 and math.dist(kept[0], kept[-1]) <= COINCIDENT:
        kept.pop()
    return tuple(kept)


def _handle(points: Points, index: int, *, closed: bool) -> Point | None:
    """Find the vector from a point to its forward control point; None at a corner or an end."""
    if not closed and index in {0, len(points) - 1}:
        return None
    before, here, after = points[index - 1], points[index], points[(index + 1) % len(points)]
    back, ahead = math.dist(before, here), math.dist(here, after)
    along = math.dist(before, after)
    turn = _turn_degrees(before, here, after)
    if turn > CORNER_DEGREES or along < COINCIDENT:
        return None
    length = HANDLE_SHARE * min(back, ahead)
    return (after[0] - before[0]) / along * length, (after[1] - before[1]) / along * length


def _turn_degrees(before: Point, here: Point, after: Point) -> float:
    arriving = math.atan2(here[1] - before[1], here[0] - before[0])
    leaving = math.atan2(after[1] - here[1], after[0] - here[0])
    turn = abs(math.degrees(leaving - arriving)) % 360
    return min(turn, 360 - turn)


def _cubic(points: Points, handles: Sequence[Point | None], index: int) -> Cubic:
    following = (index + 1) % len(points)
    (ax, ay), (bx, by) = points[index], points[following]
    third = ((bx - ax) / 3, (by - ay) / 3)
    first, second = handles[index] or third, handles[following] or third
    return (ax + first[0], ay + first[1]), (bx - second[0], by - second[1]), (bx, by)


def _on_cubic(start: Point, cubic: Cubic, share: float) -> Point:
    rest = 1 - share
    weights = (rest**3, 3 * rest**2 * share, 3 * rest * share**2, share**3)
    corners = (start, *cubic)
    return (
        sum(weight * point[0] for weight, point in zip(weights, corners, strict=True)),
        sum(weight * point[1] for weight, point in zip(weights, corners, strict=True)),
    )
