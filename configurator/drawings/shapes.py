"""The few plain shapes every drawing is made of, for SVG and for PDF alike.

Coordinates grow to the right and upward, in the unit of the drawing: metres of the vehicle or
points of a page. Shapes are painted in their order; the later ones cover the earlier ones.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, TypeAlias

Point: TypeAlias = tuple[float, float]
"""Right and up, in the unit of the drawing."""

Points: TypeAlias = tuple[Point, ...]

Cubic: TypeAlias = tuple[Point, Point, Point]
"""First control point, second control point and end of a cubic Bézier segment."""

AVERAGE_GLYPH_WIDTH = 0.58
"""Width of a letter over its size; generous, so that a label never gets less room than it takes."""


@dataclass(frozen=True, slots=True)
class Paint:
    """How a shape is filled and stroked; colours as #rrggbb, None for not at all."""

    fill: str | None = None
    stroke: str | None = None
    stroke_width: float = 0.0
    dash: tuple[float, ...] = ()
    """Lengths of dash and gap; solid when empty."""
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed area with straight edges."""

    points: Points
    paint: Paint


@dataclass(frozen=True, slots=True)
class Polyline:
    """An open line with straight pieces and round ends; never filled."""

    points: Points
    paint: Paint


@dataclass(frozen=True, slots=True)
class Curve:
    """A line or, when closed, an area made of cubic Bézier segments."""

    start: Point
    cubics: tuple[Cubic, ...]
    closed: bool
    paint: Paint


@dataclass(frozen=True, slots=True)
class Circle:
    """A disc or ring."""

    centre: Point
    radius: float
    paint: Paint


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text; `at` is on its baseline."""

    at: Point
    text: str
    size: float
    colour: str
    anchor: Literal["start", "middle", "end"] = "start"
    bold: bool = False


Shape: TypeAlias = Polygon | Polyline | Curve | Circle | Words


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle along the axes."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Extent to the right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Extent upward."""
        return self.top - self.bottom


@dataclass(frozen=True, slots=True)
class Drawing:
    """A picture with its words for those who cannot see it."""

    title: str
    description: str
    unit: Literal["m", "pt"]
    box: Box
    """Everything drawn lies within."""
    shapes: tuple[Shape, ...]


def box_around(boxes: Iterable[Box]) -> Box:
    """Find the least box that holds all boxes; a zero box when there are none.

    Examples
    --------
    >>> box_around([Box(0, 0, 1, 1), Box(2, -1, 3, 0)])
    Box(left=0, bottom=-1, right=3, top=1)
    """
    known = tuple(boxes)
    if not known:
        return Box(0.0, 0.0, 0.0, 0.0)
    return Box(
        min(box.left for box in known),
        min(box.bottom for box in known),
        max(box.right for box in known),
        max(box.top for box in known),
    )


def grown(box: Box, margin: float) -> Box:
    """Widen a box on all four sides.

    Examples
    --------
    >>> grown(Box(0, 0, 1, 1), 2)
    Box(left=-2, bottom=-2, right=3, top=3)
    """
    return Box(box.left - margin, box.bottom - margin, box.right + margin, box.top + margin)


def words_width(text: str, size: float, *, bold: bool = False) -> float:
    """Estimate the width of a line of text, rather too wide than too narrow.

    Examples
    --------
    >>> round(words_width("range", 10.0), 6)
    29.0
    """
    return len(text) * size * AVERAGE_GLYPH_WIDTH * (1.06 if bold else 1.0)


def bounds(shape: Shape) -> Box:
    """Find a box that holds a shape with its stroke; text by an estimate of its width.

    Examples
    --------
    >>> bounds(Circle((1.0, 1.0), 0.5, Paint(fill="#000000")))
    Box(left=0.5, bottom=0.5, right=1.5, top=1.5)
    """
    match shape:
        case Polygon(points, paint) | Polyline(points, paint):
            return grown(_box_of_points(points), paint.stroke_width / 2)
        case Curve(start, cubics, _, paint):
            corners = (start, *(point for cubic in cubics for point in cubic))
            return grown(_box_of_points(corners), paint.stroke_width / 2)
        case Circle((x, y), radius, paint):
            return grown(Box(x, y, x, y), radius + paint.stroke_width / 2)
        case Words():
            return _box_of_words(shape)


def bounds_of_all(shapes: Iterable[Shape]) -> Box:
    """Find a box that holds all shapes."""
    return box_around(bounds(shape) for shape in shapes)


def _box_of_points(points: Points) -> Box:
    return box_around(Box(x, y, x, y) for x, y in points)


def _box_of_words(words: Words) -> Box:
    x, y = words.at
    width = words_width(words.text, words.size, bold=words.bold)
    left = x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor]
    return Box(left, y - 0.25 * words.size, left + width, y + 0.85 * words.size)
