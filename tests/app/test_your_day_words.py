from __future__ import annotations

import re

from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.app.view_models.your_day import answer
from configurator.build_spec.day_result import DayOutcome, DayResult
from configurator.catalog.models.day import CustomersDay
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
