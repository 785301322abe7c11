"""The weights page: what it says of an open and of a complete build."""

from __future__ import annotations

from streamlit.testing.v1 import AppTest

from tests.app.conftest import Opener
from tests.app.screens import start_enquiry, words


def to_weights(screen: AppTest) -> AppTest:
    screen.button(key="to-papers").click().run()
    return screen.button(key="to-weights").click().run()


def test_while_choices_are_open_the_page_says_which(open_screens: Opener) -> None:
    said = words(to_weights(start_enquiry(open_screens())))
    assert "still open: Cells" in said
    assert "<table" not in said
    assert "no approval" in said


def test_a_complete_build_shows_stages_limits_and_drawings(open_screens: Opener) -> None:
    screen = start_enquiry(open_screens())
    screen.button(key="house-choices").click().run()
    said = words(to_weights(screen))
    for title in ("From empty to fully laden", "What limits each axle", "Where the masses are"):
        assert title in said
    for stage in ("Donor as it came", "Kerb: ready to drive, empty", "With the driver"):
        assert stage in said
    assert "±" in said
    assert 3 == [element.type for element in screen.main].count("image")
    assert "weighbridge" in said
    assert screen.button(key="to-papers").click().run().button(key="to-weights")
