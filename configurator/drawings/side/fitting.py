"""Bumpers and lamps."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.models.vehicle import Outline
from configurator.drawings.shapes import Circle, Paint, Points, Polyline, Shape
from configurator.drawings.side.silhouette import Silhouette
from configurator.drawings.smooth import smooth_curve

CHROME = "#d5dadb"
CHROME_EDGE = "#6d767b"
SMALL_LAMP_M = 0.055


def fittings(outline: Outline, form: Silhouette) -> tuple[Shape, ...]:
    """Draw bumpers and lamps where the outline has them."""
    return (
        *(shape for bumper in outline.bumpers if bumper for shape in _bumper(bumper)),
        *(shape for lamp in outline.lamps for shape in _lamp(lamp, form)),
    )


def _bumper(bumper: Points) -> Iterator[Shape]:
    """Draw a closed bumper as an area, any other as a bar along its line."""
    if len(bumper) > 3:
        yield smooth_curve(
            bumper, Paint(fill=CHROME, stroke=CHROME_EDGE, stroke_width=0.014), closed=True
        )
        return
    for width, colour, lift in (
        (0.105, CHROME_EDGE, 0.0),
        (0.08, CHROME, 0.0),
        (0.02, "#ffffff", 0.018),
    ):
        line = tuple((x, z + lift) for x, z in bumper)
        yield Polyline(line, Paint(stroke=colour, stroke_width=width))


def _lamp(lamp: tuple[float, float, float], form: Silhouette) -> Iterator[Shape]:
    x, z, radius = lamp
    yield Circle((x, z), radius, Paint(fill=CHROME, stroke=CHROME_EDGE, stroke_width=0.012))
    yield Circle((x, z), 0.76 * radius, Paint(fill=_lens(x, radius, form)))
    gleam = (x - 0.24 * radius, z + 0.26 * radius)
    yield Circle(gleam, 0.2 * radius, Paint(fill="#ffffff", opacity=0.75))


def _lens(x: float, radius: float, form: Silhouette) -> str:
    if x > (form.front_x + form.rear_x) / 2:
        return "#b23a30"
    return "#dd9a3e" if radius < SMALL_LAMP_M else "#eef0e6"
