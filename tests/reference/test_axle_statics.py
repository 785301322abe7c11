"""A conversion's axle loads against moments worked out by hand."""

from __future__ import annotations

import pytest

from configurator.physics.axle_load import PlacedMass, axle_loads_kg

WHEELBASE_M = 2.40

# Source: statics, moments about the front axle; a donor made up for checking, 720 kg on the front
# axle and 640 on the rear, wheelbase 2.40 m.
DONOR = [PlacedMass(720.0, 0.0), PlacedMass(640.0, WHEELBASE_M)]
TAKEN_OUT = [PlacedMass(-180.0, -0.15), PlacedMass(-45.0, 0.90), PlacedMass(-38.0, 2.70)]
PUT_IN = [PlacedMass(62.0, -0.10), PlacedMass(110.0, 0.20), PlacedMass(195.0, 2.15)]
PEOPLE = [PlacedMass(75.0, 1.10), PlacedMass(75.0, 1.10)]


def test_the_donor_stands_as_it_was_weighed() -> None:
    loads = axle_loads_kg(DONOR, WHEELBASE_M)
    assert (loads.front_kg, loads.rear_kg) == pytest.approx((720.0, 640.0))


def test_the_converted_vehicle_with_two_people_stands_as_worked_out() -> None:
    loads = axle_loads_kg([*DONOR, *TAKEN_OUT, *PUT_IN, *PEOPLE], WHEELBASE_M)
    # Moments [kg m]: 1536 + 27 - 40.5 - 102.6 - 6.2 + 22 + 419.25 + 165 = 2019.95.
    assert loads.rear_kg == pytest.approx(2019.95 / 2.40)
    # Mass: 1614 kg, of which 1360 kg donor, 263 kg less, 367 kg and 150 kg more.
    assert loads.front_kg == pytest.approx(1614 - 2019.95 / 2.40)
