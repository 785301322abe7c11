"""A drawing on a page: shapes scaled to the room there is, in the embedded fonts."""

from __future__ import annotations

from typing import Any

from reportlab.platypus import Flowable

from configurator.documents.colours import rgb
from configurator.documents.glyphs import line_width, runs
from configurator.documents.typeface import BODY, BOLD
from configurator.drawings.shapes import (
    Circle,
    Curve,
    Drawing,
    Paint,
    Point,
    Points,
    Polygon,
    Polyline,
    Shape,
    Words,
)


class DrawingFlowable(Flowable):  # type: ignore[misc]  # ReportLab is untyped
    """A drawing as wide or as high as allowed, whichever is reached first."""

    def __init__(self, drawing: Drawing, *, width: float, height: float) -> None:
        super().__init__()
        self.drawing = drawing
        box = drawing.box
        self.scale = min(width / max(box.width, 1e-6), height / max(box.height, 1e-6))
        self.width = width
        self.height = box.height * self.scale
        self.indent = (width - box.width * self.scale) / 2
        self.spaceAfter = 6

    def wrap(self, width: float, height: float) -> tuple[float, float]:
        """Tell the size [pt]."""
        return self.width, self.height

    def draw(self) -> None:
        """Paint the shapes in their order."""
        canvas = self.canv
        canvas.saveState()
        canvas.translate(self.indent, 0)
        canvas.scale(self.scale, self.scale)
        canvas.translate(-self.drawing.box.left, -self.drawing.box.bottom)
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        for shape in self.drawing.shapes:
            _draw(canvas, shape)
        canvas.restoreState()


def _draw(canvas: Any, shape: Shape) -> None:
    match shape:
        case Words():
            _draw_words(canvas, shape)
        case Circle((x, y), radius, paint):
            fill, stroke = _set_paint(canvas, paint)
            canvas.circle(x, y, radius, fill=fill, stroke=stroke)
        case Polygon(points, paint):
            _draw_path(canvas, _straight_path(canvas, points, closed=True), paint)
        case Polyline(points, paint):
            line_only = Paint(None, paint.stroke, paint.stroke_width, paint.dash, paint.opacity)
            _draw_path(canvas, _straight_path(canvas, points, closed=False), line_only)
        case Curve():
            fill_paint = shape.paint
            _draw_path(canvas, _curved_path(canvas, shape), fill_paint)


def _straight_path(canvas: Any, points: Points, *, closed: bool) -> Any:
    path = canvas.beginPath()
    if not points:
        return path
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    if closed:
        path.close()
    return path


def _curved_path(canvas: Any, curve: Curve) -> Any:
    path = canvas.beginPath()
    path.moveTo(*curve.start)
    for first, second, end in curve.cubics:
        path.curveTo(*first, *second, *end)
    if curve.closed:
        path.close()
    return path


def _draw_path(canvas: Any, path: Any, paint: Paint) -> None:
    fill, stroke = _set_paint(canvas, paint)
    if fill or stroke:
        canvas.drawPath(path, fill=fill, stroke=stroke)


def _set_paint(canvas: Any, paint: Paint) -> tuple[int, int]:
    canvas.setDash(list(paint.dash))
    if paint.fill is not None:
        canvas.setFillColor(rgb(paint.fill))
    if paint.stroke is not None:
        canvas.setStrokeColor(rgb(paint.stroke))
        canvas.setLineWidth(paint.stroke_width)
    # Setting a colour makes it opaque, so the opacity comes last.
    canvas.setFillAlpha(paint.opacity)
    canvas.setStrokeAlpha(paint.opacity)
    return int(paint.fill is not None), int(paint.stroke is not None)


def _draw_words(canvas: Any, words: Words) -> None:
    font = BOLD if words.bold else BODY
    width = line_width(words.text, font, words.size)
    x, y = _start(words, width)
    canvas.setFillAlpha(1.0)
    canvas.setFillColor(rgb(words.colour))
    for run in runs(words.text, font):
        canvas.setFont(run.font, words.size)
        canvas.drawString(x, y, run.text)
        x += canvas.stringWidth(run.text, run.font, words.size)


def _start(words: Words, width: float) -> Point:
    x, y = words.at
    return x - width * {"start": 0.0, "middle": 0.5, "end": 1.0}[words.anchor], y
