"""What is carried outside: roof rack, tow ball, spare wheel, awning, load cover."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from configurator.catalog.models.vehicle import Outline
from configurator.drawings.clip import level_crossings
from configurator.drawings.look import Extra, VehicleLook
from configurator.drawings.shapes import Circle, Paint, Polygon, Polyline, Shape
from configurator.drawings.side.roof import CANVAS, CANVAS_SEAM
from configurator.drawings.side.silhouette import Silhouette
from configurator.drawings.smooth import smooth_curve

TUBE = "#3c4347"
Drawn = Callable[[Outline, Silhouette], Iterator[Shape]]


def extras(outline: Outline, form: Silhouette, look: VehicleLook) -> tuple[Shape, ...]:
    """Draw the chosen extras, always in the same order."""
    drawn: dict[Extra, Drawn] = {
        "spare-wheel": _spare_wheel,
        "tow-ball": _tow_ball,
        "load-cover": _load_cover,
        "awning": _awning,
        "roof-rack": _roof_rack,
    }
    return tuple(
        shape
        for extra, draw in drawn.items()
        if extra in look.extras
        for shape in draw(outline, form)
    )


def _roof_rack(_: Outline, form: Silhouette) -> Iterator[Shape]:
    start, end = form.roof_span
    left, right = start + 0.14 * (end - start), start + 0.86 * (end - start)
    deck = form.crown_z + 0.07
    tube, thin = (Paint(stroke=TUBE, stroke_width=width) for width in (0.03, 0.02))
    for step in range(6):
        x = left + (right - left) * step / 5
        yield Polyline(((x, form.crown_at(x)), (x, deck + 0.12)), thin)
    yield Polyline(((left, deck), (right, deck)), tube)
    yield Polyline(((left - 0.05, deck + 0.12), (right + 0.05, deck + 0.12)), tube)


def _tow_ball(_: Outline, form: Silhouette) -> Iterator[Shape]:
    height = max(0.36, form.sill_z + 0.06)
    levels = (height, height + 0.15)
    rear = max((x for z in levels for x in level_crossings(form.body, z)), default=form.rear_x)
    neck = ((rear - 0.25, height - 0.03), (rear + 0.1, height - 0.03), (rear + 0.14, height + 0.05))
    yield Polyline(neck, Paint(stroke=TUBE, stroke_width=0.05))
    yield Circle(
        (rear + 0.14, height + 0.08), 0.045, Paint(fill="#aeb6b9", stroke=TUBE, stroke_width=0.012)
    )


def _spare_wheel(_: Outline, form: Silhouette) -> Iterator[Shape]:
    """Draw the spare upright on the rear, seen on its edge."""
    tail_z = form.crown_at(form.rear_x - 0.2)
    centre = max(form.sill_z + 0.35, min(form.sill_z + 0.6, tail_z - 0.1))
    low, high = centre - form.wheel_radius, centre + form.wheel_radius
    levels = (low + 0.08, centre, high - 0.08)
    rear = max((x for z in levels for x in level_crossings(form.body, z)), default=form.rear_x)
    cover = (
        (rear, low),
        (rear + 0.09, low),
        (rear + 0.15, low + 0.03),
        (rear + 0.18, low + 0.1),
        (rear + 0.19, centre),
        (rear + 0.18, high - 0.1),
        (rear + 0.15, high - 0.03),
        (rear + 0.09, high),
        (rear, high),
    )
    yield smooth_curve(
        cover, Paint(fill="#2b2f32", stroke="#15181a", stroke_width=0.012), closed=True
    )
    for share in (0.3, 0.5, 0.7):
        z = low + (high - low) * share
        yield Polyline(
            ((rear + 0.05, z), (rear + 0.14, z)), Paint(stroke="#596165", stroke_width=0.012)
        )


def _awning(_: Outline, form: Silhouette) -> Iterator[Shape]:
    """Draw the awning rolled up along the edge of the roof."""
    start, end = form.roof_span
    left, right = start + 0.2 * (end - start), start + 0.86 * (end - start)
    height = min(form.crown_at(left), form.crown_at(right)) - 0.06
    line = ((left, height), (right, height))
    for width, colour in ((0.125, CANVAS_SEAM), (0.1, "#e9e3d5"), (0.02, "#b9ad93")):
        yield Polyline(line, Paint(stroke=colour, stroke_width=width))
    for x in (left + 0.12, (left + right) / 2, right - 0.12):
        yield Polyline(
            ((x, height - 0.05), (x, height + 0.05)), Paint(stroke=TUBE, stroke_width=0.022)
        )


def _load_cover(outline: Outline, _: Silhouette) -> Iterator[Shape]:
    if len(outline.load_bed) < 3:
        return
    left, right = (edge(x for x, _ in outline.load_bed) for edge in (min, max))
    top = max(z for _, z in outline.load_bed)
    sheet = (
        (left, top - 0.05),
        (left, top + 0.03),
        ((left + right) / 2, top + 0.075),
        (right, top + 0.03),
        (right, top - 0.05),
    )
    yield Polygon(sheet, Paint(fill=CANVAS, stroke=CANVAS_SEAM, stroke_width=0.016))
    eyelets = max(2, round((right - left) / 0.25))
    for number in range(1, eyelets):
        x = left + (right - left) * number / eyelets
        yield Circle((x, top - 0.018), 0.014, Paint(fill=CANVAS_SEAM))
