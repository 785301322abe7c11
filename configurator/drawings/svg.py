"""A drawing as SVG: plain elements, escaped text, no scripts, nothing fetched from elsewhere."""

from __future__ import annotations

import html
import re

from configurator.drawings.shapes import (
    Circle,
    Curve,
    Drawing,
    Paint,
    Point,
    Polygon,
    Polyline,
    Shape,
    Words,
)

SVG_UNITS = {"m": 100.0, "pt": 1.0}
"""SVG units for one unit of the drawing; browsers draw text below one unit badly."""

FONT_FAMILY = "'Source Sans 3', 'Noto Sans', 'DejaVu Sans', Arial, sans-serif"

_NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def to_svg(drawing: Drawing, width_px: float | None = None) -> str:
    """Write a drawing as a standalone SVG document.

    Parameters
    ----------
    drawing : Drawing
        What to write.
    width_px : float, optional
        Width on screen [px], > 0; without it the picture takes the width it is given.

    Returns
    -------
    str
        The document; the same drawing always gives the same text.

    Source
    ------
    W3C Scalable Vector Graphics 1.1, second edition; XML 1.0 for the characters allowed.

    Examples
    --------
    >>> from configurator.drawings.shapes import Box
    >>> empty = Drawing("<van>", "Nothing yet.", "pt", Box(0, 0, 20, 10), ())
    >>> print(to_svg(empty))
    <svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 20 10" role="img" aria-label="&lt;van&gt;">
    <title>&lt;van&gt;</title>
    <desc>Nothing yet.</desc>
    </svg>
    """
    scale = SVG_UNITS[drawing.unit]
    width, height = drawing.box.width * scale, drawing.box.height * scale
    size = ""
    if width_px is not None:
        height_px = width_px * height / width if width else width_px
        size = f' width="{_number(width_px)}" height="{_number(height_px)}"'
    title = safe_text(drawing.title)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_number(width)} {_number(height)}"'
        f'{size} role="img" aria-label="{title}">'
    )
    frame = _Frame(drawing.box.left, drawing.box.top, scale)
    return "\n".join(
        (
            head,
            f"<title>{title}</title>",
            f"<desc>{safe_text(drawing.description)}</desc>",
            *(_element(shape, frame) for shape in drawing.shapes),
            "</svg>",
        )
    )


def safe_text(text: str) -> str:
    """Make any text harmless in XML: markup escaped, characters XML forbids replaced.

    Examples
    --------
    >>> safe_text('<script>"&')
    '&lt;script&gt;&quot;&amp;'
    """
    return html.escape(_NOT_IN_XML.sub("\ufffd", text), quote=True)


class _Frame:
    """Turns coordinates of the drawing into those of the SVG, which grow downward."""

    def __init__(self, left: float, top: float, scale: float) -> None:
        self.left, self.top, self.scale = left, top, scale

    def pair(self, point: Point) -> str:
        x, y = point
        return f"{_number((x - self.left) * self.scale)},{_number((self.top - y) * self.scale)}"

    def length(self, length: float) -> str:
        return _number(length * self.scale)


def _element(shape: Shape, frame: _Frame) -> str:
    match shape:
        case Polygon(points, paint):
            listed = " ".join(frame.pair(point) for point in points)
            return f'<polygon points="{listed}"{_painted(paint, frame)}/>'
        case Polyline(points, paint):
            listed = " ".join(frame.pair(point) for point in points)
            return f'<polyline points="{listed}"{_painted(paint, frame)}/>'
        case Curve(start, cubics, closed, paint):
            pieces = "".join(
                "C" + " ".join(frame.pair(point) for point in cubic) for cubic in cubics
            )
            end = "Z" if closed else ""
            return f'<path d="M{frame.pair(start)}{pieces}{end}"{_painted(paint, frame)}/>'
        case Circle(centre, radius, paint):
            x, y = frame.pair(centre).split(",")
            r = frame.length(radius)
            return f'<circle cx="{x}" cy="{y}" r="{r}"{_painted(paint, frame)}/>'
        case Words():
            return _text(shape, frame)


def _painted(paint: Paint, frame: _Frame) -> str:
    parts = [f' fill="{paint.fill or "none"}"']
    if paint.stroke is not None:
        width = frame.length(paint.stroke_width)
        parts.append(f' stroke="{paint.stroke}" stroke-width="{width}"')
        parts.append(' stroke-linejoin="round" stroke-linecap="round"')
        if paint.dash:
            listed = " ".join(frame.length(length) for length in paint.dash)
            parts.append(f' stroke-dasharray="{listed}"')
    if paint.opacity != 1.0:
        parts.append(f' opacity="{_number(paint.opacity)}"')
    return "".join(parts)


def _text(words: Words, frame: _Frame) -> str:
    x, y = frame.pair(words.at).split(",")
    weight = ' font-weight="600"' if words.bold else ""
    return (
        f'<text x="{x}" y="{y}" font-family="{FONT_FAMILY}" font-size="{frame.length(words.size)}"'
        f' text-anchor="{words.anchor}"{weight} fill="{words.colour}">'
        f"{safe_text(words.text)}</text>"
    )


def _number(value: float) -> str:
    """Write a number shortly and always the same way; hundredths of a unit are enough."""
    written = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if written in {"-0", ""} else written
