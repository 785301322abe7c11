"""Windows: tinted glass with a quiet reflection and a rubber frame."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.catalog.models.vehicle import Outline
from configurator.drawings.clip import area, kept_left_of
from configurator.drawings.shapes import Paint, Points, Polygon, Shape
from configurator.drawings.smooth import smooth_curve, smooth_points

GLASS = "#b4c8cf"
FRAME = "#2a2f33"


def windows(outline: Outline) -> tuple[Shape, ...]:
    """Draw every window of the outline."""
    return tuple(
        shape for window in outline.windows if len(window) > 2 for shape in _window(window)
    )


def _window(window: Points) -> Iterator[Shape]:
    pane = smooth_points(window, closed=True)
    yield Polygon(pane, Paint(fill=GLASS))
    yield from area(_streak(pane, 0.16, 0.42), Paint(fill="#ffffff", opacity=0.42))
    yield from area(_streak(pane, 0.5, 0.57), Paint(fill="#ffffff", opacity=0.32))
    yield smooth_curve(window, Paint(stroke=FRAME, stroke_width=0.024), closed=True)


def _streak(pane: Points, start: float, end: float) -> Points:
    """Cut a slanting band out of a pane, between two shares of its width."""
    left, right = min(x for x, _ in pane), max(x for x, _ in pane)
    low, high = min(z for _, z in pane), max(z for _, z in pane)
    lean = 0.45 * (high - low)
    ahead, behind = (left + (right - left) * share for share in (start, end))
    kept = kept_left_of(pane, (ahead + lean, high), (ahead, low))
    return kept_left_of(kept, (behind, low), (behind + lean, high))
