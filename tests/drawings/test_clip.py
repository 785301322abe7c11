from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.drawings.clip import (
    convex_hull,
    hatch,
    is_inside,
    kept_above,
    kept_below,
    kept_inside,
    round_area,
)
from configurator.drawings.shapes import Paint, Point

coordinate = st.floats(-4, 4, allow_nan=False).map(lambda value: round(value, 3))
outlines = st.lists(st.tuples(coordinate, coordinate), min_size=3, max_size=12)


def size_of(points: tuple[Point, ...] | list[Point]) -> float:
    # Source: shoelace formula.
    pairs = zip(points, [*points[1:], *points[:1]], strict=True)
    return sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairs) / 2


@given(outlines, coordinate)
def test_a_cut_loses_no_area(points: list[Point], height: float) -> None:
    parts = size_of(kept_below(points, height)) + size_of(kept_above(points, height))
    assert parts == pytest.approx(size_of(points), abs=1e-6)


@given(outlines, coordinate)
def test_what_is_kept_lies_on_its_side(points: list[Point], height: float) -> None:
    assert all(z <= height + 1e-9 for _, z in kept_below(points, height))
    assert all(z >= height - 1e-9 for _, z in kept_above(points, height))


@given(outlines)
def test_what_is_kept_inside_a_disc_is_within_it(points: list[Point]) -> None:
    kept = kept_inside(points, round_area((0.0, 0.0), 1.5))
    assert all(math.hypot(*point) <= 1.5 + 1e-6 for point in kept)


@given(outlines)
def test_a_hull_holds_every_point(points: list[Point]) -> None:
    hull = convex_hull(points)
    assert set(hull) <= set(points)
    if len(hull) >= 3:
        assert size_of(hull) >= 0


@given(outlines)
def test_hatching_stays_within_the_outline(points: list[Point]) -> None:
    for line in hatch(points, 0.7, Paint(stroke="#000000", stroke_width=0.01)):
        (ax, az), (bx, bz) = line.points
        if math.dist((ax, az), (bx, bz)) > 0.05:
            assert is_inside(points, ((ax + bx) / 2, (az + bz) / 2))
