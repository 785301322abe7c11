"""The weakest link of charging decides, and is named."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.charging_limits import (
    PowerLimit,
    ac_limits,
    battery_limits,
    dc_limits,
    least_limit,
)

AC: dict[str, Any] = {
    "source_voltage_v": 230.0,
    "source_current_a": 32.0,
    "source_phases": 3,
    "source_max_power_kw": 22.0,
    "charger_power_kw": 11.0,
    "charger_phases": 3,
    "charger_max_current_a": 16.0,
    "charger_efficiency": 1.0,
}
DC: dict[str, Any] = {
    "source_max_power_kw": 50.0,
    "source_current_a": 125.0,
    "inlet_max_power_kw": 60.0,
    "inlet_max_current_a": 150.0,
}


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ({}, ("charger", 11.0)),
        ({"charger_power_kw": 22.0, "charger_max_current_a": 16.0}, ("charger", 11.04)),
        ({"source_current_a": 10.0}, ("source", 6.9)),
        ({"source_phases": 1}, ("charger", 11.0 / 3)),
        (
            {"charger_phases": 1, "charger_power_kw": 6.6, "charger_max_current_a": 32.0},
            ("charger", 6.6),
        ),
        (
            {"charger_phases": 1, "charger_power_kw": 6.6, "source_current_a": 10.0},
            ("source", 2.3),
        ),
        ({"source_max_power_kw": 7.4}, ("source", 7.4)),
        ({"charger_efficiency": 0.9}, ("charger", 9.9)),
        ({"cable_current_a": 13.0}, ("cable", 8.97)),
        ({"cable_current_a": 13.0, "inlet_current_a": 10.0}, ("inlet", 6.9)),
        ({"source_current_a": 13.0, "cable_current_a": 13.0}, ("source", 8.97)),
    ],
)
def test_the_weakest_link_sets_the_ac_power(
    changes: dict[str, Any], expected: tuple[str, float]
) -> None:
    decides = least_limit(ac_limits(**{**AC, **changes}), 400.0)
    assert (expected[0], pytest.approx(expected[1])) == (decides.by, decides.power_kw)


@pytest.mark.parametrize(
    ("changes", "peak_kw", "expected"),
    [
        ({}, 45.0, ("battery", 45.0)),
        ({}, 90.0, ("source", 47.5)),
        ({"source_max_power_kw": 20.0}, 90.0, ("source", 20.0)),
        ({"inlet_max_power_kw": 30.0}, 90.0, ("inlet", 30.0)),
        ({"inlet_max_current_a": 100.0}, 90.0, ("inlet", 38.0)),
    ],
)
def test_the_weakest_link_sets_the_dc_power(
    changes: dict[str, Any], peak_kw: float, expected: tuple[str, float]
) -> None:
    limits = (*dc_limits(**{**DC, **changes}), *battery_limits(peak_charge_kw=peak_kw))
    decides = least_limit(limits, 380.0)
    assert (expected[0], pytest.approx(expected[1])) == (decides.by, decides.at(380.0))


@pytest.mark.parametrize(("percent", "expected"), [(100.0, "battery"), (40.0, "temperature")])
def test_cold_decides_only_where_it_leaves_less(percent: float, expected: str) -> None:
    limits = battery_limits(peak_charge_kw=40.0, temperature_percent=percent)
    assert expected == least_limit(limits, 400.0).by


@given(st.floats(10, 500), st.floats(10, 500), st.floats(1, 400))
def test_a_limit_by_current_never_falls_with_the_voltage(
    first_v: float, second_v: float, current_a: float
) -> None:
    limit = PowerLimit("source", 50.0, current_a)
    low, high = sorted((first_v, second_v))
    assert limit.at(low) <= limit.at(high) <= 50.0


def test_a_supply_of_two_phases_is_refused() -> None:
    with pytest.raises(MeasurementError) as refused:
        ac_limits(**{**AC, "source_phases": 2, "charger_efficiency": 0.0, "cable_current_a": 0.0})
    assert [fault.code for fault in refused.value.faults] == ["M017", "M004", "M002"]


@pytest.mark.parametrize("name", sorted(DC))
def test_every_dc_value_must_be_above_zero(name: str) -> None:
    with pytest.raises(MeasurementError) as refused:
        dc_limits(**{**DC, name: 0.0})
    assert [fault.code for fault in refused.value.faults] == ["M002"]


def test_a_battery_that_takes_less_than_nothing_is_refused() -> None:
    with pytest.raises(MeasurementError) as refused:
        battery_limits(peak_charge_kw=-1.0, temperature_percent=101.0)
    assert [fault.code for fault in refused.value.faults] == ["M003", "M006"]
