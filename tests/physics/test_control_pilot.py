from __future__ import annotations

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.control_pilot import pilot_current_a, pilot_duty_percent


@given(st.one_of(st.floats(6, 51), st.floats(52.501, 80)))
def test_the_vehicle_reads_the_current_that_is_offered(current_a: float) -> None:
    assert current_a == pytest.approx(pilot_current_a(pilot_duty_percent(current_a)))


@given(st.floats(6, 80))
@example(51.5)
def test_the_vehicle_never_reads_more_than_is_offered(current_a: float) -> None:
    assert pilot_current_a(pilot_duty_percent(current_a)) <= current_a + 1e-9


@pytest.mark.parametrize("current_a", [5.99, 80.01, -6.0, math.nan, math.inf])
def test_a_current_that_the_pilot_cannot_say_is_refused(current_a: float) -> None:
    with pytest.raises(MeasurementError) as refused:
        pilot_duty_percent(current_a)
    assert [fault.code for fault in refused.value.faults] == ["M011"]


@pytest.mark.parametrize("duty_percent", [0.0, 5.0, 7.99, 97.01, 100.0, math.nan, -math.inf])
def test_a_duty_cycle_that_stands_for_no_current_is_refused(duty_percent: float) -> None:
    with pytest.raises(MeasurementError) as refused:
        pilot_current_a(duty_percent)
    assert [fault.code for fault in refused.value.faults] == ["M011"]
