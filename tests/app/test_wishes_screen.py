from __future__ import annotations

import re
import shutil
from datetime import UTC, datetime
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest
from streamlit.testing.v1.element_tree import Selectbox

from configurator.app import wish_changes
from configurator.build_spec.wish_faults import MOST_WISHES
from configurator.catalog.models.build import Preference, Wish
from configurator.errors import Fault, RecordError
from configurator.workflow.builds import read_draft
from configurator.workflow.premises import open_premises
from configurator.workflow.wishes import set_wishes
from tests.app.conftest import Opener
from tests.app.screens import TINY, start_enquiry, words

JUNE = "Range, nine in ten beyond: The round in June"
PRICE = "Price with VAT"


def go_to_wishes(screen: AppTest) -> AppTest:
    return screen.button(key="to-wishes").click().run()


def begin(open_screens: Opener) -> AppTest:
    return go_to_wishes(start_enquiry(open_screens()))


def submit(screen: AppTest, label: str) -> AppTest:
    return next(button for button in screen.button if button.label == label).click().run()


def subject(screen: AppTest) -> Selectbox:
    return next(box for box in screen.selectbox if box.label == "What is it about?")


def wish(screen: AppTest, about: str, amount: str) -> AppTest:
    subject(screen).select(about).run()
    next(box for box in screen.text_input if box.key.startswith("wish-amount-new")).input(amount)
    return submit(screen, "Add this wish")


def prefer(screen: AppTest, label: str) -> AppTest:
    next(box for box in screen.selectbox if box.key.startswith("liked-")).select(label)
    return submit(screen, "Add it")


def all_met(screen: AppTest) -> bool:
    found = re.search(r'data-all-met="(yes|no)"', words(screen))
    assert found is not None
    return found[1] == "yes"


def typed(screen: AppTest) -> dict[str, str]:
    return {box.key: box.value for box in screen.text_input}


def keys(screen: AppTest, beginning: str) -> list[str]:
    return [b.key for b in screen.button if b.key and b.key.startswith(beginning)]


def test_without_wishes_there_are_builds_to_begin_from_and_words_of_caution(open_screens: Opener):
    screen = begin(open_screens)
    assert not screen.exception
    assert all_met(screen)
    for said in ("Builds to begin from", "never an approval", "low edge", "Price against winter"):
        assert said in words(screen)
    assert keys(screen, "short-take-")


def test_what_is_possible_now_is_said_beside_a_new_wish(open_screens: Opener):
    screen = begin(open_screens)
    subject(screen).select(PRICE).run()
    assert re.search(r"As chosen so far: £[\d,]+ – £[\d,]+\.", words(screen))


def test_a_wish_that_can_be_met_is_held_against_every_build(open_screens: Opener):
    screen = wish(begin(open_screens), JUNE, "80 km")
    assert all_met(screen)
    assert "The wish can be met" in words(screen)
    assert "✓ wished at least 80\xa0km: met" in words(screen)


def test_a_wish_that_cannot_be_met_gives_way_by_the_least_in_one_click(open_screens: Opener):
    screen = wish(begin(open_screens), JUNE, "900")
    assert not all_met(screen)
    assert "cannot all be met together" in words(screen)
    assert "✗ wished at least 900" in words(screen)
    (ease,) = keys(screen, "ease-")
    label = screen.button(key=ease).label
    screen.button(key=ease).click().run()
    assert all_met(screen)
    (least,) = re.findall(r"at least (\d+)", label)
    assert f"wish-amount-range_low_km-round-in-june-at-least-{least}" in typed(screen)


def test_what_is_no_number_is_said_and_stays_as_it_was_typed(open_screens: Opener):
    screen = wish(begin(open_screens), PRICE, "about 20 grand")
    assert "“about 20 grand” is not a number" in words(screen)
    assert "about 20 grand" in typed(screen).values()
    assert "Builds to begin from" in words(screen)


def test_more_wishes_than_help_are_refused_and_what_was_typed_stays(open_screens: Opener):
    screen = begin(open_screens)
    for _ in range(MOST_WISHES):
        about = subject(screen).options[0]
        wish(screen, about, "0" if "£" not in about else "90000")
    wish(screen, subject(screen).options[0], "77")
    assert f"Keep the {MOST_WISHES} that matter most" in words(screen)
    assert "77" in typed(screen).values()


def test_a_wish_can_be_changed_and_removed(open_screens: Opener):
    screen = wish(begin(open_screens), JUNE, "900")
    box = next(b for b in screen.text_input if b.key.endswith("-900"))
    box.input("70")
    next(b for b in screen.button if b.label.startswith("Change")).click().run()
    assert all_met(screen)
    next(b for b in screen.button if b.label.startswith("Remove")).click().run()
    assert "Builds to begin from" in words(screen)
    assert JUNE in subject(screen).options


def test_a_refused_change_of_a_wish_keeps_what_was_typed_and_the_wish(open_screens: Opener):
    screen = wish(begin(open_screens), JUNE, "70")
    next(b for b in screen.text_input if b.key.endswith("-70")).input("far")
    next(b for b in screen.button if b.label.startswith("Change")).click().run()
    assert "“far” is not a number" in words(screen)
    assert "far" in typed(screen).values()
    assert "wished at least 70" in words(screen)


def test_wishes_are_on_disk_at_once(open_screens: Opener, tmp_path: Path):
    screen = prefer(wish(begin(open_screens), JUNE, "70"), "Livery: Nettle")
    assert not screen.exception
    build = read_draft(open_premises(TINY, tmp_path / "data"), "B-0001").build
    assert (Wish(fact="range_low_km", case="round-in-june", at_least=70),) == build.wishes
    assert (Preference(group="livery", option="nettle"),) == build.preferences


def test_preferences_are_moved_and_removed_in_order(open_screens: Opener):
    screen = prefer(prefer(begin(open_screens), "Livery: Nettle"), "Box: Cold box")
    assert screen.button(key="short-up-livery-nettle").disabled
    assert screen.button(key="short-down-box-cold-box").disabled
    screen.button(key="short-up-box-cold-box").click().run()
    assert screen.button(key="short-up-box-cold-box").disabled
    said = words(screen)
    assert said.index("Box: Cold box") < said.index("Livery: Nettle")
    screen.button(key="short-remove-box-cold-box").click().run()
    assert not keys(screen, "short-up-box")
    assert "Keeps 1 of 1 preference" in words(screen)


def test_a_build_is_taken_in_one_click_and_undone_on_the_talk(open_screens: Opener):
    screen = begin(open_screens)
    screen.button(key=keys(screen, "short-take-")[0]).click().run()
    assert "is taken into the talk" in words(screen)
    assert "Everything is chosen" in words(screen)
    screen.button(key="undo").click().run()
    assert "still open" in words(screen)


def test_a_point_of_the_front_is_taken_too(open_screens: Opener):
    screen = begin(open_screens)
    screen.button(key=keys(screen, "take-front-")[-1]).click().run()
    assert "Everything is chosen" in words(screen)
    go_to_wishes(screen)
    assert [b.label for b in screen.button if b.disabled and b.label.startswith("Chosen now")]


def test_a_choice_that_must_stay_is_in_every_answer(open_screens: Opener, tmp_path: Path):
    screen = begin(open_screens)
    assert "nothing has to be kept" in words(screen)
    screen.button(key=keys(screen, "short-take-")[0]).click().run()
    go_to_wishes(screen)
    assert [False] * len(screen.checkbox) == [box.value for box in screen.checkbox]
    screen.checkbox(key="keep-B-0001-cells").check().run()
    assert screen.checkbox(key="keep-B-0001-cells").value
    premises = open_premises(TINY, tmp_path / "data")
    build = read_draft(premises, "B-0001").build
    assert ("cells",) == build.must_keep
    label = screen.checkbox(key="keep-B-0001-cells").label.split()[-2:]
    kept = [kept for kept in re.findall(r"Cells</span><span>(.*?)</span>", words(screen)) if kept]
    assert {" ".join(label)} == set(kept)
    screen.checkbox(key="keep-B-0001-cells").uncheck().run()
    assert () == read_draft(premises, "B-0001").build.must_keep


def refuse(*_args: object, **_more: object) -> None:
    raise RecordError([Fault("R005", "record", "the disk is full", "Free some space.")])


def test_a_refused_mark_is_said_once_and_the_box_shows_what_is_stored(
    open_screens: Opener, monkeypatch: pytest.MonkeyPatch
):
    screen = begin(open_screens)
    screen.button(key=keys(screen, "short-take-")[0]).click().run()
    go_to_wishes(screen)
    with monkeypatch.context() as patched:
        patched.setattr(wish_changes, "keep_choice", refuse)
        screen.checkbox(key="keep-B-0001-cells").check().run()
    assert words(screen).count("disk is full") == 1
    assert not screen.checkbox(key="keep-B-0001-cells").value
    screen.checkbox(key="keep-B-0001-cells").check().run()
    assert screen.checkbox(key="keep-B-0001-cells").value


def test_a_refused_preference_stays_as_it_was_chosen(
    open_screens: Opener, monkeypatch: pytest.MonkeyPatch
):
    screen = begin(open_screens)
    monkeypatch.setattr(wish_changes, "set_wishes", refuse)
    prefer(screen, "Livery: Nettle")
    assert "disk is full" in words(screen)
    assert ["Livery: Nettle"] == [
        box.value for box in screen.selectbox if box.key.startswith("liked-")
    ]


def test_a_change_on_another_screen_is_told_and_shown(open_screens: Opener, tmp_path: Path):
    screen = wish(begin(open_screens), JUNE, "70")
    premises = open_premises(TINY, tmp_path / "data")
    draft = read_draft(premises, "B-0001")
    set_wishes(
        premises, "B-0001", revision=draft.revision, wishes=(), preferences=(),
        now=datetime.now(UTC),
    )  # fmt: skip
    screen.run()
    assert "changed on another screen" in words(screen)
    assert "Builds to begin from" in words(screen)
    screen.run()
    assert "changed on another screen" not in words(screen)


def test_the_talk_is_one_click_away(open_screens: Opener):
    screen = begin(open_screens)
    screen.button(key="to-talk").click().run()
    assert "Kerb mass" in words(screen)


def test_an_address_without_a_build_leads_back_to_the_list(open_screens: Opener):
    screen = begin(open_screens)
    screen.query_params["build"] = "<script>"
    screen.run()
    assert "The address names no build." in words(screen)


def test_a_wish_that_the_catalog_has_lost_is_marked_and_can_be_removed(
    open_screens: Opener, tmp_path: Path
):
    catalog = Path(shutil.copytree(TINY, tmp_path / "changed"))
    screen = go_to_wishes(start_enquiry(open_screens(catalog)))
    wish(screen, "Range, nine in ten beyond: Along the lane", "50")
    wish(screen, PRICE, "90000")
    cases = catalog / "driving_cases.yaml"
    cases.write_text(cases.read_text("utf-8").replace("id: lane", "id: byway"), "utf-8")
    st.cache_resource.clear()
    screen.run()
    assert not screen.exception
    assert "The catalog has no “lane” any more" in words(screen)
    screen.button(key="forget-lost-wishes").click().run()
    assert "any more" not in words(screen)
    assert "The wish can be met" in words(screen)


def test_what_no_wish_can_be_about_is_refused_and_no_wish_can_be_added(
    open_screens: Opener, monkeypatch: pytest.MonkeyPatch
):
    screen = begin(open_screens)
    assert "Add this wish" in [button.label for button in screen.button]
    as_before = st.selectbox

    def typed_by_hand(label: str, *given: object, **named: object) -> object:
        chosen = as_before(label, *given, **named)  # type: ignore[call-overload]
        return "Colour <b>of the horn" if label == "What is it about?" else chosen

    # The harness can only choose what is on the list; a browser hands on what was typed.
    monkeypatch.setattr(st, "selectbox", typed_by_hand)
    screen.run()
    assert not screen.exception
    assert "A wish cannot be about “Colour &lt;b" in words(screen)
    assert "Add this wish" not in [button.label for button in screen.button]
