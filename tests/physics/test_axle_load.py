from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from configurator.errors import MeasurementError
from configurator.physics.axle_load import AxleLoads, PlacedMass, axle_loads_kg

WHEELBASES = st.floats(1.5, 4.5)
PLACED = st.lists(st.builds(PlacedMass, st.floats(-500, 1500), st.floats(-1.5, 6)), max_size=12)


@given(PLACED, WHEELBASES)
def test_the_axle_loads_sum_to_the_mass(items: list[PlacedMass], wheelbase_m: float) -> None:
    loads = axle_loads_kg(items, wheelbase_m)
    total_kg = sum(item.mass_kg for item in items)
    assert total_kg == pytest.approx(loads.front_kg + loads.rear_kg, abs=1e-9)


@given(PLACED, WHEELBASES, st.floats(0.001, 800), st.floats(0, 6))
def test_a_heavier_rear_pack_never_lightens_the_rear_axle(
    items: list[PlacedMass], wheelbase_m: float, more_kg: float, behind_front_m: float
) -> None:
    before = axle_loads_kg(items, wheelbase_m)
    after = axle_loads_kg([*items, PlacedMass(more_kg, behind_front_m)], wheelbase_m)
    assert before.rear_kg <= after.rear_kg


@given(PLACED, WHEELBASES)
def test_the_order_of_the_list_never_changes_a_load(
    items: list[PlacedMass], wheelbase_m: float
) -> None:
    assert axle_loads_kg(items, wheelbase_m) == axle_loads_kg(items[::-1], wheelbase_m)


def test_a_mass_over_an_axle_loads_that_axle_alone() -> None:
    assert AxleLoads(120.0, 0.0) == axle_loads_kg([PlacedMass(120.0, 0.0)], 2.5)
    assert AxleLoads(0.0, 120.0) == axle_loads_kg([PlacedMass(120.0, 2.5)], 2.5)


def test_nothing_loads_nothing() -> None:
    assert AxleLoads(0.0, 0.0) == axle_loads_kg([], 2.5)


def test_a_mass_ahead_of_the_front_axle_lightens_the_rear() -> None:
    assert axle_loads_kg([PlacedMass(100.0, -0.5)], 2.5).rear_kg < 0


def test_every_impossible_measurement_is_named_at_once() -> None:
    with pytest.raises(MeasurementError) as refused:
        axle_loads_kg([PlacedMass(math.nan, 1.0), PlacedMass(1.0, math.inf)], 0.0)
    found = [(fault.code, fault.what.split(" is ")[0]) for fault in refused.value.faults]
    expected = [
        ("M002", "wheelbase_m"),
        ("M001", "mass_kg of item 1"),
        ("M001", "x_m of item 2"),
    ]
    assert expected == found
