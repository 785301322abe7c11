"""Our own plain symbols for what the emergency sheet shows, each with a colour and a word."""

from __future__ import annotations

from configurator.catalog.models.vehicle import Emblem
from configurator.drawings.shapes import (
    Box,
    Circle,
    Drawing,
    Paint,
    Point,
    Points,
    Polygon,
    Polyline,
    Shape,
)

HIGH_VOLTAGE = "#f08a1c"
"""Orange, the colour of high-voltage cables in the trade."""
DISCONNECT = "#f6c51e"
LOW_VOLTAGE = "#a9c7e8"
STORED_FORCE = "#c9cdd0"
DRAWN = "#14181b"
"""Above 4.5:1 on every field colour."""

FIELDS: dict[Emblem, str] = {
    "traction-battery": HIGH_VOLTAGE,
    "motor": HIGH_VOLTAGE,
    "charger": HIGH_VOLTAGE,
    "charging-inlet": HIGH_VOLTAGE,
    "high-voltage-cable": HIGH_VOLTAGE,
    "service-disconnect": DISCONNECT,
    "low-voltage-battery": LOW_VOLTAGE,
    "heater": HIGH_VOLTAGE,
    "gas-strut": STORED_FORCE,
}

WORDS: dict[Emblem, str] = {
    "traction-battery": "High-voltage battery",
    "motor": "Motor and inverter",
    "charger": "High-voltage charger",
    "charging-inlet": "Charging inlet",
    "high-voltage-cable": "High-voltage cable",
    "service-disconnect": "Service disconnect",
    "low-voltage-battery": "Low-voltage battery",
    "heater": "High-voltage heater",
    "gas-strut": "Gas strut under pressure",
}

# Strokes in a square from -1 to 1, right and up; a line closed on itself is drawn closed.
LINES: dict[Emblem, tuple[Points, ...]] = {
    "traction-battery": (
        ((-0.68, -0.5), (-0.68, 0.36), (0.68, 0.36), (0.68, -0.5), (-0.68, -0.5)),
        ((-0.24, -0.5), (-0.24, 0.36)),
        ((0.22, -0.5), (0.22, 0.36)),
        ((-0.46, 0.36), (-0.46, 0.58)),
        ((0.46, 0.36), (0.46, 0.58)),
    ),
    "motor": (((0.55, 0.0), (0.82, 0.0)), ((-0.5, -0.62), (0.5, -0.62))),
    "charger": (
        ((-0.6, 0.22), (-0.45, 0.5), (-0.2, 0.5), (0.2, 0.02), (0.45, 0.02), (0.6, 0.3)),
        ((-0.6, -0.3), (0.6, -0.3)),
        ((-0.6, -0.56), (0.6, -0.56)),
    ),
    "charging-inlet": (),
    "high-voltage-cable": (
        ((-0.75, -0.45), (-0.3, -0.45), (-0.05, -0.2), (0.05, 0.2), (0.3, 0.45), (0.75, 0.45)),
    ),
    "service-disconnect": (
        ((-0.8, -0.2), (-0.42, -0.2), (0.3, 0.46)),
        ((0.42, -0.2), (0.8, -0.2)),
        ((-0.42, -0.6), (0.42, -0.6)),
    ),
    "low-voltage-battery": (
        ((-0.66, -0.52), (-0.66, 0.36), (0.66, 0.36), (0.66, -0.52), (-0.66, -0.52)),
        ((-0.44, 0.36), (-0.44, 0.56)),
        ((0.44, 0.36), (0.44, 0.56)),
        ((-0.46, -0.06), (-0.12, -0.06)),
        ((0.12, -0.06), (0.46, -0.06)),
        ((0.29, -0.23), (0.29, 0.11)),
    ),
    "heater": tuple(
        ((x, -0.6), (x + 0.14, -0.3), (x - 0.1, 0.0), (x + 0.14, 0.3), (x, 0.6))
        for x in (-0.5, 0.0, 0.5)
    ),
    "gas-strut": (((-0.72, -0.62), (0.1, 0.08)), ((0.1, 0.08), (0.72, 0.62))),
}

DISCS: dict[Emblem, tuple[tuple[Point, float, bool], ...]] = {
    "motor": (((0.0, 0.0), 0.55, False), ((0.0, 0.0), 0.17, True)),
    "charging-inlet": (
        ((0.0, 0.0), 0.68, False),
        ((-0.27, 0.18), 0.13, True),
        ((0.27, 0.18), 0.13, True),
        ((0.0, -0.27), 0.13, True),
    ),
    "service-disconnect": (((-0.42, -0.2), 0.11, True), ((0.42, -0.2), 0.11, True)),
    "gas-strut": (((-0.72, -0.62), 0.12, True), ((0.72, 0.62), 0.12, True)),
}
"""Centre, radius, and whether the disc is filled."""


def emblem_shapes(emblem: Emblem, centre: Point, size: float) -> tuple[Shape, ...]:
    """Draw a symbol on its coloured field.

    Parameters
    ----------
    emblem : Emblem
        Which one.
    centre : Point
        Middle of the field.
    size : float
        Edge of the square field, in the unit of the drawing.

    Returns
    -------
    tuple of Shape
        The field first.

    Examples
    --------
    >>> len(emblem_shapes("high-voltage-cable", (0.0, 0.0), 1.0))
    2
    """
    half = size / 2
    scale = 0.86 * half
    pen = Paint(stroke=DRAWN, stroke_width=0.075 * size)
    lines = (
        Polyline(tuple((centre[0] + x * scale, centre[1] + y * scale) for x, y in line), pen)
        for line in LINES[emblem]
    )
    discs = (
        Circle(
            (centre[0] + x * scale, centre[1] + y * scale),
            radius * scale,
            Paint(fill=DRAWN) if filled else pen,
        )
        for (x, y), radius, filled in DISCS.get(emblem, ())
    )
    return (_field(emblem, centre, half), *lines, *discs)


def emblem_picture(emblem: Emblem, size_pt: float = 24.0) -> Drawing:
    """Draw a symbol alone, for a table or a legend, with its word as the title.

    Examples
    --------
    >>> emblem_picture("motor").title
    'Motor and inverter'
    """
    half = size_pt / 2
    return Drawing(
        title=WORDS[emblem],
        description="",
        unit="pt",
        box=Box(0.0, 0.0, size_pt, size_pt),
        shapes=emblem_shapes(emblem, (half, half), size_pt * 0.94),
    )


def _field(emblem: Emblem, centre: Point, half: float) -> Polygon:
    cut = 0.24 * half
    corners = (
        (-half + cut, -half), (half - cut, -half), (half, -half + cut), (half, half - cut),
        (half - cut, half), (-half + cut, half), (-half, half - cut), (-half, -half + cut),
    )  # fmt: skip
    points = tuple((centre[0] + x, centre[1] + y) for x, y in corners)
    return Polygon(points, Paint(fill=FIELDS[emblem], stroke=DRAWN, stroke_width=0.05 * half))
