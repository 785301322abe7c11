"""Load goes onto the seats first, then where load goes; the least limit ends it."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from configurator.build_spec.weight_placing import Room, most_placed, placed_load
from configurator.catalog.models.vehicle import PlacedItem
from tests.build_spec.tiny_builds import tiny_catalog

VEHICLE = tiny_catalog().vehicles[0]
PLACE = next(iter(VEHICLE.places))
CARRIED = (
    PlacedItem(what="Passenger", mass_kg=75, place=VEHICLE.driver_place, kind="people"),
    PlacedItem(what="Parcels", mass_kg=50, place=PLACE),
)


@settings(max_examples=30)
@given(st.floats(0, 2000))
def test_what_is_placed_is_the_load_and_the_seat_is_taken_first(load_kg: float) -> None:
    placed = placed_load(VEHICLE, CARRIED, load_kg)
    assert load_kg == pytest.approx(sum(each.mass_kg for each in placed))
    if placed:
        assert min(load_kg, 75.0) == pytest.approx(placed[0].mass_kg)


@settings(max_examples=30)
@given(st.floats(1, 900), st.floats(1, 900), st.floats(1, 900))
def test_what_may_be_carried_meets_one_limit_and_exceeds_none(
    whole_kg: float, front_kg: float, rear_kg: float
) -> None:
    rooms = (
        Room("whole", whole_kg, 10, at_front=1, at_rear=1),
        Room("front", front_kg, 10, at_front=1, at_rear=0),
        Room("rear", rear_kg, 10, at_front=0, at_rear=1),
    )
    allowed = most_placed(VEHICLE, CARRIED, rooms)
    left = {
        room.limited_by: room.spare_kg
        - sum(
            each.mass_kg * room.taken_by(each.x_m, VEHICLE.wheelbase_m)
            for each in placed_load(VEHICLE, CARRIED, allowed.mass_kg)
        )
        for room in rooms
    }
    assert 0 == pytest.approx(left[allowed.limited_by], abs=1e-6)
    assert min(left.values()) >= -1e-6


def test_nothing_may_be_carried_where_a_limit_is_exceeded_already() -> None:
    assert 0 == most_placed(VEHICLE, CARRIED, [Room("whole", -5, 1, at_front=1, at_rear=1)]).mass_kg
