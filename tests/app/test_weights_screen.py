"""The weights page: what it says of an open and of a complete build."""

from __future__ import annotations

from tests.app.conftest import Opener
from tests.app.screens import by_the_papers, start_enquiry, words


def test_while_choices_are_open_the_page_says_which(open_screens: Opener) -> None:
    said = words(by_the_papers(start_enquiry(open_screens()), "weights"))
    assert "still open: Cells" in said
    assert "<table" not in said
    assert "no approval" in said


def test_a_complete_build_shows_stages_limits_and_drawings(open_screens: Opener) -> None:
    screen = start_enquiry(open_screens())
    screen.button(key="house-choices").click().run()
    said = words(by_the_papers(screen, "weights"))
    for title in ("From empty to fully laden", "What limits each axle", "Where the masses are"):
        assert title in said
    for stage in ("Donor as it came", "Kerb: ready to drive, empty", "With the driver"):
        assert stage in said
    assert "±" in said
    assert 3 == [element.type for element in screen.main].count("image")
    assert "weighbridge" in said
    assert screen.button(key="to-papers").click().run().button(key="to-weights")
