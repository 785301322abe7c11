from __future__ import annotations

import re

from streamlit.testing.v1 import AppTest

from tests.app.conftest import Opener
from tests.app.screens import start_enquiry, words


def price(screen: AppTest) -> tuple[str, str]:
    found = re.search(r'data-price-low="([\d.]+)" data-price-high="([\d.]+)"', words(screen))
    assert found is not None
    return found[1], found[2]


def test_the_talk_shows_price_range_weights_and_what_is_open(open_screens: Opener):
    said = words(start_enquiry(open_screens()))
    for what in ("Price", "Kerb mass", "Front axle", "Rear axle", "Earliest finish", "still open"):
        assert what in said


def test_the_talk_says_that_a_computed_figure_approves_nothing(open_screens: Opener):
    assert "approve nothing" in words(start_enquiry(open_screens()))


def test_the_workshop_can_choose_the_rest_and_open_it_again(open_screens: Opener):
    screen = start_enquiry(open_screens())
    assert len(set(price(screen))) == 2
    screen.button(key="house-choices").click().run()
    assert len(set(price(screen))) == 1
    assert "Everything is chosen" in words(screen)
    screen.button(key="house-choices").click().run()
    assert len(set(price(screen))) == 2


def test_undo_takes_the_last_change_back_and_then_rests(open_screens: Opener):
    screen = start_enquiry(open_screens())
    assert screen.button(key="undo").disabled
    screen.button(key="house-choices").click().run()
    screen.button(key="undo").click().run()
    assert len(set(price(screen))) == 2
    assert screen.button(key="undo").disabled


def test_the_next_part_is_put_into_the_address(open_screens: Opener):
    screen = start_enquiry(open_screens())
    screen.button(key="next-part").click().run()
    assert "<h2>The looks</h2>" in words(screen)
    assert screen.query_params["part"] in ("looks", ["looks"])


def test_an_unknown_build_is_said_in_a_sentence_with_a_remedy(open_screens: Opener):
    screen = start_enquiry(open_screens())
    screen.query_params["build"] = "B-9999"
    screen.run()
    assert not screen.exception
    assert "There is no build &quot;B-9999&quot;" in words(screen)
    assert "Choose one from the list of builds." in words(screen)


def test_an_address_without_a_build_leads_back_to_the_list(open_screens: Opener):
    screen = start_enquiry(open_screens())
    screen.query_params["build"] = "<script>"
    screen.run()
    assert "The address names no build." in words(screen)
    screen.button(key="to-builds").click().run()
    assert "<h1>Builds</h1>" in words(screen)


def test_two_screens_on_one_draft_show_the_same_state(open_screens: Opener):
    first = start_enquiry(open_screens())
    first.button(key="house-choices").click().run()
    assert "All chosen" in words(open_screens())
