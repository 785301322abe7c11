from __future__ import annotations

from tests.app.conftest import Opener
from tests.app.screens import start_enquiry, words


def test_the_enquiry_leads_to_the_talk_with_the_build_in_the_address(open_screens: Opener):
    screen = start_enquiry(open_screens())
    assert screen.query_params["build"] in ("B-0001", ["B-0001"])
    assert "Clover float" in words(screen)
    assert not screen.exception


def test_an_empty_form_says_everything_that_is_missing_and_creates_nothing(open_screens: Opener):
    screen = open_screens()
    screen.button(key="start-enquiry").click().run()
    screen.button[-1].click().run()
    assert "give the customer’s name" in words(screen)
    assert "choose the vehicle" in words(screen)
    assert "No vehicle is in talk yet" in words(open_screens())


def test_looking_at_the_form_creates_nothing(open_screens: Opener):
    screen = open_screens()
    screen.button(key="start-enquiry").click().run()
    assert "No vehicle is in talk yet" in words(open_screens())


def test_every_vehicle_of_the_catalog_can_be_asked_for(open_screens: Opener):
    screen = open_screens()
    screen.button(key="start-enquiry").click().run()
    labels = [button.label for button in screen.button]
    assert labels[:2] == ["Choose the Clover float", "Choose the Clover van"]


def test_the_chosen_vehicle_says_so(open_screens: Opener):
    screen = open_screens()
    screen.button(key="start-enquiry").click().run()
    screen.button(key="vehicle-clover-van").click().run()
    assert screen.button(key="vehicle-clover-van").label == "✓ Clover van it is"


def test_a_catalog_that_lost_the_vehicle_meanwhile_is_told(open_screens: Opener):
    screen = open_screens()
    screen.button(key="start-enquiry").click().run()
    screen.session_state["vehicle"] = "no-such-vehicle"
    screen.text_input[0].input("Ann Example")
    screen.button[-1].click().run()
    assert not screen.exception
    assert "no-such-vehicle" in words(screen)
