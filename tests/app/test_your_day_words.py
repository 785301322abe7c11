from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.app.view_models.your_day import answer
from configurator.build_spec.day_result import DayLimit, DayOutcome, DayResult
from configurator.catalog.models.day import CustomersDay, Trailer
from configurator.catalog.models.workshop import Age
from configurator.drawings.battery_left import left_in_words

AGE = Age(years=8, km=120_000)


def result_with(low_percent: float, high_percent: float) -> DayResult:
    outcome = DayOutcome(
        battery="new", usable_kwh=40.0, used_low_kwh=9.0, used_mid_kwh=10.0, used_high_kwh=11.0,
        left_low_percent=low_percent, left_mid_percent=(low_percent + high_percent) / 2,
        left_high_percent=high_percent, least_low_percent=low_percent, spare_low_km=20.0,
        spare_mid_km=30.0, fits=True, likelihood_percent=97.0,
    )  # fmt: skip
    return DayResult(
        of_default_completion=False, distance_km=50.0, reserve_percent=10.0, conditions="",
        charged_halfway_kwh=0.0, new=outcome, aged=outcome, legs=(), helps=(),
        not_followed_percent=0.0, trailer_allowed_kg=0.0, payload_spare_kg=100.0, assumptions=(),
    )  # fmt: skip


def with_limit(load_kg: float) -> DayResult:
    limit = DayLimit(
        what="rear axle", load_kg=load_kg, sigma_kg=10.0, limit_kg=1120.0,
        limit_words="its own limit",
    )  # fmt: skip
    return result_with(60, 70).model_copy(update={"limits": (limit,)})


@pytest.mark.parametrize(
    ("load_kg", "fits", "headline"),
    [
        (1099.0, True, "Yes, this day fits."),
        (1110.0, False, "The battery would do, but only a weighbridge can say whether the vehicle"),
        (1185.0, False, "The battery would do, but the vehicle may not carry this."),
    ],
)
def test_no_green_headline_stands_over_an_overloaded_axle(
    load_kg: float, fits: bool, headline: str
) -> None:
    told = answer(CustomersDay(town_km=50, load_kg=520), with_limit(load_kg), AGE)
    assert fits == told.fits
    assert told.headline.startswith(headline)
    assert (not fits) == bool(told.warnings)
    if load_kg > 1120:
        assert "rear axle carries 1,185 ± 20 kg, 65 kg more than it may" in told.warnings[0][0]


def test_a_trailer_that_may_not_be_towed_stands_in_the_headline() -> None:
    day = CustomersDay(town_km=50, trailer=Trailer(mass_kg=500))
    told = answer(day, result_with(60, 70), AGE)
    assert "The battery would do, but the vehicle may not tow this." == told.headline
    assert () == told.helps


@settings(max_examples=50)
@given(st.floats(0, 90), st.floats(0, 10))
def test_the_sentence_and_the_bar_say_the_same_and_never_more_than_is_left(
    low_percent: float, wider: float
) -> None:
    told = answer(CustomersDay(town_km=50), result_with(low_percent, low_percent + wider), AGE)
    said = [int(number) for number in re.findall(r"(\d+) % or more", told.about[0])]
    bar = told.bars[0]
    drawn = re.findall(r"\d+", left_in_words(bar.low_percent, bar.high_percent))
    assert sorted(set(said)) == sorted({int(number) for number in drawn})
    assert said[0] <= low_percent < said[0] + 1
