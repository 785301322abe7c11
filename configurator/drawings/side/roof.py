"""The roof in its chosen shape, or dashed while it is open."""

from __future__ import annotations

from collections.abc import Iterator

from configurator.drawings.clip import area, kept_left_of
from configurator.drawings.colour import darker, lighter
from configurator.drawings.look import VehicleLook
from configurator.drawings.shapes import Paint, Point, Points, Polygon, Polyline, Shape
from configurator.drawings.side.body import OPEN_COLOUR, OPEN_LINE, paint_colour, seam_colour
from configurator.drawings.side.silhouette import Silhouette, height_on_line

CANVAS = "#cbbfa6"
CANVAS_SEAM = "#86795f"
BELLOWS = "#d8cfbd"


def roof(form: Silhouette, look: VehicleLook) -> tuple[Shape, ...]:
    """Draw the roof; the body is already there, the windows come after.

    Parameters
    ----------
    form : Silhouette
        With the roof line and the area under it.
    look : VehicleLook
        With the shape and the body colour.

    Returns
    -------
    tuple of Shape
        Painted over the body.
    """
    drawn = {
        "fixed": _fixed,
        "folding": _folding,
        "raised": _raised,
        "hardtop": _hardtop,
        None: _undecided,
    }
    return tuple(drawn[look.roof_shape](form, look))


def _fixed(form: Silhouette, look: VehicleLook) -> Iterator[Shape]:
    yield from area(form.top, Paint(fill=lighter(paint_colour(look), 0.08)))
    yield Polyline(form.roof, Paint(stroke=seam_colour(look), stroke_width=0.026))


def _folding(form: Silhouette, look: VehicleLook) -> Iterator[Shape]:
    if form.is_tall_top:
        cover, base = form.roof, form.top
    else:
        yield from _fixed(form, look)
        cover = _lifted(_part_of(form.roof, 0.14, 0.9), 0.08)
        base = (*cover, *reversed(_part_of(form.roof, 0.14, 0.9)))
    seam = Paint(stroke=CANVAS_SEAM, stroke_width=0.018)
    yield Polygon(base, Paint(fill=CANVAS, stroke=CANVAS_SEAM, stroke_width=0.018))
    yield from _ribs(cover, base, form)
    yield Polyline(cover, seam)


def _ribs(cover: Points, base: Points, form: Silhouette) -> Iterator[Shape]:
    """Draw the bows under the canvas: a fold from the roof line down, fading where glass begins."""
    depth = 0.3 * (form.crown_z - form.waist_z) if form.is_tall_top else 0.075
    low = min(z for _, z in base)
    fold = Paint(stroke=CANVAS_SEAM, stroke_width=0.012, opacity=0.8)
    for share in (0.16, 0.3, 0.44, 0.58, 0.72, 0.86):
        x, z = _at_share(cover, share)
        yield Polyline(((x, z), (x + 0.02, max(low, z - depth))), fold)


def _raised(form: Silhouette, look: VehicleLook) -> Iterator[Shape]:
    yield from _fixed(form, look)
    foot = _part_of(form.roof, 0.1, 0.92)
    shell = tuple((x, z + _lift(index, len(foot))) for index, (x, z) in enumerate(foot))
    bellows = (*foot, *reversed(shell))
    yield Polygon(bellows, Paint(fill=BELLOWS, stroke=CANVAS_SEAM, stroke_width=0.014))
    yield from _bellows_folds(foot, shell)
    upper = _lifted(shell, 0.085)
    edge = Paint(fill=paint_colour(look), stroke=seam_colour(look), stroke_width=0.018)
    yield Polygon((*shell, *reversed(upper)), edge)
    yield Polyline(_lifted(shell, 0.05), Paint(stroke="#ffffff", stroke_width=0.012, opacity=0.5))


def _lift(index: int, count: int) -> float:
    """Find how far the shell stands open [m]: hinged in front, high at the rear."""
    return 0.06 + 0.5 * index / max(1, count - 1)


def _bellows_folds(foot: Points, shell: Points) -> Iterator[Shape]:
    fold = Paint(stroke=CANVAS_SEAM, stroke_width=0.01, opacity=0.75)
    for share in (0.25, 0.5, 0.75):
        line = tuple(_towards(low, high, share) for low, high in zip(foot, shell, strict=True))
        yield Polyline(line, fold)


def _hardtop(form: Silhouette, look: VehicleLook) -> Iterator[Shape]:
    shell = form.top if form.is_tall_top else _cap(form)
    colour = paint_colour(look)
    edge = Paint(fill=lighter(colour, 0.16), stroke=seam_colour(look), stroke_width=0.018)
    yield from area(shell, edge)
    joint = shell[len(form.roof) :] if form.is_tall_top else _cap_joint(form)
    for width, ink in ((0.05, darker(colour, 0.62)), (0.016, "#e8ebeb")):
        yield Polyline(joint, Paint(stroke=ink, stroke_width=width))


def _cap(form: Silhouette) -> Points:
    start, end = _cap_joint(form)
    return kept_left_of((*form.body,), end, start) or form.top


def _cap_joint(form: Silhouette) -> Points:
    (ax, az), (bx, bz) = form.roof[0], form.roof[-1]
    drop = 0.05
    return (ax, az - drop), (bx, bz - drop)


def _undecided(form: Silhouette, _: VehicleLook) -> Iterator[Shape]:
    yield from area(form.top, Paint(fill=OPEN_COLOUR, opacity=0.75))
    dashed = Paint(stroke=OPEN_LINE, stroke_width=0.026, dash=(0.11, 0.08))
    yield Polyline(form.roof, dashed)


def _part_of(line: Points, start: float, end: float) -> Points:
    steps = 20
    return tuple(_at_share(line, start + (end - start) * step / steps) for step in range(steps + 1))


def _at_share(line: Points, share: float) -> Point:
    """Find the point of a line at a share of its extent in x."""
    x = line[0][0] + (line[-1][0] - line[0][0]) * share
    return x, height_on_line(line, x)


def _lifted(line: Points, height: float) -> Points:
    """Raise a line with ends that taper down to it."""
    last = max(1, len(line) - 1)
    return tuple(
        (x, z + height * min(1.0, 6 * index / last, 6 * (last - index) / last))
        for index, (x, z) in enumerate(line)
    )


def _towards(start: Point, end: Point, share: float) -> Point:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share
