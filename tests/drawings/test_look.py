from __future__ import annotations

from configurator.catalog.models.group import OptionLook
from configurator.drawings.look import VehicleLook, look_of


def test_nothing_chosen_leaves_everything_open() -> None:
    assert VehicleLook() == look_of([])
    assert VehicleLook() == look_of([OptionLook(swatch="#112233")])


def test_each_choice_adds_its_part_of_the_look() -> None:
    looks = [
        OptionLook(body_colour="#112233"),
        OptionLook(second_colour="#ddeeff"),
        OptionLook(roof_shape="raised"),
        OptionLook(wheel_style="slotted"),
        OptionLook(extra="awning"),
        OptionLook(extra="tow-ball"),
    ]
    expected = VehicleLook(
        "#112233", "#ddeeff", "raised", "slotted", frozenset({"awning", "tow-ball"})
    )
    assert expected == look_of(looks)


def test_of_two_that_differ_the_later_shows() -> None:
    looks = [OptionLook(body_colour="#112233"), OptionLook(body_colour="#445566")]
    assert look_of(looks).body_colour == "#445566"
