"""Axle loads, centre of gravity and what follows from it, against sums made by hand."""

from fractions import Fraction

import pytest

from configurator.physics.centre_of_gravity import (
    MassAt,
    guessed_height_m,
    rear_braking_share_percent,
    rollover_threshold_g,
    stance,
)

WHEELBASE_M, TRACK_M = 2.40, 1.40
DONOR = (MassAt(720, 0, 0, 0.60), MassAt(640, 2.40, 0, 0.60))
OUT = (MassAt(-150, 0.20, 0, 0.60), MassAt(-40, 2.70, -0.35, 0.40))
IN = (MassAt(70, 0.90, 0, 0.40), MassAt(240, 1.30, 0, 0.35))
PEOPLE = (MassAt(75, 0.60, 0.40, 0.95), MassAt(75, 0.60, -0.40, 0.95))
LOAD = (MassAt(120, 2.20, 0, 0.80),)


# Source: worked example, donor 720/640 kg on a wheelbase of 2.40 m; moments summed by hand:
# out 150 x 0.20 + 40 x 2.70 = 138, in 70 x 0.90 + 240 x 1.30 = 375, so that the rear moment is
# 640 x 2.40 + 375 - 138 = 1773 kg m; the mass is 1360 - 190 + 310 = 1480 kg.
def test_the_worked_example_of_taking_out_and_putting_in() -> None:
    kerb = stance((*DONOR, *OUT, *IN), WHEELBASE_M, TRACK_M)
    assert pytest.approx(1480) == kerb.mass_kg
    assert pytest.approx(738.75) == kerb.rear_kg
    assert pytest.approx(741.25) == kerb.front_kg


# Source: the same example, by hand: people 150 x 0.60 = 90 and load 120 x 2.20 = 264 kg m more.
def test_the_worked_example_with_two_people_and_load() -> None:
    laden = stance((*DONOR, *OUT, *IN, *PEOPLE, *LOAD), WHEELBASE_M, TRACK_M)
    assert pytest.approx(1750) == laden.mass_kg
    assert pytest.approx((1773 + 90 + 264) / 2.4) == laden.rear_kg
    assert laden.mass_kg == pytest.approx(laden.front_kg + laden.rear_kg)


# Source: the same example, by hand: height 1360 x 0.60 - 150 x 0.60 - 40 x 0.40 + 70 x 0.40
# + 240 x 0.35 = 822 kg m over 1480 kg; 40 kg taken from 0.35 m left of the middle leave
# 14 kg m to the right, which is 10 kg more on the wheels there of a track of 1.40 m.
def test_the_worked_example_has_its_height_and_its_sides() -> None:
    kerb = stance((*DONOR, *OUT, *IN), WHEELBASE_M, TRACK_M)
    assert pytest.approx(822 / 1480) == kerb.height_m
    assert pytest.approx(740 + 10) == kerb.right_kg
    assert pytest.approx(740 - 10) == kerb.left_kg


# Source: static stability factor t/(2h), 49 CFR Part 575; a track of 61.2 in and a height of
# 21.7 in give 1.41, the average of passenger cars of model year 2003, and 68 in and 30.4 in the
# 1.12 of full-size vans (NHTSA, HS-809 868; averages found, the pairs of measures chosen by hand).
@pytest.mark.parametrize(
    ("track_in", "height_in", "factor"), [(61.2, 21.7, 1.41), (68.0, 30.4, 1.12)]
)
def test_the_static_stability_factor(track_in: float, height_in: float, factor: float) -> None:
    inch = 0.0254
    found = rollover_threshold_g(track_in * inch, height_in * inch)
    assert factor == pytest.approx(found, abs=0.005)


# Source: moments about the rear contact by hand, in fractions: at z g the front gains z h / L.
def test_braking_takes_load_off_the_rear_axle() -> None:
    share, height, wheelbase, z = Fraction(9, 20), Fraction(3, 5), Fraction(12, 5), Fraction(4, 5)
    front_moment = (1 - share) * wheelbase + z * height
    expected = 100 * (1 - front_moment / wheelbase)
    found = rear_braking_share_percent(float(share), float(height), float(wheelbase), float(z))
    assert float(expected) == pytest.approx(found)


# Source: NHTSA, HS-809 868, for 1.12 as average factor of full-size vans; from memory, a track of
# 1.72 m and a roof at 2.05 m are usual for them.
def test_the_guessed_height_comes_near_to_that_of_vans() -> None:
    expected = 1.72 / (2 * 1.12)
    assert expected == pytest.approx(guessed_height_m(2.05), rel=0.1)
