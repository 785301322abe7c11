from __future__ import annotations

from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.drawings.colour import LEAST_TEXT_CONTRAST, contrast_ratio
from configurator.drawings.price_range_front import (
    BUILD,
    CHOSEN,
    WISH_LINE,
    WISHED,
    PricedRange,
    Wanted,
    price_range_front,
)
from configurator.drawings.scale import scale_between
from configurator.drawings.shapes import Circle, Drawing, Polygon, Polyline, Words, bounds, grown
from configurator.drawings.svg import to_svg

THREE = (
    PricedRange("1", 41_200.0, 96.0),
    PricedRange("2", 44_900.0, 141.0),
    PricedRange("3", 52_300.0, 178.0),
)


def chart(*builds: PricedRange, wanted: Wanted | None = None) -> Drawing:
    return price_range_front(builds or THREE, wanted, case_label="Country roads in winter")


def texts(drawing: Drawing) -> list[str]:
    return [shape.text for shape in drawing.shapes if isinstance(shape, Words)]


def dots(drawing: Drawing) -> list[Circle]:
    return [
        shape
        for shape in drawing.shapes
        if isinstance(shape, Circle) and shape.radius > 5 and shape.paint.fill
    ]


def test_every_build_has_its_name_beside_a_dot_and_its_figures_in_words() -> None:
    drawing = chart()
    assert 3 == len(dots(drawing))
    assert {"1", "2", "3"} <= set(texts(drawing))
    for told in ("1: £41,200 and 96 km", "3: £52,300 and 178 km", "Country roads in winter"):
        assert told in drawing.description


def test_words_promise_neither_a_lower_price_nor_a_longer_range() -> None:
    assert "1: £41,201 and 96 km" in chart(PricedRange("1", 41_200.1, 96.9)).description


def test_a_dearer_build_stands_further_right_and_a_longer_range_higher() -> None:
    places = [disc.centre for disc in dots(chart())]
    assert places == sorted(places)
    assert [y for _, y in places] == sorted(y for _, y in places)


def test_dots_stay_on_their_values_and_numbers_make_room_for_each_other() -> None:
    close = [PricedRange(str(n), 41_200.0 + 30 * n, 146.0 + n) for n in range(1, 9)]
    drawing = chart(*close, PricedRange("9", 60_000.0, 260.0))
    places = [dot.centre for dot in dots(drawing)]
    (left, low), (right, high) = places[0], places[-1]
    for build, (x, y) in zip(close, places[:-1], strict=True):
        assert pytest.approx(x) == left + (build.price_gbp - 41_230) / 18_770 * (right - left)
        assert pytest.approx(y) == low + (build.range_km - 147) / 113 * (high - low)
    names = {str(n) for n in range(1, 10)}
    numbers = [s for s in drawing.shapes if isinstance(s, Words) and s.text in names and s.bold]
    assert 9 == len(numbers)
    boxes = [bounds(words) for words in numbers]
    for one, other in combinations([*boxes, *(bounds(dot) for dot in dots(drawing))], 2):
        if one in boxes:
            assert (
                one.right <= other.left
                or other.right <= one.left
                or one.top <= other.bottom
                or other.top <= one.bottom
            )


def test_the_line_rises_in_steps_since_a_price_between_two_buys_the_cheaper_one() -> None:
    lines = [shape.points for shape in chart().shapes if isinstance(shape, Polyline)]
    steps = next(points for points in lines if len(points) == 5)
    for (x, y), (next_x, next_y) in pairwise(steps):
        assert (x == next_x) != (y == next_y)


def test_wishes_are_named_beside_their_lines() -> None:
    drawing = chart(wanted=Wanted(most_gbp=46_000.0, least_km=150.0))
    assert {"at most £46,000", "at least 150 km"} <= set(texts(drawing))
    assert 1 == sum(isinstance(shape, Polygon) for shape in drawing.shapes)


def test_a_wish_is_written_to_its_last_digit() -> None:
    drawing = chart(wanted=Wanted(most_gbp=46_250.4, least_km=149.5))
    assert {"at most £46,250.40", "at least 149.5 km"} <= set(texts(drawing))


def test_a_target_far_off_does_not_crowd_the_builds_and_says_where_it_is() -> None:
    near = chart(*THREE, wanted=Wanted(most_gbp=38_000.0))
    far = chart(*THREE, wanted=Wanted(most_gbp=4_000.0, least_km=900.0))
    assert "at most £38,000" in texts(near)
    told = {"at most £4,000, off the chart", "at least 900 km, off the chart"}
    assert told <= set(texts(far))
    places = [disc.centre[0] for disc in dots(far)]
    assert max(places) - min(places) > 300


def test_words_about_the_chosen_build_cover_no_other() -> None:
    close = [
        PricedRange(str(n), 41_200.0 + n, 96.0 + 9 * n, is_chosen=n == 2) for n in (1, 2, 3, 4)
    ]
    drawing = chart(*close)
    said = next(
        shape for shape in drawing.shapes if isinstance(shape, Words) and "now" in shape.text
    )
    box = bounds(said)
    for other in map(bounds, dots(drawing)):
        assert (
            box.right <= other.left
            or other.right <= box.left
            or box.top <= other.bottom
            or (other.top <= box.bottom)
        )


def test_without_wishes_nothing_is_tinted() -> None:
    assert not any(isinstance(shape, Polygon) for shape in chart().shapes)


def test_the_build_chosen_now_says_so_in_words() -> None:
    chosen = PricedRange("1", 41_200.0, 96.0, is_chosen=True)
    drawing = chart(chosen, *THREE[1:])
    assert "as chosen now" in texts(drawing)
    assert "as chosen now" in drawing.description


# Source: WCAG 2.2, success criterion 1.4.3: contrast of text is 4.5:1 or more.
def test_what_is_written_stands_out_from_its_ground() -> None:
    grounds = ((BUILD, "#ffffff"), (CHOSEN, "#ffffff"), (WISH_LINE, "#ffffff"), (WISH_LINE, WISHED))
    for words, ground in (*grounds, (CHOSEN, WISHED)):
        assert contrast_ratio(words, ground) >= LEAST_TEXT_CONTRAST


def test_no_build_at_all_is_still_a_chart() -> None:
    drawing = price_range_front([], case_label="Lanes")
    assert "No build" in drawing.description
    assert drawing.box.height > 0


def test_a_name_with_markup_stays_text() -> None:
    svg = to_svg(price_range_front(THREE, case_label="<script>"))
    assert "<script>" not in svg


@settings(max_examples=40)
@given(
    st.lists(st.tuples(st.floats(1, 250_000), st.floats(0, 600)), max_size=30),
    st.one_of(st.none(), st.floats(1, 1e7)),
    st.one_of(st.none(), st.floats(0, 1e4)),
)
def test_any_builds_and_wishes_fit_the_chart(
    pairs: list[tuple[float, float]], most_gbp: float | None, least_km: float | None
) -> None:
    builds = [PricedRange(str(n), *pair) for n, pair in enumerate(sorted(pairs), start=1)]
    drawing = price_range_front(builds, Wanted(most_gbp, least_km), case_label="Lanes in winter")
    box = grown(drawing.box, 0.01)
    for inner in map(bounds, drawing.shapes):
        assert box.left <= inner.left <= inner.right <= box.right
        assert box.bottom <= inner.bottom <= inner.top <= box.top
    assert len(builds) == len(dots(drawing))


@given(st.floats(-1e5, 1e6), st.floats(0, 1e6))
def test_a_scale_between_two_values_holds_both_in_few_round_steps(
    least: float, more: float
) -> None:
    scale = scale_between(least, least + more, 0.0, 100.0)
    assert scale.first <= least + 1e-6
    assert least + more <= scale.last + 1e-6
    assert 2 <= len(scale.ticks()) <= 7
    assert 0.0 <= scale.at(least) <= scale.at(least + more) <= 100.0
