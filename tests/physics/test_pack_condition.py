"""What cold, warmth and age leave of a pack."""

from __future__ import annotations

import math
from typing import Any

import pytest

from configurator.errors import MeasurementError
from configurator.physics.pack_condition import CAPACITY_PERCENT, PackCondition, pack_condition


def condition(**changes: Any) -> PackCondition:
    given: dict[str, Any] = {
        "temperature_c": 20.0,
        "capacity_at": {},
        "resistance_at": {},
        "chemistry": "NMC",
    }
    return pack_condition(**{**given, **changes})


@pytest.mark.parametrize("chemistry", sorted(CAPACITY_PERCENT))
def test_a_new_pack_at_20_degrees_is_the_pack_as_stated(chemistry: str) -> None:
    assert condition(chemistry=chemistry) == PackCondition(100.0, 0.0, 100.0)


@pytest.mark.parametrize("chemistry", sorted(CAPACITY_PERCENT))
def test_the_colder_the_less_capacity_and_the_more_resistance(chemistry: str) -> None:
    colder = [condition(chemistry=chemistry, temperature_c=t) for t in (20, 5, -3, -12, -25)]
    capacities = [each.capacity_percent for each in colder]
    assert sorted(capacities, reverse=True) == capacities
    resistances = [each.resistance_percent for each in colder]
    assert sorted(resistances) == resistances


def test_age_and_cold_multiply_and_their_doubts_add_by_squares() -> None:
    both = condition(
        temperature_c=0.0,
        capacity_at={0: 90, 20: 100},
        resistance_at={0: 200, 20: 100},
        aged_capacity_percent=80.0,
        aged_capacity_sigma_percent=5.0,
        aged_resistance_percent=150.0,
    )
    assert (72.0, 300.0) == pytest.approx((both.capacity_percent, both.resistance_percent))
    # 15 % of the tenth that the cold takes, against the nine tenths it leaves.
    assert math.hypot(5.0, 0.15 * 10 / 90 * 100) == pytest.approx(both.capacity_sigma_percent)


def test_a_curve_nobody_stated_is_in_more_doubt() -> None:
    stated = condition(temperature_c=-10.0, capacity_at=CAPACITY_PERCENT["NMC"])
    guessed = condition(temperature_c=-10.0)
    assert stated.capacity_percent == guessed.capacity_percent
    assert stated.capacity_sigma_percent < guessed.capacity_sigma_percent


def test_impossible_conditions_are_all_named() -> None:
    with pytest.raises(MeasurementError) as refused:
        condition(temperature_c=90.0, aged_capacity_percent=0.0)
    assert ["M007", "M002"] == [fault.code for fault in refused.value.faults]
