"""Areas cut by lines and by convex areas, and the hatch that says "not decided yet"."""

from __future__ import annotations

import math
from collections.abc import Sequence

from configurator.drawings.shapes import Paint, Point, Points, Polygon, Polyline


def kept_left_of(points: Sequence[Point], start: Point, end: Point) -> Points:
    """Keep what lies to the left of the line from `start` to `end`.

    Source
    ------
    Sutherland and Hodgman, Reentrant polygon clipping, 1974.

    Examples
    --------
    >>> square = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    >>> kept_left_of(square, (1.0, 0.0), (1.0, 1.0))
    ((0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (0.0, 2.0))
    """
    kept: list[Point] = []
    for index, here in enumerate(points):
        before = points[index - 1]
        side_before, side_here = _side(before, start, end), _side(here, start, end)
        if (side_before > 0 > side_here) or (side_before < 0 < side_here):
            share = side_before / (side_before - side_here)
            kept.append(_between(before, here, share))
        if side_here >= 0:
            kept.append(here)
    return tuple(kept)


def kept_below(points: Sequence[Point], height: float) -> Points:
    """Keep what lies below a level line.

    Examples
    --------
    >>> kept_below(((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)), 1.0)
    ((0.0, 1.0), (0.0, 0.0), (2.0, 0.0), (2.0, 1.0))
    """
    return kept_left_of(points, (1.0, height), (0.0, height))


def kept_above(points: Sequence[Point], height: float) -> Points:
    """Keep what lies above a level line.

    Examples
    --------
    >>> kept_above(((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)), 1.0)
    ((0.0, 1.0), (2.0, 1.0), (2.0, 2.0), (0.0, 2.0))
    """
    return kept_left_of(points, (0.0, height), (1.0, height))


def kept_inside(points: Sequence[Point], convex: Sequence[Point]) -> Points:
    """Keep what lies inside a convex area given anticlockwise.

    Examples
    --------
    >>> square = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    >>> kept_inside(square, ((1.0, 1.0), (3.0, 1.0), (3.0, 3.0), (1.0, 3.0)))
    ((1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (1.0, 2.0))
    """
    kept: Points = tuple(points)
    for index, end in enumerate(convex):
        kept = kept_left_of(kept, convex[index - 1], end)
    return kept


def round_area(centre: Point, radius: float, corners: int = 40) -> Points:
    """Make an anticlockwise polygon close to a disc.

    Examples
    --------
    >>> len(round_area((0.0, 0.0), 1.0))
    40
    """
    return tuple(
        (
            centre[0] + radius * math.cos(2 * math.pi * index / corners),
            centre[1] + radius * math.sin(2 * math.pi * index / corners),
        )
        for index in range(corners)
    )


def convex_hull(points: Sequence[Point]) -> Points:
    """Find the anticlockwise convex hull.

    Source
    ------
    Andrew, Another efficient algorithm for convex hulls in two dimensions, 1979.

    Examples
    --------
    >>> convex_hull(((0.0, 0.0), (2.0, 0.0), (1.0, 0.5), (1.0, 2.0)))
    ((0.0, 0.0), (2.0, 0.0), (1.0, 2.0))
    """
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)
    lower, upper = _half_hull(ordered), _half_hull(ordered[::-1])
    return tuple(lower[:-1] + upper[:-1])


def hatch(points: Sequence[Point], spacing: float, paint: Paint) -> tuple[Polyline, ...]:
    """Fill an area with parallel lines that rise to the right at 45 degrees.

    Examples
    --------
    >>> square = ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0))
    >>> [line.points for line in hatch(square, 2.0, Paint(stroke="#000000"))]
    [((0.0, 1.0), (1.0, 2.0)), ((1.0, 0.0), (2.0, 1.0))]
    """
    offsets = [y - x for x, y in points]
    if not offsets:
        return ()
    first = math.floor(min(offsets) / spacing) + 0.5
    count = math.ceil((max(offsets) - min(offsets)) / spacing) + 1
    lines: list[Polyline] = []
    for number in range(count):
        crossings = _crossings(points, (first + number) * spacing)
        lines.extend(
            Polyline((start, end), paint)
            for start, end in zip(crossings[::2], crossings[1::2], strict=False)
        )
    return tuple(reversed(lines))


def height_at(points: Sequence[Point], x: float) -> float | None:
    """Find the highest point of an outline above `x`; None beside it.

    Examples
    --------
    >>> height_at(((0.0, 0.0), (0.0, 1.0), (2.0, 2.0), (2.0, 0.0)), 1.0)
    1.5
    """
    found = []
    for index, (bx, by) in enumerate(points):
        ax, ay = points[index - 1]
        if min(ax, bx) <= x <= max(ax, bx):
            found.append(max(ay, by) if ax == bx else ay + (by - ay) * (x - ax) / (bx - ax))
    return max(found, default=None)


def level_crossings(points: Sequence[Point], height: float) -> tuple[float, ...]:
    """Find where an outline crosses a level line, from left to right.

    Examples
    --------
    >>> level_crossings(((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)), 1.0)
    (0.0, 2.0)
    """
    found = []
    for index, here in enumerate(points):
        before = points[index - 1]
        low, high = before[1] - height, here[1] - height
        if (low < 0) != (high < 0):
            found.append(_between(before, here, low / (low - high))[0])
    return tuple(sorted(found))


def is_inside(points: Sequence[Point], point: Point) -> bool:
    """Tell whether a point lies inside an outline, by the even-odd rule.

    Examples
    --------
    >>> is_inside(((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)), (1.0, 1.0))
    True
    """
    x, y = point
    return sum(crossing > x for crossing in level_crossings(points, y)) % 2 == 1


def area(points: Sequence[Point], paint: Paint) -> tuple[Polygon, ...]:
    """Make a polygon of what a cut has left; nothing when nothing is left.

    Examples
    --------
    >>> area(((0.0, 0.0), (1.0, 0.0)), Paint(fill="#000000"))
    ()
    """
    return (Polygon(tuple(points), paint),) if len(points) >= 3 else ()


def _side(point: Point, start: Point, end: Point) -> float:
    (px, py), (sx, sy), (ex, ey) = point, start, end
    return (ex - sx) * (py - sy) - (ey - sy) * (px - sx)


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _half_hull(ordered: Sequence[Point]) -> list[Point]:
    hull: list[Point] = []
    for point in ordered:
        while len(hull) >= 2 and _side(point, hull[-2], hull[-1]) <= 0:
            hull.pop()
        hull.append(point)
    return hull


def _crossings(points: Sequence[Point], offset: float) -> list[Point]:
    found: list[Point] = []
    for index, here in enumerate(points):
        before = points[index - 1]
        side_before, side_here = before[1] - before[0] - offset, here[1] - here[0] - offset
        if (side_before < 0) != (side_here < 0):
            found.append(_between(before, here, side_before / (side_before - side_here)))
    return sorted(found)
