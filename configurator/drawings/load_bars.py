"""Axle loads against their limits, kerb and laden, as bars."""

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
from configurator.drawings.text_lines import from_to, lines_within

SIZE_PT = 11.5
LABEL_WIDTH_PT = 44.0
VALUE_WIDTH_PT = 106.0
BAR_PT = 15.0
AXLE_PT = 86.0
KERB = "#5b7488"
LADEN = "#1f6f6b"
OVER = "#a8261d"
TRACK = "#eceeec"


@dataclass(frozen=True, slots=True)
class AxleBar:
    """One axle's loads and limit [kg], each as a from–to that may be a single value."""

    label: str
    kerb_low_kg: float
    kerb_high_kg: float
    laden_low_kg: float
    laden_high_kg: float
    limit_low_kg: float
    limit_high_kg: float
    limited_by: str = ""
    """What sets the limit, such as "tyre"; may be empty."""
    kerb_is: str = ""
    """How the kerb load is known, such as "weighed"; may be empty."""


@dataclass(frozen=True, slots=True)
class _Load:
    word: str
    low_kg: float
    high_kg: float
    colour: str
    known: str = ""


def load_bars(axles: Sequence[AxleBar], *, width_pt: float = 360.0) -> Drawing:
    """Draw each axle's kerb and laden load as bars with the limit marked.

    Parameters
    ----------
    axles : sequence of AxleBar
        Front axle first.
    width_pt : float
        Width of the picture [pt]; at least 300.

    Returns
    -------
    Drawing
        In points. What is open is hatched; what is above the limit is red and says so in words.
    """
    right = width_pt - VALUE_WIDTH_PT
    greatest = max(
        (max(a.laden_high_kg, a.kerb_high_kg, a.limit_high_kg) for a in axles), default=1
    )
    scale = Scale(LABEL_WIDTH_PT, right, max(greatest, 1.0) * 1.06, max(greatest, 1.0))
    top = AXLE_PT * len(axles)
    shapes = tuple(
        shape
        for number, axle in enumerate(axles)
        for shape in _axle(axle, scale, top - AXLE_PT * number, width_pt)
    )
    return Drawing(
        title="Axle loads against their limits",
        description=" ".join(_in_words(axle) for axle in axles),
        unit="pt",
        box=Box(0.0, 0.0, width_pt, max(top, 1.0)),
        shapes=shapes,
    )


def margin_in_words(axle: AxleBar) -> str:
    """Say how the laden axle stands to its limit.

    Examples
    --------
    >>> margin_in_words(AxleBar("Rear", 600, 600, 860, 880, 900, 900))
    '20 kg to spare'
    >>> margin_in_words(AxleBar("Rear", 600, 600, 910, 950, 900, 900))
    'over its limit by 10 kg or more'
    >>> margin_in_words(AxleBar("Rear", 600, 600, 880, 910, 900, 900))
    'depends on what is open'
    """
    least_spare = axle.limit_low_kg - axle.laden_high_kg
    most_spare = axle.limit_high_kg - axle.laden_low_kg
    if least_spare >= 0:
        return f"{math.floor(least_spare):,} kg to spare"
    if most_spare < 0:
        more = "" if least_spare == most_spare else " or more"
        return f"over its limit by {math.ceil(-most_spare):,} kg{more}"
    return "depends on what is open"


def _axle(axle: AxleBar, scale: Scale, top: float, width_pt: float) -> Iterator[Shape]:
    is_over = axle.laden_low_kg > axle.limit_high_kg
    margin = margin_in_words(axle)
    room = width_pt - 0.6 * SIZE_PT * len(margin) - 12
    label = lines_within(axle.label, SIZE_PT + 1, room, bold=True)[0]
    yield Words((0.0, top - 14), label, SIZE_PT + 1, INK, bold=True)
    colour = OVER if is_over else INK
    yield Words((width_pt, top - 14), margin, SIZE_PT, colour, "end", bold=is_over)
    loads = (
        _Load("kerb", axle.kerb_low_kg, axle.kerb_high_kg, KERB, axle.kerb_is),
        _Load("laden", axle.laden_low_kg, axle.laden_high_kg, LADEN),
    )
    for row, load in enumerate(loads):
        bottom = top - 52 - row * (BAR_PT + 5)
        yield Words((0.0, bottom + 3.5), load.word, SIZE_PT, INK)
        yield from _bar(load, axle.limit_low_kg, scale, bottom)
        written = _written(load)
        yield Words((width_pt, bottom + 3.5), written, SIZE_PT, INK, "end")
    yield from _limit(axle, scale, top)


def _written(load: _Load) -> str:
    figure = from_to(load.low_kg, load.high_kg, "kg")
    return f"{figure}, {load.known}" if load.known else figure


def _bar(load: _Load, limit: float, scale: Scale, bottom: float) -> Iterator[Shape]:
    low, high, colour = load.low_kg, load.high_kg, load.colour
    yield Polygon(_slab(scale.left, scale.right, bottom), Paint(fill=TRACK))
    safe = min(low, limit)
    yield Polygon(_slab(scale.left, scale.at(safe), bottom), Paint(fill=colour))
    if low > limit:
        over = _slab(scale.at(limit), scale.at(low), bottom)
        yield Polygon(over, Paint(fill=OVER))
        yield from hatch(over, 7.0, Paint(stroke="#ffffff", stroke_width=1.2))
    if scale.at(high) - scale.at(low) > 0.5:
        unsure = _slab(scale.at(low), scale.at(high), bottom)
        ink = OVER if high > limit else colour
        yield Polygon(unsure, Paint(fill="#ffffff"))
        yield from hatch(unsure, 5.0, Paint(stroke=ink, stroke_width=1.4))
        yield Polygon(unsure, Paint(stroke=ink, stroke_width=1.0))


def _limit(axle: AxleBar, scale: Scale, top: float) -> Iterator[Shape]:
    low, high = scale.at(axle.limit_low_kg), scale.at(axle.limit_high_kg)
    upper, lower = top - 33, top - 52 - BAR_PT - 9
    for x in sorted({low, high}):
        yield Polyline(((x, upper), (x, lower)), Paint(stroke="#ffffff", stroke_width=4.0))
        yield Polyline(((x, upper), (x, lower)), Paint(stroke=INK, stroke_width=2.0))
    by = f" ({axle.limited_by})" if axle.limited_by else ""
    text = f"limit {from_to(axle.limit_low_kg, axle.limit_high_kg, 'kg')}{by}"
    size = SIZE_PT - 0.5
    end = max(words_width(text, size), min(high + 3, scale.right + 40))
    yield Words((end, top - 29), text, size, QUIET_INK, "end")


def _slab(left: float, right: float, bottom: float) -> Points:
    return ((left, bottom), (left, bottom + BAR_PT), (right, bottom + BAR_PT), (right, bottom))


def _in_words(axle: AxleBar) -> str:
    known = f" ({axle.kerb_is})" if axle.kerb_is else ""
    return (
        f"{axle.label}: kerb {from_to(axle.kerb_low_kg, axle.kerb_high_kg, 'kg')}{known}, laden "
        f"{from_to(axle.laden_low_kg, axle.laden_high_kg, 'kg')}, limit "
        f"{from_to(axle.limit_low_kg, axle.limit_high_kg, 'kg')}; {margin_in_words(axle)}."
    )
