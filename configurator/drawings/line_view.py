"""The vehicle in grey lines, from the side and from above, to show where things are."""

from __future__ import annotations

from configurator.catalog.models.vehicle import Vehicle
from configurator.drawings.clip import round_area
from configurator.drawings.shapes import Paint, Points, Polygon, Polyline, Shape
from configurator.drawings.side.silhouette import USUAL_WHEEL_RADIUS_M, Silhouette, silhouette_of
from configurator.drawings.smooth import smooth_curve

LINE = "#7d868b"
FAINT = "#aab1b5"
BODY_FILL = "#f4f5f4"
GLASS_FILL = "#e6ebed"
WHEEL_FILL = "#d3d7d9"
TYRE_WIDTH_M = 0.16


def side_lines(vehicle: Vehicle) -> tuple[Shape, ...]:
    """Draw the vehicle from its left side, front to the left, in grey [m]."""
    outline, form = vehicle.outline, silhouette_of(vehicle)
    edge = Paint(fill=BODY_FILL, stroke=LINE, stroke_width=0.022)
    pane = Paint(fill=GLASS_FILL, stroke=FAINT, stroke_width=0.014)
    seam = Paint(stroke=FAINT, stroke_width=0.014)
    wheel = Paint(fill=WHEEL_FILL, stroke=LINE, stroke_width=0.02)
    radius = USUAL_WHEEL_RADIUS_M
    return (
        *((Polygon(form.top, edge),) if form.is_tall_top else ()),
        smooth_curve(outline.body, edge, closed=True),
        *(smooth_curve(window, pane, closed=True) for window in outline.windows if len(window) > 2),
        *(Polyline(tuple(door), seam) for door in outline.doors if len(door) > 1),
        *(Polygon(round_area((x, radius), radius), wheel) for x in form.axles_x),
        Polyline(
            ((form.front_x - 0.1, 0.0), (form.rear_x + 0.1, 0.0)),
            Paint(stroke=FAINT, stroke_width=0.014),
        ),
    )


def top_lines(vehicle: Vehicle) -> tuple[Shape, ...]:
    """Draw the vehicle from above, front to the left, its right side up, in grey [m]."""
    form = silhouette_of(vehicle)
    half = vehicle.width_m / 2
    edge = Paint(fill=BODY_FILL, stroke=LINE, stroke_width=0.022)
    body = smooth_curve(_rounded(form.front_x, form.rear_x, half, 0.26), edge, closed=True)
    return (*_wheels_from_above(vehicle), body, *_glass_from_above(_roof_from_above(form), half))


def _roof_from_above(form: Silhouette) -> tuple[float, float]:
    """Keep the glass around the roof within the body."""
    start, end = form.roof_span
    return max(start, form.front_x + 0.24), min(end, form.rear_x - 0.24)


def _wheels_from_above(vehicle: Vehicle) -> tuple[Shape, ...]:
    paint = Paint(fill=WHEEL_FILL, stroke=LINE, stroke_width=0.02)
    reach, half_width = USUAL_WHEEL_RADIUS_M, TYRE_WIDTH_M / 2
    outer = max(vehicle.track_m / 2, vehicle.width_m / 2 - half_width + 0.03)
    return tuple(
        Polygon(
            (
                (x - reach, y - half_width),
                (x + reach, y - half_width),
                (x + reach, y + half_width),
                (x - reach, y + half_width),
            ),
            paint,
        )
        for x in (0.0, vehicle.wheelbase_m)
        for y in (-outer, outer)
    )


def _glass_from_above(span: tuple[float, float], half: float) -> tuple[Shape, ...]:
    start, end = span
    inner = 0.84 * half
    lean = min(0.16, 0.12 * (end - start))
    pane = Paint(fill=GLASS_FILL, stroke=FAINT, stroke_width=0.014)
    roof = Paint(fill="#fbfbfa", stroke=FAINT, stroke_width=0.014)
    return (
        smooth_curve(_rounded(start - lean, end + lean, inner, 0.14), pane, closed=True),
        smooth_curve(_rounded(start + 0.02, end - 0.02, inner * 0.86, 0.12), roof, closed=True),
    )


def _rounded(left: float, right: float, half: float, wanted: float) -> Points:
    """Make an oblong with round corners, close enough together to be drawn smooth."""
    r = min(wanted, half / 2, max(0.01, (right - left) / 3))
    k = 0.29 * r
    quarter = ((0.0, r), (k * 0.25, r * 0.62), (k, k), (r * 0.62, k * 0.25), (r, 0.0))
    return (
        *((left + x, half - y) for x, y in quarter),
        *((right - x, half - y) for x, y in reversed(quarter)),
        *((right - x, -half + y) for x, y in quarter),
        *((left + x, -half + y) for x, y in reversed(quarter)),
    )
