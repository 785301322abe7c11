from __future__ import annotations

from itertools import pairwise
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.catalog.models.vehicle import Emblem, Vehicle
from configurator.drawings.emblem import FIELDS, WORDS, emblem_picture
from configurator.drawings.placed_components import (
    CALLOUT_GAP_M,
    CALLOUT_RADIUS_M,
    EmblemAt,
    callout_places,
    emergency_legend,
    emergency_views,
    legend_of,
)
from configurator.drawings.shapes import Box, Words, bounds
from configurator.drawings.spread import pushed_apart, spread_along

EMBLEMS: tuple[Emblem, ...] = get_args(Emblem)

ITEMS = tuple(
    EmblemAt(emblem, f"Place {number}", 0.25 * number, 0.1 * (number % 3), 0.4 + 0.1 * (number % 4))
    for number, emblem in enumerate(EMBLEMS)
)

positions = st.lists(st.floats(-2, 6, allow_nan=False), max_size=14)


@pytest.mark.parametrize("emblem", EMBLEMS)
def test_every_emblem_has_its_field_word_and_picture(emblem: Emblem) -> None:
    picture = emblem_picture(emblem)
    assert WORDS[emblem] == picture.title
    assert FIELDS[emblem] in {getattr(shape, "paint").fill for shape in picture.shapes}  # noqa: B009  only painted shapes occur
    assert len(picture.shapes) > 1


def test_no_two_emblems_share_a_word_or_a_picture() -> None:
    assert len(EMBLEMS) == len(set(WORDS.values()))
    assert len(EMBLEMS) == len({emblem_picture(emblem).shapes for emblem in EMBLEMS})


def test_both_views_and_the_legend_carry_the_same_numbers(vehicle: Vehicle) -> None:
    wanted = {str(number) for number in range(1, len(ITEMS) + 1)}
    for drawing in (*emergency_views(vehicle, ITEMS), emergency_legend(ITEMS)):
        assert wanted <= {shape.text for shape in drawing.shapes if isinstance(shape, Words)}
    assert list(range(1, len(ITEMS) + 1)) == [row.number for row in legend_of(ITEMS)]


def test_views_hold_all_they_draw_also_far_outside_the_vehicle(vehicle: Vehicle) -> None:
    far = (*ITEMS, EmblemAt("motor", "Far", 7.5, -1.4, 2.9))
    for drawing in emergency_views(vehicle, far):
        for shape in drawing.shapes:
            inner = bounds(shape)
            assert drawing.box.left <= inner.left
            assert inner.right <= drawing.box.right
            assert drawing.box.bottom <= inner.bottom
            assert inner.top <= drawing.box.top


def test_a_vehicle_without_items_is_drawn_plain(vehicle: Vehicle) -> None:
    side, top = emergency_views(vehicle, ())
    assert side.description == top.description == ""
    assert side.shapes
    assert top.shapes


@settings(max_examples=60)
@given(st.lists(st.tuples(st.floats(-1, 4), st.floats(0, 2)), max_size=14))
def test_numbers_never_overlap(shown: list[tuple[float, float]]) -> None:
    places = callout_places(Box(-1.0, 0.0, 4.0, 2.0), shown)
    for height in {y for _, y in places}:
        row = sorted(x for x, y in places if y == height)
        assert all(right - left >= 2 * CALLOUT_RADIUS_M for left, right in pairwise(row))
        assert all(right - left >= CALLOUT_GAP_M - 1e-9 for left, right in pairwise(row))


@given(positions, st.floats(0, 1))
def test_spreading_keeps_the_order_and_the_gap(given_positions: list[float], gap: float) -> None:
    moved = spread_along(given_positions, gap)
    ordered = sorted(zip(given_positions, moved, strict=True))
    assert all(b - a >= gap - 1e-9 for a, b in pairwise(sorted(moved)))
    assert sorted(moved) == pytest.approx([new for _, new in ordered])


@given(positions, st.floats(0, 1))
def test_spreading_keeps_the_middle(given_positions: list[float], gap: float) -> None:
    # Source: the least-squares movement has no mean, as each pooled block keeps its own.
    assert sum(spread_along(given_positions, gap)) == pytest.approx(sum(given_positions), abs=1e-6)


def test_what_is_apart_already_stays_where_it_is() -> None:
    assert spread_along([3.0, 1.0, 2.0], 0.5) == (3.0, 1.0, 2.0)
    assert pushed_apart([(0.0, 0.0), (2.0, 0.0)], 1.0) == ((0.0, 0.0), (2.0, 0.0))


def test_symbols_at_one_place_are_moved_off_each_other() -> None:
    moved = pushed_apart([(1.0, 1.0)] * 4, 0.3)
    for index, (ax, ay) in enumerate(moved):
        for bx, by in moved[index + 1 :]:
            assert max(abs(ax - bx), abs(ay - by)) >= 0.3 - 1e-6
