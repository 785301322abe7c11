"""The painted body: colour, soft shade, second colour, shut lines, load bed."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.models.vehicle import Outline
from configurator.drawings.clip import (
    area,
    convex_hull,
    hatch,
    is_inside,
    kept_above,
    kept_below,
    kept_inside,
    level_crossings,
    round_area,
)
from configurator.drawings.colour import darker, lighter, line_colour_on
from configurator.drawings.look import VehicleLook
from configurator.drawings.shapes import Paint, Points, Polygon, Polyline, Shape
from configurator.drawings.side.silhouette import Silhouette
from configurator.drawings.smooth import smooth_curve, smooth_points

OPEN_COLOUR = "#e6e7e3"
OPEN_HATCH = "#c2c7c6"
OPEN_LINE = "#6b7378"
UNDERSIDE = "#24282b"
SHADE_STEPS = 20
ARCH_OVER_WHEEL = 1.2
"""Radius of the wheel arch over that of the wheel."""


def paint_colour(look: VehicleLook) -> str:
    """Find the colour of the body; a light primer grey while it is open.

    Examples
    --------
    >>> paint_colour(VehicleLook())
    '#e6e7e3'
    """
    return look.body_colour or OPEN_COLOUR


def seam_colour(look: VehicleLook) -> str:
    """Find the colour of outline and seams.

    Examples
    --------
    >>> seam_colour(VehicleLook())
    '#6b7378'
    """
    return OPEN_LINE if look.body_colour is None else line_colour_on(look.body_colour)


def underside(form: Silhouette) -> tuple[Shape, ...]:
    """Draw what is seen below and behind the body: chassis and wheel housings."""
    dark = Paint(fill=UNDERSIDE)
    left = max(form.front_x + 0.1, form.axles_x[0] - 0.4)
    right = min(form.rear_x - 0.1, form.axles_x[1] + 0.4)
    low, high = form.sill_z - 0.07, form.sill_z + 0.12
    hull = convex_hull(form.body)
    housings = (kept_inside(hull, _housing(form, axle_x)) for axle_x in form.axles_x)
    return (
        Polygon(((left, high), (right, high), (right - 0.1, low), (left + 0.1, low)), dark),
        *(shape for housing in housings for shape in area(housing, dark)),
    )


def painted_body(outline: Outline, form: Silhouette, look: VehicleLook) -> tuple[Shape, ...]:
    """Draw the body in its colour with a soft shade, the second colour and the seams."""
    seam = Paint(stroke=seam_colour(look), stroke_width=0.014)
    return (
        Polygon(form.body, Paint(fill=paint_colour(look))),
        *_second_colour(outline, look),
        *_shade(form, look),
        *_load_bed(outline, look),
        *_waist_line(form, look),
        *(Polyline(tuple(door), seam) for door in outline.doors if len(door) > 1),
        *(shape for door in outline.doors for shape in _handle(door, form)),
        *_edge(outline, look),
    )


def wheel_arches(form: Silhouette, look: VehicleLook) -> tuple[Shape, ...]:
    """Draw the dark housings that the wheels stand in, each with its lip."""
    return tuple(shape for axle_x in form.axles_x for shape in _arch(form, look, axle_x))


def _shade(form: Silhouette, look: VehicleLook) -> Iterator[Shape]:
    if look.body_colour is None:
        lines = Paint(stroke=OPEN_HATCH, stroke_width=0.008)
        yield from hatch(form.body, 0.16, lines)
        return
    deep = Paint(fill="#0c1016", opacity=0.0115)
    for step in range(SHADE_STEPS):
        height = form.waist_z - (form.waist_z - form.sill_z) * step / SHADE_STEPS
        yield from area(kept_below(form.body, height), deep)
    light = Paint(fill="#ffffff", opacity=0.016)
    for step in range(10):
        height = form.waist_z + (form.crown_z - form.waist_z) * (0.2 + 0.08 * step)
        yield from area(kept_above(form.body, height), light)


def _second_colour(outline: Outline, look: VehicleLook) -> Iterator[Shape]:
    if look.second_colour is None or len(outline.lower_band) < 3:
        return
    edge = Paint(
        fill=look.second_colour, stroke=line_colour_on(look.second_colour), stroke_width=0.008
    )
    yield smooth_curve(outline.lower_band, edge, closed=True)


def _waist_line(form: Silhouette, look: VehicleLook) -> Iterator[Shape]:
    if look.body_colour is None:
        return
    crossings = level_crossings(form.body, form.waist_z)
    bright = Paint(stroke=lighter(look.body_colour, 0.55), stroke_width=0.014, opacity=0.75)
    deep = Paint(stroke=darker(look.body_colour, 0.45), stroke_width=0.01, opacity=0.6)
    for start, end in zip(crossings[::2], crossings[1::2], strict=False):
        if end - start > 0.4:
            for drop, paint in ((0.0, bright), (0.014, deep)):
                z = form.waist_z - drop
                yield Polyline(((start + 0.05, z), (end - 0.05, z)), paint)


def _load_bed(outline: Outline, look: VehicleLook) -> Iterator[Shape]:
    if len(outline.load_bed) < 3:
        return
    side = smooth_points(outline.load_bed, closed=True)
    seam = Paint(stroke=seam_colour(look), stroke_width=0.012)
    if look.body_colour is not None:
        yield Polygon(side, Paint(fill="#0c1016", opacity=0.1))
    low, high = min(z for _, z in side), max(z for _, z in side)
    for share in (0.28, 0.5, 0.72):
        z = low + (high - low) * share
        crossings = level_crossings(side, z)
        for start, end in zip(crossings[::2], crossings[1::2], strict=False):
            inset = min(0.08, (end - start) / 4)
            yield Polyline(((start + inset, z), (end - inset, z)), seam)
    yield Polyline((*side, side[0]), seam)


def _handle(door: Points, form: Silhouette) -> Iterator[Shape]:
    """Draw a handle where a hand looks for it: just below the waist, at the rear of a door."""
    if len(door) < 3:
        return
    left, right = (edge(x for x, _ in door) for edge in (min, max))
    low, high = (edge(z for _, z in door) for edge in (min, max))
    z = min(form.waist_z, high) - 0.085
    if right - left < 0.5 or z < low + 0.2:
        return
    for width, colour in ((0.04, "#5b6469"), (0.024, "#eceff0")):
        yield Polyline(
            ((right - 0.2, z), (right - 0.08, z)), Paint(stroke=colour, stroke_width=width)
        )


def _edge(outline: Outline, look: VehicleLook) -> Iterator[Shape]:
    dash = (0.07, 0.05) if look.body_colour is None else ()
    paint = Paint(stroke=seam_colour(look), stroke_width=0.018, dash=dash)
    yield smooth_curve(outline.body, paint, closed=True)


def _housing(form: Silhouette, axle_x: float) -> Points:
    disc = round_area((axle_x, form.wheel_radius), ARCH_OVER_WHEEL * form.wheel_radius)
    return kept_above(disc, form.sill_z - 0.02)


def _arch(form: Silhouette, look: VehicleLook, axle_x: float) -> Iterator[Shape]:
    housing = round_area((axle_x, form.wheel_radius), ARCH_OVER_WHEEL * form.wheel_radius, 64)
    yield from area(kept_inside(form.body, housing), Paint(fill=UNDERSIDE))
    lip = Paint(stroke=seam_colour(look), stroke_width=0.024)
    upper = [point for point in housing if point[1] >= form.wheel_radius]
    run = tuple(point for point in upper if is_inside(form.body, point))
    if len(run) > 1:
        yield Polyline(run, lip)
