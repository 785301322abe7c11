"""Where the weight is: side and top view to scale with what goes out, goes in and is carried.

A disc's area is its mass. What is taken out is a dashed ring, what is put in a filled disc, what is
carried a disc with stripes; so nobody needs the colours.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count
from typing import Literal, TypeAlias

from configurator.catalog.models.vehicle import Vehicle
from configurator.drawings.clip import hatch, round_area
from configurator.drawings.colour import INK
from configurator.drawings.line_view import side_lines, top_lines
from configurator.drawings.placed_components import callout_places
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
    Words,
    bounds_of_all,
    grown,
)
from configurator.drawings.spread import pushed_apart

Flow: TypeAlias = Literal["out", "in", "carried"]

FLOW_WORDS: dict[Flow, str] = {"out": "taken out", "in": "put in", "carried": "carried when laden"}

RADIUS_M_PER_ROOT_KG = 0.0165
"""A disc of 100 kg is 0.165 m in radius; its area is its mass."""

LEAST_NUMBERED_KG = 8.0
"""What is lighter is drawn without a number; the table beside the views has it."""

LEAST_APART_M = 0.09
NUMBER_M = 0.15
OUT, IN, CARRIED = "#a8261d", "#1f6f6b", "#8a5a00"
MARK_M = 0.11


@dataclass(frozen=True, slots=True)
class MassMark:
    """What goes one way at one place [kg], all together; the place in the vehicle's axes [m]."""

    flow: Flow
    what: str
    label: str
    """Of the place."""
    mass_kg: float
    x_m: float
    y_m: float
    z_m: float


@dataclass(frozen=True, slots=True)
class Centre:
    """A centre of gravity [m]."""

    x_m: float
    y_m: float
    z_m: float


def mass_views(
    vehicle: Vehicle, marks: Sequence[MassMark], donor: Centre, build: Centre
) -> tuple[Drawing, Drawing]:
    """Draw the vehicle from the side and from above with its masses.

    Parameters
    ----------
    vehicle : Vehicle
        With its outline and wheelbase [m].
    marks : sequence of MassMark
        In the order they are numbered, from 1; the same numbers in both views.
    donor, build : Centre
        Centres of gravity of the empty donor and of the empty build.

    Returns
    -------
    tuple of Drawing
        The side view and the top view, in metres, with a scale bar; the build's centre of gravity
        is a quartered disc, the donor's an open one with a dashed edge.
    """
    words = " ".join(
        f"{number or 'Not numbered'}: {mark.what}, {mark.mass_kg:,.0f} kg {FLOW_WORDS[mark.flow]}."
        for number, mark in zip(numbers_of(marks), marks, strict=True)
    )
    name = vehicle.label
    side = _View(f"{name} from its left side, with the masses", words, "z_m", side_lines(vehicle))
    above = f"{name} from above, right side up, with the masses"
    top = _View(above, words, "y_m", top_lines(vehicle))
    drawn = [_drawn(view, marks, (donor, build), vehicle.wheelbase_m) for view in (side, top)]
    # As wide as each other, so that both have one scale.
    left = min(drawing.box.left for drawing in drawn)
    right = max(drawing.box.right for drawing in drawn)
    first, second = (
        replace(drawing, box=Box(left, drawing.box.bottom, right, drawing.box.top))
        for drawing in drawn
    )
    return first, second


def numbers_of(marks: Sequence[MassMark]) -> tuple[int | None, ...]:
    """Count the masses that are worth a number, in order; None for what is lighter.

    Examples
    --------
    >>> heavy = MassMark("in", "Motor", "Rear", 60.0, 2.0, 0.0, 0.4)
    >>> light = MassMark("in", "Plug", "Flap", 1.0, 2.8, 0.8, 0.9)
    >>> numbers_of([heavy, light, heavy])
    (1, None, 2)
    """
    found = count(1)
    return tuple(next(found) if m.mass_kg >= LEAST_NUMBERED_KG else None for m in marks)


def mass_key(*, width_pt: float = 420.0) -> Drawing:
    """Draw what the discs and marks mean [pt], at about half the views' scale of a page."""
    rows: tuple[tuple[Flow, str], ...] = (
        ("in", "put in, a disc filled"),
        ("out", "taken out, a dashed ring"),
        ("carried", "carried when laden, striped"),
    )
    shapes: list[Shape] = []
    half = width_pt / 2
    for number, (flow, text) in enumerate(rows):
        y = -14.0 - 22 * number
        shapes += _disc(flow, (12.0, y), 8.0, 1.2)
        shapes.append(Words((28.0, y - 4), text, 11.0, INK))
    for number, (is_build, text) in enumerate(
        ((True, "centre of gravity, empty build"), (False, "centre of gravity, empty donor"))
    ):
        y = -14.0 - 22 * number
        shapes += _centre_mark((half + 12.0, y), 8.0, 1.4, is_build=is_build)
        shapes.append(Words((half + 28.0, y - 4), text, 11.0, INK))
    shapes.append(Words((half + 4.0, -62.0), "The area of a disc is its mass.", 11.0, INK))
    return Drawing(
        title="What the discs mean",
        description="Filled: put in. Dashed: taken out. Striped: carried. Area is mass.",
        unit="pt",
        box=Box(0.0, -72.0, width_pt, 0.0),
        shapes=tuple(shapes),
    )


def disc_radius_m(mass_kg: float) -> float:
    """Find the radius of a disc whose area is a mass.

    Examples
    --------
    >>> round(disc_radius_m(400.0) / disc_radius_m(100.0), 6)
    2.0
    """
    return RADIUS_M_PER_ROOT_KG * math.sqrt(mass_kg)


@dataclass(frozen=True, slots=True)
class _View:
    """One view of the vehicle: its words, its lines, and which way is up in it."""

    title: str
    words: str
    upward: Literal["y_m", "z_m"]
    lines: tuple[Shape, ...]

    def at(self, thing: MassMark | Centre) -> Point:
        return thing.x_m, (thing.y_m if self.upward == "y_m" else thing.z_m)


def _drawn(
    view: _View, marks: Sequence[MassMark], centres: tuple[Centre, Centre], wheelbase_m: float
) -> Drawing:
    frame = bounds_of_all(view.lines)
    shown = pushed_apart([view.at(mark) for mark in marks], LEAST_APART_M)
    told = [(n, at) for n, at in zip(numbers_of(marks), shown, strict=True) if n is not None]
    labels = callout_places(frame, [at for _, at in told])
    # Large discs first, so that the small ones lie upon them.
    order = sorted(range(len(marks)), key=lambda place: -marks[place].mass_kg)
    shapes: list[Shape] = list(view.lines)
    for place in order:
        radius = disc_radius_m(marks[place].mass_kg)
        shapes += _disc(marks[place].flow, shown[place], radius, 0.018)
    for (number, at), label_at in zip(told, labels, strict=True):
        shapes += _callout(number, label_at, at)
    shapes += _centre_mark(view.at(centres[0]), MARK_M, 0.022, is_build=False)
    shapes += _centre_mark(view.at(centres[1]), MARK_M, 0.022, is_build=True)
    low = min([frame.bottom, *(height for _, height in labels)])
    shapes += _measures(frame, low - 0.32, wheelbase_m)
    return Drawing(view.title, view.words, "m", grown(bounds_of_all(shapes), 0.05), tuple(shapes))


def _disc(flow: Flow, at: Point, radius: float, line: float) -> Iterator[Shape]:
    if flow == "in":
        yield Circle(at, radius, Paint(fill=IN, opacity=0.72))
        yield Circle(at, radius, Paint(stroke=INK, stroke_width=line * 0.7))
    elif flow == "out":
        dash = (line * 3.2, line * 2.4)
        yield Circle(at, radius, Paint(stroke=OUT, stroke_width=line * 1.4, dash=dash))
    else:
        area = round_area(at, radius)
        yield Polygon(area, Paint(fill="#ffffff", opacity=0.6))
        yield from hatch(
            area, max(radius / 3.2, line * 2), Paint(stroke=CARRIED, stroke_width=line)
        )
        yield Circle(at, radius, Paint(stroke=CARRIED, stroke_width=line))


def _callout(number: int, label_at: Point, at: Point) -> Iterator[Shape]:
    yield Polyline((label_at, at), Paint(stroke="#ffffff", stroke_width=0.035))
    yield Polyline((label_at, at), Paint(stroke=INK, stroke_width=0.011))
    yield Circle(at, 0.018, Paint(fill=INK))
    yield Circle(label_at, 0.115, Paint(fill="#ffffff", stroke=INK, stroke_width=0.012))
    size = NUMBER_M if number < 10 else NUMBER_M * 0.87
    baseline = (label_at[0], label_at[1] - 0.36 * size)
    yield Words(baseline, str(number), size, INK, "middle", bold=True)


def _centre_mark(at: Point, radius: float, line: float, *, is_build: bool) -> Iterator[Shape]:
    """Draw a quartered disc, as drawings mark a centre of gravity."""
    x, y = at
    yield Circle(at, radius, Paint(fill="#ffffff"))
    if is_build:
        for start in (0, 180):
            yield Polygon(_quarter(at, radius, start), Paint(fill=INK))
        yield Circle(at, radius, Paint(stroke=INK, stroke_width=line))
    else:
        dash = (line * 2.2, line * 1.8)
        pen = Paint(stroke=INK, stroke_width=line)
        yield Circle(at, radius, Paint(stroke=INK, stroke_width=line, dash=dash))
        yield Polyline(((x - radius, y), (x + radius, y)), pen)
        yield Polyline(((x, y - radius), (x, y + radius)), pen)


def _quarter(at: Point, radius: float, start_degrees: float) -> Points:
    angles = [math.radians(start_degrees + 90 * step / 12) for step in range(13)]
    arc = ((at[0] + radius * math.cos(a), at[1] + radius * math.sin(a)) for a in angles)
    return (at, *arc)


def _measures(frame: Box, y: float, wheelbase_m: float) -> Iterator[Shape]:
    """Draw the wheelbase between its arrows, then a metre with its words below."""
    pen = Paint(stroke=INK, stroke_width=0.014)
    yield Polyline(((0.0, y), (wheelbase_m, y)), pen)
    for x, inward in ((0.0, 0.1), (wheelbase_m, -0.1)):
        yield Polyline(((x + inward, y + 0.05), (x, y), (x + inward, y - 0.05)), pen)
        yield Polyline(((x, y - 0.1), (x, y + 0.1)), pen)
    middle = (wheelbase_m / 2, y - 0.21)
    yield Words(middle, f"wheelbase {wheelbase_m:.2f} m", 0.16, INK, "middle")
    below = y - 0.42
    left = frame.left + 0.05
    bar = ((left, below - 0.025), (left, below + 0.025), (left + 0.5, below + 0.025))
    yield Polygon((*bar, (left + 0.5, below - 0.025)), Paint(fill=INK))
    frame_bar = ((left, below - 0.025), (left, below + 0.025), (left + 1.0, below + 0.025))
    yield Polygon((*frame_bar, (left + 1.0, below - 0.025)), pen)
    yield Words((left + 1.1, below - 0.055), "1 m", 0.16, INK)
    arrow = ((left + 2.1, below), (left + 1.7, below))
    yield Polyline(arrow, pen)
    tip = ((left + 1.82, below + 0.06), (left + 1.7, below), (left + 1.82, below - 0.06))
    yield Polyline(tip, pen)
    yield Words((left + 2.2, below - 0.055), "front", 0.16, INK)
