"""The survey is typed on the screen, refused in words, and moves on to the next part."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path
from typing import Any, get_args

import streamlit as st
from streamlit.testing.v1 import AppTest

from configurator.app.view_models.survey import VERDICT_WORDS
from configurator.catalog.models.build import Verdict
from tests.app.conftest import Opener
from tests.app.screens import TINY, by_the_papers, start_enquiry, words


def begin(open_screens: Opener) -> AppTest:
    return by_the_papers(start_enquiry(open_screens()), "survey")


def entry(screen: AppTest, label: str) -> Any:
    fields = (*screen.text_input, *screen.text_area, *screen.checkbox)
    return next(each for each in fields if each.label == label)


def say(screen: AppTest, verdict: Verdict) -> None:
    radio = next(each for each in screen.radio if str(each.key).startswith("verdict-"))
    radio.set_value(verdict)


def press(screen: AppTest, label: str) -> AppTest:
    return next(each for each in screen.button if each.label == label).click().run()


def test_every_verdict_has_words() -> None:
    assert set(get_args(Verdict)) == set(VERDICT_WORDS)


def test_the_danger_is_told_before_anything_is_entered(open_screens: Opener) -> None:
    screen = begin(open_screens)
    assert not screen.exception
    assert "0 of 2 parts looked at" in words(screen)
    assert "Warning. A vehicle on a ramp" in words(screen)


def test_a_verdict_is_kept_and_shown_with_its_price(open_screens: Opener) -> None:
    screen = begin(open_screens)
    say(screen, "repair")
    entry(screen, "Where it comes from, maker and marks").input("Sample <b>makers</b>")
    entry(screen, "Provisional sum in £ without VAT").input("50.00")
    screen = press(screen, "Keep this verdict")
    said = words(screen)
    assert "1 of 2 parts looked at" in said
    assert "Sample &lt;b&gt;makers&lt;/b&gt;" in said
    assert "£56.25" in said, "a provisional sum is told with the 12.5 % VAT of the tiny workshop"
    assert "” is written down." in said
    part = next(each for each in screen.selectbox if each.label == "Part")
    assert 1 == part.value, "it moves on to the next part"
    screen = press(part.select_index(0).run(), "Not looked at")
    assert "0 of 2 parts looked at" in words(screen)


def test_an_entry_that_cannot_be_is_refused_in_words_and_stays(open_screens: Opener) -> None:
    screen = begin(open_screens)
    screen = press(screen, "Keep this verdict")
    assert "Verdict: none is taken." in words(screen)
    say(screen, "replace")
    entry(screen, "Hours, if not the usual").input("ten")
    entry(screen, "Provisional sum in £ without VAT").input("£50")
    screen = press(screen, "Keep this verdict")
    assert "Hours: “ten” is no number." in words(screen)
    assert "Provisional sum: “£50” is no number." in words(screen)
    assert "0 of 2 parts looked at" in words(screen)
    assert "ten" == entry(screen, "Hours, if not the usual").value


def test_a_second_donor_is_told_and_gives_a_part(open_screens: Opener) -> None:
    screen = begin(open_screens)
    entry(screen, "Front axle (kg)").input("410")
    screen = press(screen, "Keep what is known")
    assert "one alone counts for nothing" in words(screen)
    entry(screen, "Front axle (kg)").input("900")
    entry(screen, "Rear axle (kg)").input("520")
    entry(screen, "Second donor, as it came in").input("Front crushed")
    screen = press(screen, "Keep what is known")
    assert "Weighed on: the weights were typed without it" in words(screen)
    (day,) = (each for each in screen.date_input if each.label == "Weighed on")
    day.set_value(date(2026, 3, 4))
    screen = press(screen, "Keep what is known")
    assert "What is known of both donors is written down." in words(screen)
    assert "front axle was entered as 900 kg; 480 kg is usual" in words(screen)
    assert "The usual price is that of a new part" in words(screen)
    say(screen, "keep")
    entry(screen, "Taken from the second donor").check()
    screen = press(screen, "Keep this verdict")
    assert "From the second donor" in words(screen)


def test_what_a_crash_or_years_may_have_spoilt_unseen_is_not_fitted_again(
    open_screens: Opener,
) -> None:
    screen = begin(open_screens)
    assert "crashed or long stored" not in words(screen), "bed planks are no safety part"
    say(screen, "keep")
    said = words(press(screen, "Keep this verdict"))
    # Source: common practice, no source.
    for part in ("seat belts", "brake hoses", "linings", "tyres"):
        assert part in said.split("Maker and marks must be known")[1], part
    assert "crashed or long stored vehicle are not fitted again" in said


def test_a_second_donor_is_taken_away_by_tick_and_words_and_never_by_the_tick_alone(
    open_screens: Opener,
) -> None:
    screen = begin(open_screens)
    entry(screen, "Second donor, as it came in").input("Front crushed")
    screen = press(screen, "Keep what is known")
    second = next(each for each in screen.checkbox if each.label.startswith("A second vehicle"))
    assert second.value
    second.uncheck()
    entry(screen, "Identity mark of the second").input("Sample 2")
    screen = press(screen, "Keep what is known")
    assert "the tick is taken out, and words about it still stand there" in words(screen)
    assert "written down" not in words(screen)
    assert "Sample 2" == entry(screen, "Identity mark of the second").value
    entry(screen, "Identity mark of the second").input("")
    entry(screen, "Second donor, as it came in").input("")
    screen = press(screen, "Keep what is known")
    assert "written down, and the second one is taken away." in words(screen)
    assert "" == entry(screen, "Second donor, as it came in").value
    assert not any(each.label == "Taken from the second donor" for each in screen.checkbox)


def test_work_on_a_part_that_is_kept_is_summed_under_a_name_that_holds(
    open_screens: Opener,
) -> None:
    screen = begin(open_screens)
    say(screen, "keep")
    entry(screen, "Hours, if not the usual").input("2")
    said = words(press(screen, "Keep this verdict"))
    assert "looked at; work on the donor&#x27;s parts £" in said
    assert "repair and replacement" not in said


def test_the_talk_leads_to_a_verdict_on_a_part_that_the_list_lost(
    open_screens: Opener, tmp_path: Path
) -> None:
    catalog = Path(shutil.copytree(TINY, tmp_path / "changed"))
    screen = by_the_papers(start_enquiry(open_screens(catalog)), "survey")
    say(screen, "repair")
    screen = press(screen, "Keep this verdict")
    for file in (catalog / "survey").iterdir():
        file.write_text(file.read_text("utf-8").replace("- id: ", "- id: new-", 1), "utf-8")
    st.cache_resource.clear()
    screen = screen.button(key="to-talk").click().run()
    assert "Survey of the donor" in words(screen)
    screen = press(screen, "Take these verdicts out")
    assert "0 of 2 parts looked at" in words(screen)
    assert "Kerb mass" in words(screen.button(key="to-talk").click().run())
