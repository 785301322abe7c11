from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.performance import (
    geared_speed_km_h,
    hill_restart_percent,
    shaft_power_kw,
    speed_by_power_km_h,
)

HILL: dict[str, Any] = {
    "mass_kg": 1800.0,
    "peak_torque_nm": 180.0,
    "overall_ratio": 8.5,
    "efficiency": 0.95,
    "rolling_radius_m": 0.31,
    "rolling_resistance": 0.014,
}
ROAD: dict[str, Any] = {
    "mass_kg": 1800.0,
    "drag_area_m2": 1.6,
    "rolling_resistance": 0.014,
    "drive_efficiency": 0.95,
    "air_density_kg_m3": 1.225,
}
MASSES = st.floats(500, 4000)


@given(MASSES, st.floats(10, 600))
def test_on_the_steepest_hill_the_pull_just_holds_the_vehicle(
    mass_kg: float, peak_torque_nm: float
) -> None:
    given_ = {**HILL, "mass_kg": mass_kg, "peak_torque_nm": peak_torque_nm}
    angle = math.atan(hill_restart_percent(**given_) / 100)
    holding_n = mass_kg * 9.80665 * (math.sin(angle) + 0.014 * math.cos(angle))
    pull_n = peak_torque_nm * 8.5 * 0.95 / 0.31
    greatest_n = mass_kg * 9.80665 * math.hypot(1, 0.014)
    assert min(pull_n, greatest_n) == pytest.approx(holding_n, rel=1e-6)


def test_a_drive_that_cannot_start_on_the_level_gets_a_negative_hill() -> None:
    assert hill_restart_percent(**{**HILL, "peak_torque_nm": 5.0}) < 0


@given(MASSES, st.floats(0.1, 500))
def test_more_mass_never_helps(mass_kg: float, more_kg: float) -> None:
    def compute(function: Callable[..., float], inputs: dict[str, Any], mass: float) -> float:
        return function(**{**inputs, "mass_kg": mass})

    for function, inputs, sign in (
        (hill_restart_percent, HILL, 1),
        (speed_by_power_km_h, {**ROAD, "power_kw": 32.0}, 1),
        (shaft_power_kw, {**ROAD, "speed_km_h": 100.0, "slope_percent": 2.0}, -1),
    ):
        light = compute(function, inputs, mass_kg)
        assert sign * compute(function, inputs, mass_kg + more_kg) < sign * light


@given(
    MASSES,
    st.floats(0.2, 3),
    st.one_of(st.just(0.0), st.floats(1e-9, 0.03)),
    st.floats(5, 150),
    st.floats(0, 1),
)
def test_nothing_is_to_spare_at_the_speed_a_power_holds(
    mass_kg: float, drag_area_m2: float, rolling: float, power_kw: float, growth: float
) -> None:
    inputs = {
        **ROAD,
        "mass_kg": mass_kg,
        "drag_area_m2": drag_area_m2,
        "rolling_resistance": rolling,
        "rolling_growth": growth,
    }
    top = speed_by_power_km_h(**inputs, power_kw=power_kw)
    assert power_kw == pytest.approx(shaft_power_kw(**inputs, speed_km_h=top), rel=1e-9)


def test_tyres_that_roll_harder_at_speed_take_more_power() -> None:
    # Source: first principles; at 100 km/h the rolling resistance has grown by the whole growth.
    even = shaft_power_kw(**{**ROAD, "rolling_resistance": 0.021}, speed_km_h=100.0)
    grown = shaft_power_kw(**ROAD, speed_km_h=100.0, rolling_growth=0.5)
    assert even == pytest.approx(grown)


def test_a_wheel_of_one_metre_around_rolls_a_metre_a_turn() -> None:
    speed = geared_speed_km_h(
        max_speed_rpm=6000.0, lowest_overall_ratio=10.0, rolling_radius_m=1 / (2 * math.pi)
    )
    assert speed == pytest.approx(36.0)


@pytest.mark.parametrize(
    ("function", "inputs"),
    [
        (hill_restart_percent, HILL),
        (shaft_power_kw, {**ROAD, "speed_km_h": 90.0, "slope_percent": 2.0}),
        (speed_by_power_km_h, {**ROAD, "power_kw": 30.0, "rolling_growth": 0.1}),
        (
            geared_speed_km_h,
            {"max_speed_rpm": 9000.0, "lowest_overall_ratio": 8.0, "rolling_radius_m": 0.3},
        ),
    ],
)
@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_each_impossible_input_is_refused(
    function: Callable[..., float], inputs: dict[str, Any], bad: float
) -> None:
    for name in inputs:
        with pytest.raises(MeasurementError) as refused:
            function(**{**inputs, name: bad})
        assert [name] == [fault.what.split(" is ")[0] for fault in refused.value.faults]
