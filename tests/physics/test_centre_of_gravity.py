"""A mass moved moves the centre of gravity with it; axles and sides always sum to the mass."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.axle_load import PlacedMass, axle_loads_kg
from configurator.physics.centre_of_gravity import (
    MassAt,
    rear_braking_share_percent,
    rollover_threshold_g,
    stance,
)

WHEELBASE_M, TRACK_M = 2.4, 1.38

items = st.builds(
    MassAt,
    mass_kg=st.floats(0.5, 900),
    x_m=st.floats(-1, 3.5),
    y_m=st.floats(-0.9, 0.9),
    z_m=st.floats(0.1, 2),
)
lists = st.lists(items, min_size=1, max_size=12)


@given(lists)
def test_front_and_rear_and_left_and_right_each_sum_to_the_mass(masses: list[MassAt]) -> None:
    stands = stance(masses, WHEELBASE_M, TRACK_M)
    expected = math.fsum(item.mass_kg for item in masses)
    assert expected == pytest.approx(stands.front_kg + stands.rear_kg)
    assert expected == pytest.approx(stands.left_kg + stands.right_kg)


@given(lists)
def test_axles_are_those_of_the_plain_moments(masses: list[MassAt]) -> None:
    stands = stance(masses, WHEELBASE_M, TRACK_M)
    expected = axle_loads_kg([PlacedMass(m.mass_kg, m.x_m) for m in masses], WHEELBASE_M)
    assert expected.rear_kg == pytest.approx(stands.rear_kg, abs=1e-9)


@given(lists, items, st.floats(0.01, 0.5))
def test_a_mass_moved_back_right_and_up_moves_the_centre_of_gravity_so(
    masses: list[MassAt], moved: MassAt, by_m: float
) -> None:
    before = stance([*masses, moved], WHEELBASE_M, TRACK_M)
    further = MassAt(moved.mass_kg, moved.x_m + by_m, moved.y_m + by_m, moved.z_m + by_m)
    after = stance([*masses, further], WHEELBASE_M, TRACK_M)
    assert after.rear_kg > before.rear_kg
    assert after.right_kg > before.right_kg
    assert after.height_m > before.height_m
    assert rollover_threshold_g(TRACK_M, after.height_m) < rollover_threshold_g(
        TRACK_M, before.height_m
    )


@given(st.floats(0.2, 0.8), st.floats(0.3, 1.2), st.floats(0.0, 0.8), st.floats(0.01, 0.4))
def test_harder_braking_always_leaves_the_rear_axle_less(
    share: float, height_m: float, deceleration_g: float, harder_g: float
) -> None:
    gentle = rear_braking_share_percent(share, height_m, WHEELBASE_M, deceleration_g)
    hard = rear_braking_share_percent(share, height_m, WHEELBASE_M, deceleration_g + harder_g)
    assert hard < gentle


def test_everything_impossible_is_said_at_once() -> None:
    with pytest.raises(MeasurementError) as caught:
        stance([MassAt(math.nan, 0, 0, 0)], 0.0, -1.0)
    assert ["M002", "M002", "M001"] == [fault.code for fault in caught.value.faults]


def test_nothing_that_weighs_nothing_has_a_centre_of_gravity() -> None:
    with pytest.raises(MeasurementError, match="mass_kg of all items"):
        stance([MassAt(5, 1, 0, 1), MassAt(-5, 1, 0, 1)], WHEELBASE_M, TRACK_M)
