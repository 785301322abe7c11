"""A battery from full to what is left on return, as bars that show how sure it is."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from configurator.drawings.clip import hatch
from configurator.drawings.colour import INK, QUIET_INK
from configurator.drawings.scale import Scale
from configurator.drawings.shapes import (
    Box,
    Drawing,
    Paint,
    Points,
    Polygon,
    Polyline,
    Shape,
    Words,
    words_width,
)

SIZE_PT = 11.5
BAR_PT = 26.0
ROW_PT = 76.0
FOOT_PT = 22.0
LEFT = "#1f6f6b"
DRIVEN = "#eceeec"
SHORT = "#a8261d"


@dataclass(frozen=True, slots=True)
class BatteryBar:
    """What one battery has left on return [% of its usable energy], P10 to P90."""

    label: str
    low_percent: float
    high_percent: float
    is_enough: bool
    verdict: str
    """Such as "12 km to spare"."""


def battery_left(
    bars: Sequence[BatteryBar], reserve_percent: float, *, width_pt: float = 360.0
) -> Drawing:
    """Draw what is left in each battery at the end of a day.

    Parameters
    ----------
    bars : sequence of BatteryBar
        One for each battery.
    reserve_percent : float
        What is to be kept [%].
    width_pt : float
        Width of the picture [pt]; at least 300.

    Returns
    -------
    Drawing
        In points. Filled is what nine in ten likely have left, hatched how much more one in ten
        has, pale what is driven; a line marks the reserve.
    """
    scale = Scale(1.0, width_pt - 1.0, 100.0, 25.0)
    top = ROW_PT * len(bars) + FOOT_PT
    shapes = (
        *(
            shape
            for number, bar in enumerate(bars)
            for shape in _row(bar, scale, top - ROW_PT * number, reserve_percent)
        ),
        *_foot(scale, reserve_percent),
    )
    return Drawing(
        title="What is left in the battery on return",
        description=" ".join(_in_words(bar) for bar in bars)
        + f" The reserve to be kept is {reserve_percent:g} %.",
        unit="pt",
        box=Box(0.0, 0.0, width_pt, top),
        shapes=shapes,
    )


def whole_percent_left(percent: float) -> int:
    """Round what is left as all words say it: down, so that none promise what is not there.

    Examples
    --------
    >>> whole_percent_left(67.6), whole_percent_left(-0.2)
    (67, -1)
    """
    return math.floor(percent)


def left_in_words(low_percent: float, high_percent: float) -> str:
    """Say what is left, from the tenth to the ninetieth percentile.

    Examples
    --------
    >>> left_in_words(31.6, 48.0), left_in_words(-12.0, 8.9), left_in_words(-30.0, 0.4)
    ('31–48 % left', 'empty before the end, or up to 8 % left', 'empty before the end')
    """
    low, high = whole_percent_left(low_percent), whole_percent_left(high_percent)
    if low >= 0:
        return f"{low} % left" if low == high else f"{low}–{high} % left"
    if high > 0:
        return f"empty before the end, or up to {high} % left"
    return "empty before the end"


def _row(bar: BatteryBar, scale: Scale, top: float, reserve: float) -> Iterator[Shape]:
    yield Words((0.0, top - 14), bar.label, SIZE_PT + 1, INK, bold=True)
    colour = LEFT if bar.is_enough else SHORT
    yield Words((scale.right, top - 14), bar.verdict, SIZE_PT, colour, "end", bold=True)
    bottom = top - 24 - BAR_PT
    low, high = (min(max(p, 0.0), 100.0) for p in (bar.low_percent, bar.high_percent))
    yield Polygon(_slab(scale.left, scale.right, bottom), Paint(fill=DRIVEN))
    yield Polygon(_slab(scale.left, scale.at(low), bottom), Paint(fill=colour))
    if scale.at(high) - scale.at(low) > 0.5:
        unsure = _slab(scale.at(low), scale.at(high), bottom)
        yield Polygon(unsure, Paint(fill="#ffffff"))
        yield from hatch(unsure, 5.0, Paint(stroke=colour, stroke_width=1.4))
        yield Polygon(unsure, Paint(stroke=colour, stroke_width=1.0))
    yield Polygon(_slab(scale.left, scale.right, bottom), Paint(stroke=INK, stroke_width=1.0))
    x = scale.at(reserve)
    yield Polyline(
        ((x, bottom - 4), (x, bottom + BAR_PT + 4)), Paint(stroke="#ffffff", stroke_width=4.0)
    )
    yield Polyline(((x, bottom - 4), (x, bottom + BAR_PT + 4)), Paint(stroke=INK, stroke_width=2.0))
    said = left_in_words(bar.low_percent, bar.high_percent)
    yield Words((0.0, bottom - 16), said, SIZE_PT, INK)


def _foot(scale: Scale, reserve: float) -> Iterator[Shape]:
    size = SIZE_PT - 0.5
    reserve_words = f"line: reserve {reserve:g} %"
    yield Words((0.0, 4.0), reserve_words, size, QUIET_INK)
    if words_width(reserve_words, size) + words_width("full", size) < scale.right:
        yield Words((scale.right, 4.0), "full", size, QUIET_INK, "end")


def _slab(left: float, right: float, bottom: float) -> Points:
    return ((left, bottom), (left, bottom + BAR_PT), (right, bottom + BAR_PT), (right, bottom))


def _in_words(bar: BatteryBar) -> str:
    said = left_in_words(bar.low_percent, bar.high_percent)
    return f"{bar.label}: {said}; {bar.verdict}."
