from __future__ import annotations

from configurator.app.view_models.electrical_set import electrical_page
from configurator.build_spec.electrical_check import CheckWords
from tests.app.conftest import Opener
from tests.app.screens import by_the_papers, start_enquiry, words

WORDS = CheckWords(
    "a", "Main fuse", "Rating <b>", "A", "as stated", "invented for tests", 1, "at most"
)


def test_while_choices_are_open_the_page_says_which(open_screens: Opener):
    said = words(by_the_papers(start_enquiry(open_screens()), "electrical"))
    assert "still open: Cells" in said
    assert "<table" not in said
    assert "A competent person designs and signs the installation" in said


def test_a_complete_build_shows_every_check_with_verdict_and_source(open_screens: Opener):
    screen = start_enquiry(open_screens())
    screen.button(key="house-choices").click().run()
    said = words(by_the_papers(screen, "electrical"))
    for topic in ("Battery", "Voltage windows", "Currents of the battery", "12 V supply"):
        assert f">{topic}</caption>" in said
    assert "For a competent person to settle" in said
    assert "Not stated" in said
    assert "Source: UN Regulation No. 100, 5.1.3." in said
    for part in ("kills and burns", "Switch off, lock, wait"):
        assert part in said
    assert screen.button(key="to-papers").click().run().button(key="to-electrical")


def test_verdicts_stand_in_words_and_a_formula_once_in_a_row():
    page = electrical_page(
        [WORDS.against(10.04, 12.0), WORDS.against(12.5, 12.0), WORDS.against(None, 12.0, "it")]
    )
    [topic] = page.topics
    first, second, third = topic.rows
    assert ("10.0\xa0A", "at most 12.0\xa0A", "2.0\xa0A", "Kept") == (
        first.value,
        first.bound,
        first.margin,
        first.verdict_words,
    )
    assert ("−0.5\xa0A", "Beyond the bound") == (second.margin, second.verdict_words)
    assert ("—", "", "Not stated") == (third.value, third.margin, third.verdict_words)
    assert "As stated. Source: invented for tests." == first.how
    assert "" == second.how
    assert third.how.endswith("Missing: it.")
    assert page.for_a_person == (
        "Main fuse, rating <b>: 12.5\xa0A, at most 12.0\xa0A.",
        "Main fuse, rating <b>: not stated. The catalog lacks it.",
    )
    assert page.in_brief.startswith("1 bound is kept, 1 not kept; 1 value is not stated")
