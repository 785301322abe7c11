"""Price against range of the builds that no other beats in both, as a chart."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, TypeAlias

from configurator.drawings.clear_place import clearest
from configurator.drawings.colour import INK, PAPER, QUIET_INK
from configurator.drawings.scale import Scale, scale_between
from configurator.drawings.shapes import (
    Box,
    Circle,
    Drawing,
    Paint,
    Point,
    Polygon,
    Polyline,
    Shape,
    Words,
    bounds,
    bounds_of_all,
    box_around,
)

SIZE_PT = 12.0
HEIGHT_PT = 330.0
LEFT_PT, RIGHT_PT, BOTTOM_PT, TOP_PT = 58.0, 18.0, 50.0, 30.0
DOT_PT = 5.5
NUMBER_HALF_PT = 5.0
NEAREST_PT = 14.0
"""From the middle of a dot to the middle of its number."""
RINGS = 6
ROUND_DEGREES = (135, 90, 180, 112, 158, -45, 0, 45, -90, -135)
BUILD = "#1f6f6b"
CHOSEN = "#8a451d"
WISHED = "#e7efe9"
WISH_LINE = "#23513a"
GRID = "#dfe2e0"
NEAR_SHARE = 0.05
NOW = "as chosen now"
WISH_EDGE = Paint(stroke=WISH_LINE, stroke_width=1.6, dash=(6.0, 5.0))
SIDES: tuple[tuple[float, Literal["start", "end"]], ...] = ((6.0, "start"), (-6.0, "end"))


_Mark: TypeAlias = tuple[Polyline, tuple[Words, ...]]
"""The line of a target, and where its words could stand."""


@dataclass(frozen=True, slots=True)
class PricedRange:
    """A build on the chart."""

    name: str
    """Short; it stands beside the dot and names the build in the list beside the chart."""
    price_gbp: float
    range_km: float
    is_chosen: bool = False


@dataclass(frozen=True, slots=True)
class Wanted:
    """The targets to mark; None for what nobody asked for."""

    most_gbp: float | None = None
    least_km: float | None = None


@dataclass(frozen=True, slots=True)
class _Plot:
    across: Scale
    up: Scale

    def at(self, price_gbp: float, range_km: float) -> Point:
        return self.across.at(price_gbp), self.up.at(range_km)


def price_range_front(
    builds: Sequence[PricedRange],
    wanted: Wanted | None = None,
    *,
    case_label: str,
    width_pt: float = 560.0,
) -> Drawing:
    """Draw builds by price and range, joined by the step line of what a price can buy.

    Parameters
    ----------
    builds : sequence of PricedRange
        Cheapest first; each goes further than the one before.
    wanted : Wanted, optional
        The customer's targets; the area that meets them is tinted, edged and named.
    case_label : str
        The driving case of the range.
    width_pt : float
        Width of the picture [pt]; at least 400.

    Returns
    -------
    Drawing
        In points; every build is told in the description, too.
    """
    targets = wanted or Wanted()
    plot = _plot(builds, targets, width_pt)
    steps, dots = tuple(_steps(plot, builds)), tuple(_dots(plot, builds))
    numbers = tuple(_numbers(plot, builds, [*_legs(steps), *map(bounds, dots)]))
    chosen = tuple(_chosen(plot, builds, (*dots, *numbers)))
    shapes = (
        *_area(plot, targets),
        *_axes(plot, case_label),
        *_wishes(plot, targets, [bounds(shape) for shape in (*dots, *numbers, *chosen)]),
        *steps,
        *(shape for shape in numbers if isinstance(shape, Polyline)),
        *dots,
        *(shape for shape in numbers if not isinstance(shape, Polyline)),
        *chosen,
    )
    paper = Box(0.0, 0.0, width_pt, HEIGHT_PT)
    return Drawing(
        title="Price against range",
        description=_in_words(builds, case_label),
        unit="pt",
        box=box_around([paper, bounds_of_all(shapes)]),
        shapes=shapes,
    )


def _plot(builds: Sequence[PricedRange], wanted: Wanted, width_pt: float) -> _Plot:
    prices = _with_target([build.price_gbp for build in builds], wanted.most_gbp)
    ranges = _with_target([build.range_km for build in builds], wanted.least_km)
    return _Plot(
        scale_between(min(prices), max(prices), LEFT_PT, width_pt - RIGHT_PT),
        scale_between(min(ranges), max(ranges), BOTTOM_PT, HEIGHT_PT - TOP_PT),
    )


def _with_target(values: Sequence[float], target: float | None) -> list[float]:
    """Add a target, unless it lies so far off that the builds could not be told apart."""
    if not values:
        return [target or 0.0, (target or 0.0) + 1.0]
    reach = max(max(values) - min(values), NEAR_SHARE * max(values))
    is_near = target is not None and min(values) - reach <= target <= max(values) + reach
    return [*values, target] if is_near and target is not None else list(values)


def _area(plot: _Plot, wanted: Wanted) -> Iterator[Shape]:
    if wanted.most_gbp is None and wanted.least_km is None:
        return
    right = plot.across.right if wanted.most_gbp is None else plot.across.at(wanted.most_gbp)
    bottom = plot.up.left if wanted.least_km is None else plot.up.at(wanted.least_km)
    left, top = plot.across.left, plot.up.right
    corners = ((left, bottom), (left, top), (right, top), (right, bottom))
    yield Polygon(corners, Paint(fill=WISHED))


def _axes(plot: _Plot, case_label: str) -> Iterator[Shape]:
    left, right = plot.across.left, plot.across.right
    bottom, top = plot.up.left, plot.up.right
    for range_km in plot.up.ticks():
        y = plot.up.at(range_km)
        yield Polyline(((left, y), (right, y)), Paint(stroke=GRID, stroke_width=1.0))
        yield Words((left - 7, y - 4), f"{range_km:,.0f}", SIZE_PT, QUIET_INK, "end")
    for price_gbp in plot.across.ticks():
        x = plot.across.at(price_gbp)
        yield Polyline(((x, bottom), (x, bottom - 5)), Paint(stroke=QUIET_INK, stroke_width=1.0))
        yield Words((x, bottom - 19), f"£{price_gbp:,.0f}", SIZE_PT, QUIET_INK, "middle")
    yield Polyline(((left, bottom), (right, bottom)), Paint(stroke=QUIET_INK, stroke_width=1.2))
    yield Words((0.0, top + 15), f"Range [km], {case_label}, low edge", SIZE_PT, INK, bold=True)
    yield Words((right, 6.0), "Price with VAT", SIZE_PT, INK, "end", bold=True)


def _wishes(plot: _Plot, wanted: Wanted, taken: Sequence[Box]) -> Iterator[Shape]:
    marks = [
        *([_range_mark(plot, wanted.least_km)] if wanted.least_km is not None else []),
        *([_price_mark(plot, wanted.most_gbp)] if wanted.most_gbp is not None else []),
    ]
    yield from (line for line, _ in marks)
    within = Box(plot.across.left, plot.up.left, plot.across.right, plot.up.right)
    covered = [*taken, *(bounds(line) for line, _ in marks)]
    for _, places in marks:
        yield clearest(places, within, covered)


def _range_mark(plot: _Plot, least_km: float) -> _Mark:
    left, right, y = plot.across.left, plot.across.right, plot.up.at(least_km)
    # To the last digit: a rounded target would be another wish.
    written = f"{least_km:,.3f}".rstrip("0").rstrip(".")
    words = f"at least {written} km{_aside(plot.up, least_km)}"
    places = (
        Words((right, y + 6), words, SIZE_PT, WISH_LINE, "end"),
        Words((left + 6, y + 6), words, SIZE_PT, WISH_LINE),
        Words((right, y - 16), words, SIZE_PT, WISH_LINE, "end"),
    )
    return Polyline(((left, y), (right, y)), WISH_EDGE), places


def _aside(scale: Scale, target: float) -> str:
    return "" if scale.first <= target <= scale.last else ", off the chart"


def _price_mark(plot: _Plot, most_gbp: float) -> _Mark:
    bottom, top, x = plot.up.left, plot.up.right, plot.across.at(most_gbp)
    written = f"{most_gbp:,.2f}".removesuffix(".00")
    words = f"at most £{written}{_aside(plot.across, most_gbp)}"
    places = tuple(
        Words((x + aside, y), words, SIZE_PT, WISH_LINE, anchor)
        for y in (bottom + 8, top - 14)
        for aside, anchor in SIDES
    )
    return Polyline(((x, bottom), (x, top)), WISH_EDGE), places


def _steps(plot: _Plot, builds: Sequence[PricedRange]) -> Iterator[Polyline]:
    places = [plot.at(build.price_gbp, build.range_km) for build in builds]
    corners: list[Point] = places[:1]
    for (_, below), (x, y) in pairwise(places):
        corners += [(x, below), (x, y)]
    if len(corners) > 1:
        yield Polyline(tuple(corners), Paint(stroke=BUILD, stroke_width=1.6))


def _legs(steps: Sequence[Polyline]) -> Iterator[Box]:
    """Take a step line apart, since the box around it all is mostly empty."""
    for line in steps:
        for (x, y), (next_x, next_y) in pairwise(line.points):
            yield Box(min(x, next_x), min(y, next_y), max(x, next_x), max(y, next_y))


def _dots(plot: _Plot, builds: Sequence[PricedRange]) -> Iterator[Circle]:
    """Put each build where its values are, however near another one is."""
    for build in builds:
        paint = Paint(CHOSEN if build.is_chosen else BUILD, PAPER, 1.0)
        yield Circle(plot.at(build.price_gbp, build.range_km), DOT_PT, paint)


def _numbers(
    plot: _Plot, builds: Sequence[PricedRange], covered: Sequence[Box]
) -> Iterator[Words | Polyline]:
    """Write each build's number in the clear nearest its dot, tied to it where that is far."""
    within = Box(plot.across.left, plot.up.left, plot.across.right, plot.up.right)
    taken = list(covered)
    for build in builds:
        dot = plot.at(build.price_gbp, build.range_km)
        words = clearest(tuple(_places_about(dot, build)), within, taken)
        taken.append(bounds(words))
        middle = (words.at[0], words.at[1] + 4)
        if math.dist(dot, middle) > NEAREST_PT + 1:
            short = 1 - NUMBER_HALF_PT / math.dist(dot, middle)
            end = tuple(d + (m - d) * short for d, m in zip(dot, middle, strict=True))
            yield Polyline((dot, (end[0], end[1])), Paint(stroke=QUIET_INK, stroke_width=0.8))
        yield words


def _places_about(dot: Point, build: PricedRange) -> Iterator[Words]:
    """Go round the dot and outward; up and to the left nothing else is, since no build is there."""
    colour = CHOSEN if build.is_chosen else BUILD
    for ring in range(RINGS):
        for degrees in ROUND_DEGREES:
            reach, angle = NEAREST_PT + ring * SIZE_PT, math.radians(degrees)
            at = (dot[0] + reach * math.cos(angle), dot[1] + reach * math.sin(angle) - 4)
            yield Words(at, build.name, SIZE_PT, colour, "middle", bold=True)


def _chosen(plot: _Plot, builds: Sequence[PricedRange], drawn: Sequence[Shape]) -> Iterator[Shape]:
    within = Box(plot.across.left, plot.up.left, plot.across.right, plot.up.right)
    covered = [bounds(shape) for shape in drawn if not isinstance(shape, Polyline)]
    for build in builds:
        if build.is_chosen:
            x, y = plot.at(build.price_gbp, build.range_km)
            yield Circle((x, y), DOT_PT + 3, Paint(None, CHOSEN, 2.0))
            places = (
                Words((x, y + DOT_PT + 15), NOW, SIZE_PT, CHOSEN, "middle", bold=True),
                Words((x + DOT_PT + 8, y - 14), NOW, SIZE_PT, CHOSEN, bold=True),
                Words((x - DOT_PT - 8, y), NOW, SIZE_PT, CHOSEN, "end", bold=True),
                Words((x, y - DOT_PT - 17), NOW, SIZE_PT, CHOSEN, "middle", bold=True),
            )
            yield clearest(places, within, covered)


def _in_words(builds: Sequence[PricedRange], case_label: str) -> str:
    told = ", ".join(
        f"{build.name}: £{math.ceil(build.price_gbp):,} and {math.floor(build.range_km):,} km"
        + (f" ({NOW})" if build.is_chosen else "")
        for build in builds
    )
    return f"{case_label}, low edge of the range. {told or 'No build'}."
