"""A discount is typed on the page of the quotation and stands in what would be quoted."""

from __future__ import annotations

from streamlit.testing.v1 import AppTest

from tests.app.conftest import Opener
from tests.app.screens import by_the_papers, start_enquiry, words


def keep(screen: AppTest, amount: str, reason: str) -> AppTest:
    fields = {field.label: field for field in screen.text_input}
    fields["Discount in £ with VAT"].input(amount)
    fields["Why it is given"].input(reason)
    button = next(each for each in screen.button if each.label == "Keep the discount")
    return button.click().run()


def test_a_discount_is_refused_in_words_kept_and_shown(open_screens: Opener) -> None:
    screen = by_the_papers(start_enquiry(open_screens()), "quotation")
    screen = keep(screen, "some", "")
    assert "Why it is given" in words(screen)
    assert "The discount is kept" not in words(screen)
    screen = keep(screen, "120.50", "Brought <b>it</b> himself")
    said = words(screen)
    assert "The discount is kept" in said
    assert "<b>it</b>" not in said
    assert "£120.50" in said
    assert not screen.exception
