from __future__ import annotations

from streamlit.testing.v1 import AppTest

from tests.app.conftest import Opener
from tests.app.screens import start_enquiry, words


def to_papers(screen: AppTest) -> AppTest:
    return screen.button(key="to-papers").click().run()


def disabled(screen: AppTest) -> dict[str, bool]:
    return {
        element.proto.label: element.proto.disabled for element in screen.get("download_button")
    }


def test_the_pack_waits_and_names_the_open_choices(open_screens: Opener):
    screen = to_papers(start_enquiry(open_screens()))
    assert disabled(screen) == {
        "Download the spec sheet": False,
        "Download the handover pack": True,
        "Download the calculation sheet": False,
    }
    said = words(screen)
    assert "5 choices are still open" in said
    for name in ("Cells", "Springs", "Warmth", "Box", "Livery"):
        assert name in said


def test_a_complete_build_can_have_both_papers(open_screens: Opener):
    screen = start_enquiry(open_screens())
    screen.button(key="house-choices").click().run()
    assert set(disabled(to_papers(screen)).values()) == {False}


def test_before_any_paper_was_made_the_list_says_so(open_screens: Opener):
    assert "No paper was made yet" in words(to_papers(start_enquiry(open_screens())))
