"""Wheels of each style, and the plain disc that stands for a style still open."""

from __future__ import annotations

import math
from collections.abc import Iterator

from configurator.drawings.look import WheelStyle
from configurator.drawings.shapes import Circle, Paint, Point, Polygon, Polyline, Shape

TYRE = "#25282a"
SIDEWALL = "#3a3f42"
METAL = "#d3d7d8"
METAL_SHADE = "#8b9498"
BRIGHT = "#f3f5f5"
RIM = 0.66
"""Radius of the rim over that of the tyre."""


def wheel(centre: Point, radius: float, style: WheelStyle | None) -> tuple[Shape, ...]:
    """Draw a wheel with its tyre.

    Parameters
    ----------
    centre : Point
        Of the wheel [m].
    radius : float
        Of the tyre [m].
    style : WheelStyle or None
        None while it is open: a dashed plain disc.

    Returns
    -------
    tuple of Shape
        The tyre and the wheel in it.
    """
    rims = {"steel": _steel, "spoked": _spoked, "slotted": _slotted}
    rim = _undecided if style is None else rims[style]
    return (*_tyre(centre, radius), *rim(centre, radius))


def _tyre(centre: Point, radius: float) -> Iterator[Shape]:
    yield Circle(centre, radius, Paint(fill=TYRE))
    ring = Paint(stroke=SIDEWALL, stroke_width=0.045 * radius)
    yield Circle(centre, 0.83 * radius, ring)


def _rim(centre: Point, radius: float, fill: str) -> Circle:
    edge = Paint(fill=fill, stroke=METAL_SHADE, stroke_width=0.05 * radius)
    return Circle(centre, RIM * radius, edge)


def _steel(centre: Point, radius: float) -> Iterator[Shape]:
    yield _rim(centre, radius, METAL)
    yield Circle(centre, 0.57 * radius, Paint(stroke=BRIGHT, stroke_width=0.035 * radius))
    for number in range(10):
        hole = _polar(centre, 0.485 * radius, 2 * math.pi * number / 10)
        yield Circle(hole, 0.042 * radius, Paint(fill="#40474b"))
    yield from _hub_cap(centre, 0.36 * radius)


def _hub_cap(centre: Point, radius: float) -> Iterator[Shape]:
    edge = Paint(fill="#e2e6e7", stroke=METAL_SHADE, stroke_width=0.1 * radius)
    yield Circle(centre, radius, edge)
    yield Circle(centre, 0.66 * radius, Paint(fill="#c3cacc"))
    gleam = (centre[0] - 0.22 * radius, centre[1] + 0.26 * radius)
    yield Circle(gleam, 0.3 * radius, Paint(fill=BRIGHT, opacity=0.9))


def _spoked(centre: Point, radius: float) -> Iterator[Shape]:
    yield Circle(centre, RIM * radius, Paint(fill="#4a5257"))
    spoke = Paint(stroke="#dfe4e5", stroke_width=0.022 * radius)
    for number in range(18):
        angle = 2 * math.pi * number / 18
        for lean in (-0.42, 0.42):
            hub = _polar(centre, 0.14 * radius, angle)
            yield Polyline((hub, _polar(centre, 0.6 * radius, angle + lean)), spoke)
    yield Circle(centre, 0.62 * radius, Paint(stroke=METAL, stroke_width=0.085 * radius))
    yield from _hub_cap(centre, 0.18 * radius)


def _slotted(centre: Point, radius: float) -> Iterator[Shape]:
    yield _rim(centre, radius, METAL)
    for number in range(8):
        angle = 2 * math.pi * number / 8
        slot = (
            *(_polar(centre, 0.54 * radius, angle + 0.05 * step) for step in range(-4, 5)),
            *(_polar(centre, 0.35 * radius, angle - 0.04 * step) for step in range(-4, 5)),
        )
        edge = Paint(fill="#40474b", stroke=BRIGHT, stroke_width=0.02 * radius)
        yield Polygon(slot, edge)
    yield from _hub_cap(centre, 0.2 * radius)


def _undecided(centre: Point, radius: float) -> Iterator[Shape]:
    edge = Paint(
        fill="#e6e7e3",
        stroke="#6b7378",
        stroke_width=0.05 * radius,
        dash=(0.2 * radius, 0.14 * radius),
    )
    yield Circle(centre, RIM * radius, edge)
    yield Circle(centre, 0.1 * radius, Paint(fill="#6b7378"))


def _polar(centre: Point, radius: float, angle: float) -> Point:
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)
