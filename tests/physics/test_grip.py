"""Grip of the driven axle, and how long a drive bears more than its continuous power."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.grip import Axle, grip_force_n, grip_hill_percent
from configurator.physics.overload import seconds_of_overload


@given(
    friction=st.floats(0.1, 1.0),
    axle=st.sampled_from(["front", "rear"]),
    share=st.floats(0.3, 0.7),
    height=st.floats(0, 0.4),
    trailer=st.floats(0, 1),
)
def test_on_the_steepest_hill_the_driven_axle_just_grips(
    friction: float, axle: Axle, share: float, height: float, trailer: float
) -> None:
    percent = grip_hill_percent(
        friction=friction,
        driven_axle=axle,
        driven_share=share,
        height_over_wheelbase=height,
        rolling_resistance=0.013,
        trailer_over_vehicle=trailer,
    )
    assert percent is not None
    angle = math.atan(percent / 100)
    # Statics of a vehicle of weight 1: moments about the contact of the other axle.
    sign = 1 if axle == "rear" else -1
    on_axle = share * math.cos(angle) + sign * height * math.sin(angle)
    pull = (1 + trailer) * (math.sin(angle) + 0.013 * math.cos(angle))
    assert friction * on_axle == pytest.approx(pull, abs=1e-9)


@given(st.floats(0.1, 1.0), st.floats(0.3, 0.7), st.floats(0, 0.4))
def test_pulling_away_loads_the_rear_axle(friction: float, share: float, height: float) -> None:
    weight_n = 1500 * 9.80665
    force_n = grip_force_n(
        mass_kg=1500.0,
        friction=friction,
        driven_axle="rear",
        driven_share=share,
        height_over_wheelbase=height,
    )
    on_axle_n = min(share * weight_n + force_n * height, weight_n)
    assert force_n == pytest.approx(friction * on_axle_n)


def test_grip_sets_no_limit_where_the_slope_loads_the_axle_faster_than_it_pulls() -> None:
    percent = grip_hill_percent(
        friction=1.2,
        driven_axle="rear",
        driven_share=0.6,
        height_over_wheelbase=0.9,
        rolling_resistance=0.013,
    )
    assert percent is None


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(MeasurementError) as refused:
        grip_hill_percent(
            friction=0.0,
            driven_axle="rear",
            driven_share=1.5,
            height_over_wheelbase=-0.1,
            rolling_resistance=-0.01,
            trailer_over_vehicle=-1.0,
        )
    assert ["M002", "M005", "M003", "M003", "M003"] == [f.code for f in refused.value.faults]


def overload(power_kw: float) -> float | None:
    return seconds_of_overload(
        power_kw=power_kw, continuous_power_kw=24.0, peak_power_kw=60.0, peak_seconds=60.0
    )


def test_a_drive_bears_its_continuous_power_for_ever_and_its_peak_as_long_as_stated() -> None:
    assert overload(24.0) is None
    assert overload(60.0) == pytest.approx(60.0)
    assert overload(60.1) == 0


@given(st.floats(24.01, 60), st.floats(0, 20))
def test_more_power_is_borne_for_a_shorter_time(power_kw: float, more_kw: float) -> None:
    shorter = overload(power_kw + more_kw)
    longer = overload(power_kw)
    assert shorter is not None
    assert longer is not None
    assert shorter <= longer
