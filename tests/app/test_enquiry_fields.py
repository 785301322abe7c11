from __future__ import annotations

from configurator.app.view_models.enquiry import (
    TypedEnquiry,
    customer_and_donor,
    enquiry_problems,
)


def test_a_name_and_a_vehicle_are_enough():
    assert enquiry_problems(TypedEnquiry("Ann Example", "", "van", "", "")) == ()


def test_every_problem_is_told_at_once():
    problems = enquiry_problems(TypedEnquiry("  ", "c" * 201, None, "d" * 2001, ""))
    assert len(problems) == 4


def test_names_in_any_script_and_with_markup_are_kept_as_they_are():
    typed = TypedEnquiry("  <b>Zoë</b> 漢字 ", "", "van", "", "")
    people = customer_and_donor(typed)
    assert people is not None
    assert people[0].name == "<b>Zoë</b> 漢字"


def test_a_name_of_two_hundred_characters_fits():
    typed = TypedEnquiry("n" * 200, "", "van", "", "")
    assert enquiry_problems(typed) == ()
    assert customer_and_donor(typed) is not None
