"""Where the dangerous and the useful parts are: two views with symbols and numbered callouts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from configurator.catalog.models.vehicle import Emblem, Vehicle
from configurator.drawings.colour import INK
from configurator.drawings.emblem import WORDS, emblem_shapes
from configurator.drawings.line_view import side_lines, top_lines
from configurator.drawings.shapes import (
    Box,
    Circle,
    Drawing,
    Paint,
    Point,
    Polyline,
    Shape,
    Words,
    bounds_of_all,
    grown,
)
from configurator.drawings.spread import pushed_apart, spread_along
from configurator.drawings.text_lines import lines_within

SYMBOL_M = 0.27
CALLOUT_RADIUS_M = 0.125
CALLOUT_GAP_M = 0.3
CALLOUT_DISTANCE_M = 0.34


@dataclass(frozen=True, slots=True)
class EmblemAt:
    """A symbol at a place: x behind the front axle, y to the right, z above the ground [m]."""

    emblem: Emblem
    label: str
    x_m: float
    y_m: float
    z_m: float


@dataclass(frozen=True, slots=True)
class LegendRow:
    """What a number in the views stands for."""

    number: int
    emblem: Emblem
    word: str
    label: str


def emergency_views(vehicle: Vehicle, items: Sequence[EmblemAt]) -> tuple[Drawing, Drawing]:
    """Draw the vehicle from the side and from above with numbered symbols.

    Parameters
    ----------
    vehicle : Vehicle
        With its outline [m].
    items : sequence of EmblemAt
        In the order they are numbered, from 1; the same numbers in both views.

    Returns
    -------
    tuple of Drawing
        The side view and the top view, in metres. A symbol that would cover another is moved
        a little and tied to its place by a dot.
    """
    side_places = tuple((item.x_m, item.z_m) for item in items)
    top_places = tuple((item.x_m, item.y_m) for item in items)
    words = " ".join(f"{row.number}: {row.word}, {row.label}." for row in legend_of(items))
    return (
        _view(
            f"{vehicle.label} from its left side", words, side_lines(vehicle), items, side_places
        ),
        _view(
            f"{vehicle.label} from above, right side up",
            words,
            top_lines(vehicle),
            items,
            top_places,
        ),
    )


def legend_of(items: Sequence[EmblemAt]) -> tuple[LegendRow, ...]:
    """List what the numbers stand for.

    Examples
    --------
    >>> legend_of([EmblemAt("motor", "Under the load floor", 2.2, 0.0, 0.5)])[0].word
    'Motor and inverter'
    """
    return tuple(
        LegendRow(number, item.emblem, WORDS[item.emblem], item.label)
        for number, item in enumerate(items, start=1)
    )


def emergency_legend(items: Sequence[EmblemAt], *, width_pt: float = 360.0) -> Drawing:
    """Draw the legend of the views: number, symbol, word, and where it is [pt]."""
    shapes: list[Shape] = []
    low = 0.0
    for row in legend_of(items):
        lines = lines_within(row.label, 11.0, width_pt - 62)
        middle = low - 15
        shapes.extend(_number_disc((12.0, middle), 9.5, row.number))
        shapes.extend(emblem_shapes(row.emblem, (39.0, middle), 22.0))
        shapes.append(Words((58.0, low - 12), row.word, 11.5, INK, bold=True))
        shapes.extend(
            Words((58.0, low - 25 - 13 * number), line, 11.0, INK)
            for number, line in enumerate(lines)
        )
        low -= 22 + 13 * len(lines)
    return Drawing(
        title="What the numbers stand for",
        description=" ".join(f"{row.number}: {row.word}." for row in legend_of(items)),
        unit="pt",
        box=Box(0.0, min(low, -1.0), width_pt, 0.0),
        shapes=tuple(shapes),
    )


def _view(
    title: str,
    words: str,
    lines: tuple[Shape, ...],
    items: Sequence[EmblemAt],
    places: Sequence[Point],
) -> Drawing:
    frame = bounds_of_all(lines)
    shown = pushed_apart(places, SYMBOL_M * 1.05)
    shapes = (
        *lines,
        *_front_arrow(frame, callout_places(frame, shown)),
        *_leaders(frame, shown),
        *(shape for pair in zip(places, shown, strict=True) for shape in _tie(*pair)),
        *(
            shape
            for item, place in zip(items, shown, strict=True)
            for shape in emblem_shapes(item.emblem, place, SYMBOL_M)
        ),
        *_callouts(frame, shown),
    )
    return Drawing(title, words, "m", grown(bounds_of_all(shapes), 0.04), shapes)


def callout_places(frame: Box, shown: Sequence[Point]) -> tuple[Point, ...]:
    """Place each number in the row above or below the vehicle.

    It is the nearer row, unless another symbol stands in the way there and none the other way.
    Numbers in one row never overlap; both rows keep the order of the symbols from left to right,
    so that the lines to them do not cross.
    """
    upper = [_goes_up(frame, shown, number) for number in range(len(shown))]
    found: dict[int, Point] = {}
    rows = (
        ([n for n, up in enumerate(upper) if up], frame.top + CALLOUT_DISTANCE_M),
        ([n for n, up in enumerate(upper) if not up], frame.bottom - CALLOUT_DISTANCE_M),
    )
    for numbers, height in rows:
        spread = spread_along([shown[number][0] for number in numbers], CALLOUT_GAP_M)
        found.update({number: (x, height) for number, x in zip(numbers, spread, strict=True)})
    return tuple(found[number] for number in range(len(shown)))


def _goes_up(frame: Box, shown: Sequence[Point], number: int) -> bool:
    x, y = shown[number]
    column = [oy for n, (ox, oy) in enumerate(shown) if n != number and abs(ox - x) < SYMBOL_M]
    above, below = any(oy > y for oy in column), any(oy < y for oy in column)
    if above != below:
        return below
    return y >= (frame.bottom + frame.top) / 2


def _leaders(frame: Box, shown: Sequence[Point]) -> Iterator[Shape]:
    for start, end in zip(callout_places(frame, shown), shown, strict=True):
        yield Polyline((start, end), Paint(stroke="#ffffff", stroke_width=0.045))
        yield Polyline((start, end), Paint(stroke=INK, stroke_width=0.018))


def _callouts(frame: Box, shown: Sequence[Point]) -> Iterator[Shape]:
    for number, centre in enumerate(callout_places(frame, shown), start=1):
        yield from _number_disc(centre, CALLOUT_RADIUS_M, number)


def _number_disc(centre: Point, radius: float, number: int) -> Iterator[Shape]:
    yield Circle(centre, radius, Paint(fill="#ffffff", stroke=INK, stroke_width=0.14 * radius))
    size = (1.3 if number < 10 else 1.08) * radius
    yield Words((centre[0], centre[1] - 0.36 * size), str(number), size, INK, "middle", bold=True)


def _tie(place: Point, shown: Point) -> Iterator[Shape]:
    """Tie a moved symbol to its true place."""
    if abs(place[0] - shown[0]) + abs(place[1] - shown[1]) > 0.02:
        yield Polyline((place, shown), Paint(stroke=INK, stroke_width=0.018))
        yield Circle(place, 0.035, Paint(fill=INK))


def _front_arrow(frame: Box, callouts: Sequence[Point]) -> Iterator[Shape]:
    y = min((frame.bottom, *(height for _, height in callouts))) - 0.3
    pen = Paint(stroke=INK, stroke_width=0.025)
    left = frame.left + 0.1
    yield Polyline(((left + 0.5, y), (left, y)), pen)
    yield Polyline(((left + 0.12, y + 0.08), (left, y), (left + 0.12, y - 0.08)), pen)
    yield Words((left + 0.58, y - 0.055), "front", 0.17, INK)
