from __future__ import annotations

from tests.app.conftest import Opener
from tests.app.screens import start_enquiry, words


def test_without_builds_the_list_says_what_to_do_first(open_screens: Opener):
    screen = open_screens()
    assert "No vehicle is in talk yet" in words(screen)
    assert [button.label for button in screen.button] == [
        "Start an enquiry",
        "Start the first enquiry",
    ]


def test_a_build_is_listed_with_its_customer_and_how_far_it_is(open_screens: Opener):
    start_enquiry(open_screens(), "Ann <b>Example</b>")
    said = words(open_screens())
    assert "Ann &lt;b&gt;Example&lt;/b&gt;" in said
    assert "B-0001" in said
    assert "Enquiry, 5 choices open" in said


def test_a_search_without_result_says_what_was_looked_for(open_screens: Opener):
    start_enquiry(open_screens())
    screen = open_screens()
    screen.text_input[0].input("<i>nobody</i>").run()
    assert "Nothing was found for “&lt;i&gt;nobody&lt;/i&gt;”" in words(screen)


def test_a_search_finds_by_a_part_of_the_name(open_screens: Opener):
    start_enquiry(open_screens(), "Ann Example")
    screen = open_screens()
    screen.text_input[0].input("exam").run()
    assert "Ann Example" in words(screen)


def test_every_screen_of_an_invented_workshop_says_so(open_screens: Opener):
    screen = open_screens()
    notice = "Demonstration: invented workshop, vehicles and prices"
    assert notice in words(screen)
    start_enquiry(screen)
    assert notice in words(screen)
    screen.button(key="to-papers").click().run()
    assert notice in words(screen)
