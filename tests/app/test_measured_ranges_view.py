"""Before and after in words: what moved, which way, and why it cannot be told yet."""

from __future__ import annotations

import math
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.app.view_models.measured_ranges import (
    NO_MEASUREMENTS,
    NO_RANGES,
    moved_answer,
)
from configurator.build_spec.spec import RangeLine
from configurator.catalog.models.measurements import MeasuredTrip, Measurements
from configurator.workflow.measured_ranges import RangeMoved, RangesMoved
from tests.coasting import coast_down

TRIPS = Measurements(
    trips=(MeasuredTrip(driven_on=date(2026, 3, 1), case="lane", km=40, energy_kwh=6),)
)


def line(mid_km: float, half_width: float, label: str = "Lanes") -> RangeLine:
    return RangeLine(
        case_id=label.lower(),
        label=label,
        conditions="steady",
        temperature_c=10,
        low_km=mid_km * math.exp(-half_width),
        mid_km=mid_km,
        high_km=mid_km * math.exp(half_width),
        consumption_wh_per_km=30_000 / mid_km,
    )


LESS = RangeMoved(line(200, 0.1), line(180, 0.05), was_driven=True)
OTHER = RangeMoved(line(100, 0.1, "Frost"), line(100, 0.1, "Frost"), was_driven=False)


def test_a_shorter_and_surer_range_is_said_with_both_bands() -> None:
    row = moved_answer(RangesMoved((LESS,), ()), TRIPS).rows[0]
    assert "10 % less far; 50 % narrower" == row.verdict
    assert ("180–222 km", "171–190 km") == (row.before.band, row.after.band)
    assert "middle 180 km · 167 Wh/km" == row.after.about


def test_what_was_driven_comes_first_and_the_rest_says_that_it_was_not() -> None:
    rows = moved_answer(RangesMoved((OTHER, LESS), ()), TRIPS).rows
    assert ["Lanes", "Frost"] == [row.label for row in rows]
    assert "Like what was driven" == rows[0].about
    assert "less of it" in rows[1].about
    assert "as far as before; as wide" == rows[1].verdict


def test_a_coast_down_alone_speaks_of_no_trips() -> None:
    measured = Measurements(coast_down=coast_down())
    assert not moved_answer(RangesMoved((LESS,), ()), measured).rows[0].about


@pytest.mark.parametrize(
    ("moved", "measured", "words"),
    [
        (RangesMoved((LESS,), ()), Measurements(), NO_MEASUREMENTS),
        (RangesMoved((), ()), TRIPS, NO_RANGES),
        (RangesMoved((), ("Roof",)), TRIPS, "1 choice is still open: Roof. "),
        (
            RangesMoved((), tuple("abcdef")),
            TRIPS,
            "6 choices are still open: a, b, c, d and 2 more",
        ),
        (RangesMoved((), ("Roof",)), Measurements(coast_down=coast_down("donor")), "as soon as"),
    ],
)
def test_it_is_said_why_nothing_can_be_compared(
    moved: RangesMoved, measured: Measurements, words: str
) -> None:
    answer = moved_answer(moved, measured)
    assert () == answer.rows
    assert words in answer.instead


@given(mids=st.lists(st.floats(5, 900), min_size=2, max_size=8), half_width=st.floats(0.0, 0.6))
def test_every_bar_lies_on_the_scale_with_its_middle_inside(
    mids: list[float], half_width: float
) -> None:
    lines = tuple(
        RangeMoved(line(one, half_width), line(other, half_width), was_driven=True)
        for one, other in zip(mids, reversed(mids), strict=True)
    )
    for row in moved_answer(RangesMoved(lines, ()), TRIPS).rows:
        for bar in (row.before.bar, row.after.bar):
            assert 0 <= bar.left <= bar.middle + 1e-9
            assert bar.middle <= bar.left + bar.width + 1e-9
            assert bar.left + bar.width <= 100 + 1e-9
