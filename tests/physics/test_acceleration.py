"""Pulling away: the force balance, its corners, and that more to carry never helps."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.acceleration import (
    LONGEST_S,
    MASS_FACTOR,
    Pull,
    Resistance,
    seconds_to_speed,
    wheel_force_n,
)

PULL = Pull(
    peak_torque_nm=230.0,
    peak_power_kw=85.0,
    max_speed_rpm=10_000.0,
    overall_ratios=(13.2, 7.6),
    gear_efficiency=0.95,
    rolling_radius_m=0.32,
)
VAN = Resistance(
    mass_kg=1800.0, drag_area_m2=1.7, rolling_resistance=0.013, air_density_kg_m3=1.225
)
MORE = st.floats(0, 500)


@settings(max_examples=60, deadline=None)
@given(
    mass_kg=st.floats(600, 4000),
    more_kg=MORE,
    more_drag_m2=st.floats(0, 1),
    more_rolling=st.floats(0, 0.02),
    speed_km_h=st.floats(5, 120),
    power_kw=st.floats(5, 150),
)
def test_more_to_carry_or_to_push_never_makes_it_quicker(
    *,
    mass_kg: float,
    more_kg: float,
    more_drag_m2: float,
    more_rolling: float,
    speed_km_h: float,
    power_kw: float,
) -> None:
    pull = replace(PULL, peak_power_kw=power_kw)
    light = replace(VAN, mass_kg=mass_kg)
    heavy = replace(
        light,
        mass_kg=mass_kg + more_kg,
        drag_area_m2=light.drag_area_m2 + more_drag_m2,
        rolling_resistance=light.rolling_resistance + more_rolling,
    )
    quick, slow = (seconds_to_speed(pull, v, speed_km_h) for v in (light, heavy))
    assert quick is not None
    assert slow is not None
    assert 0 < quick <= slow * (1 + 1e-12) <= LONGEST_S * (1 + 1e-12)


@settings(max_examples=30, deadline=None)
@given(
    st.floats(0.05, 1.0),
    st.floats(20, 120),
    st.floats(1500, 9000),
    st.lists(st.floats(4, 16), min_size=1, max_size=3),
)
def test_the_quadrature_agrees_with_many_small_steps(
    share: float, power_kw: float, grip_n: float, ratios: list[float]
) -> None:
    pull = replace(PULL, peak_power_kw=power_kw, overall_ratios=tuple(ratios))
    speed_m_s = share * min(pull.geared_m_s, 36.0)
    speeds = (np.arange(200_000) + 0.5) * speed_m_s / 200_000
    spare_n = np.minimum(wheel_force_n(pull, speeds), grip_n) - VAN.force_n(speeds)
    seconds = seconds_to_speed(pull, VAN, speed_m_s * 3.6, grip_n)
    if spare_n.min() < 150:  # where hardly anything is left, small steps are wrong as well
        return
    added = MASS_FACTOR * VAN.mass_kg * float(np.sum(1 / spare_n)) * speed_m_s / 200_000
    assert min(added, LONGEST_S) == pytest.approx(seconds, rel=2e-4)


def test_the_better_gear_pulls_at_each_speed() -> None:
    speeds = np.linspace(0.5, 45, 200)
    single = [
        wheel_force_n(replace(PULL, overall_ratios=(ratio,)), speeds)
        for ratio in PULL.overall_ratios
    ]
    assert np.maximum(*single).tolist() == wheel_force_n(PULL, speeds).tolist()


def test_two_gears_are_never_slower_than_one_of_them() -> None:
    both = seconds_to_speed(PULL, VAN, 90.0)
    long_gear = seconds_to_speed(replace(PULL, overall_ratios=(7.6,)), VAN, 90.0)
    assert both is not None
    assert long_gear is not None
    assert both < long_gear


def test_less_grip_takes_longer() -> None:
    free, wet, ice = (seconds_to_speed(PULL, VAN, 50.0, grip) for grip in (None, 6000.0, 600.0))
    assert free is not None
    assert wet is not None
    assert ice is not None
    assert free < wet < ice


def test_a_speed_beyond_the_gearing_is_never_reached() -> None:
    assert seconds_to_speed(PULL, VAN, PULL.geared_m_s * 3.6 + 0.1) is None


def test_a_drive_too_weak_for_the_speed_takes_the_longest_time() -> None:
    assert LONGEST_S == seconds_to_speed(replace(PULL, peak_power_kw=3.0), VAN, 100.0)


def test_impossible_inputs_are_refused_together() -> None:
    with pytest.raises(MeasurementError) as refused:
        seconds_to_speed(
            replace(PULL, gear_efficiency=1.2, overall_ratios=(9.0, 0.0)),
            replace(VAN, mass_kg=math.nan),
            50.0,
            grip_n=0.0,
        )
    assert ["M002", "M004", "M001", "M002"] == [fault.code for fault in refused.value.faults]
