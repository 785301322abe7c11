"""Range in each driving case as a band, with the most likely value marked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from configurator.drawings.colour import INK, QUIET_INK
from configurator.drawings.scale import Scale, scale_for
from configurator.drawings.shapes import (
    Box,
    Drawing,
    Paint,
    Points,
    Polygon,
    Polyline,
    Shape,
    Words,
)
from configurator.drawings.text_lines import from_to, lines_within

SIZE_PT = 11.5
LINE_PT = 14.0
BAR_PT = 14.0
ROW_GAP_PT = 13.0
SCALE_PT = 34.0
VALUE_WIDTH_PT = 92.0
BAND = "#a9cfc9"
BAND_EDGE = "#1f6f6b"
MIDDLE = "#0f4744"
GRID = "#d9dddb"


@dataclass(frozen=True, slots=True)
class RangeBar:
    """The range in one driving case [km].

    Nine in ten go beyond `low_km`, one in ten beyond `high_km`. The middle is
    a from–to that differs only while choices are open.
    """

    label: str
    low_km: float
    mid_low_km: float
    mid_high_km: float
    high_km: float
    note: str = ""
    """The conditions in words; may be empty."""


def range_chart(bars: Sequence[RangeBar], *, width_pt: float = 360.0) -> Drawing:
    """Draw the bands below each other over one scale from zero.

    Parameters
    ----------
    bars : sequence of RangeBar
        In the order shown.
    width_pt : float
        Width of the picture [pt]; at least 300.

    Returns
    -------
    Drawing
        In points.
    """
    greatest = max((bar.high_km for bar in bars), default=1.0)
    scale = scale_for(greatest, 4.0, width_pt - 14.0)
    heights = [_row_height(bar, width_pt) for bar in bars]
    total = sum(heights) + SCALE_PT
    shapes: list[Shape] = list(_grid(scale, total - 1.0))
    top = total
    for bar, height in zip(bars, heights, strict=True):
        shapes.extend(_row(bar, scale, top, width_pt))
        top -= height
    return Drawing(
        title="Range by driving case",
        description=" ".join(_in_words(bar) for bar in bars),
        unit="pt",
        box=Box(0.0, 0.0, width_pt, total),
        shapes=tuple(shapes),
    )


def _label_lines(bar: RangeBar, width_pt: float) -> tuple[str, ...]:
    return lines_within(bar.label, SIZE_PT, width_pt - VALUE_WIDTH_PT, bold=True)


def _note_lines(bar: RangeBar, width_pt: float) -> tuple[str, ...]:
    return lines_within(bar.note, SIZE_PT - 1, width_pt) if bar.note else ()


def _row_height(bar: RangeBar, width_pt: float) -> float:
    lines = len(_label_lines(bar, width_pt)) + len(_note_lines(bar, width_pt))
    return lines * LINE_PT + BAR_PT + LINE_PT + ROW_GAP_PT


def _row(bar: RangeBar, scale: Scale, top: float, width_pt: float) -> Iterator[Shape]:
    baseline = top - 12
    value = from_to(bar.low_km, bar.high_km, "km")
    yield Words((width_pt, baseline), value, SIZE_PT, INK, "end", bold=True)
    for line in _label_lines(bar, width_pt):
        yield from _backed(line, (0.0, baseline), SIZE_PT, INK, bold=True)
        baseline -= LINE_PT
    for line in _note_lines(bar, width_pt):
        yield from _backed(line, (0.0, baseline), SIZE_PT - 1, QUIET_INK)
        baseline -= LINE_PT
    bottom = baseline + LINE_PT - 5 - BAR_PT
    yield from _band(bar, scale, bottom)


def _backed(
    text: str, at: tuple[float, float], size: float, colour: str, *, bold: bool = False
) -> Iterator[Shape]:
    """Write over a strip of paper, so that no grid line runs through the words."""
    width = len(text) * size * 0.5
    x, y = at
    strip = ((x, y - 3), (x, y + size), (x + width, y + size), (x + width, y - 3))
    yield Polygon(strip, Paint(fill="#ffffff"))
    yield Words(at, text, size, colour, bold=bold)


def _band(bar: RangeBar, scale: Scale, bottom: float) -> Iterator[Shape]:
    low, high = scale.at(bar.low_km), scale.at(bar.high_km)
    first, last = scale.at(bar.mid_low_km), scale.at(bar.mid_high_km)
    edge = Paint(fill=BAND, stroke=BAND_EDGE, stroke_width=1.0)
    yield Polygon(_slab(low, high, bottom, bottom + BAR_PT), edge)
    if last - first > 2.0:
        yield Polygon(_slab(first, last, bottom, bottom + BAR_PT), Paint(fill=BAND_EDGE))
    for x in (first, last):
        mark = ((x, bottom - 2), (x, bottom + BAR_PT + 2))
        yield Polyline(mark, Paint(stroke=MIDDLE, stroke_width=2.6))
    text = f"likely {from_to(bar.mid_low_km, bar.mid_high_km, 'km')}"
    half = 0.29 * SIZE_PT * len(text)
    middle = min(max((first + last) / 2, half), scale.right - half)
    yield Polygon(
        _slab(middle - half, middle + half, bottom - 15, bottom - 3), Paint(fill="#ffffff")
    )
    yield Words((middle, bottom - 13), text, SIZE_PT - 0.5, INK, "middle")


def _grid(scale: Scale, top: float) -> Iterator[Shape]:
    for tick in scale.ticks():
        x = scale.at(tick)
        yield Polyline(((x, 17.0), (x, top)), Paint(stroke=GRID, stroke_width=1.0))
    for number, tick in enumerate(scale.ticks()):
        is_last = number == len(scale.ticks()) - 1
        text = f"{tick:,.0f} km" if is_last else f"{tick:,.0f}"
        anchor: Literal["start", "middle", "end"] = (
            "start" if number == 0 else "end" if is_last else "middle"
        )
        x = 0.0 if number == 0 else scale.at(tick) + (14.0 if is_last else 0.0)
        yield Words((x, 4.0), text, SIZE_PT - 0.5, QUIET_INK, anchor)


def _slab(left: float, right: float, bottom: float, top: float) -> Points:
    return ((left, bottom), (left, top), (right, top), (right, bottom))


def _in_words(bar: RangeBar) -> str:
    likely = from_to(bar.mid_low_km, bar.mid_high_km, "km")
    return f"{bar.label}: {from_to(bar.low_km, bar.high_km, 'km')}, likely {likely}."
