from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from pypdf import PdfReader

from tests.browser.server import free_port, serving_screens
from tests.browser.talk import (
    answer_of,
    begin_talk,
    build_on,
    enquire,
    go_to_part,
    price,
    tile,
    wait_for_another_price,
    wait_until_taken,
)

pytestmark = pytest.mark.browser


def pages_of(page: Page, button: str, folder: Path) -> list[str]:
    with page.expect_download() as started:
        page.get_by_role("button", name=button, exact=True).click()
    path = folder / started.value.suggested_filename
    started.value.save_as(path)
    return [sheet.extract_text() for sheet in PdfReader(path).pages]


def test_a_talk_from_the_enquiry_to_both_papers(chromium: Browser, page: Page, tmp_path: Path):
    data, port = tmp_path / "data", free_port()
    with serving_screens(data, port) as address:
        enquire(page, address, "Clover float", "Ann <b>Example</b>")
        assert re.search(r"/consultation\?build=B-0001$", page.url)
        expect(page.get_by_text("for Ann <b>Example</b> · B-0001")).to_be_visible()

        before = price(page)
        tile(page, "cells", "many-cells").click()
        after = wait_for_another_price(page, before)
        assert float(after[0]) > float(before[0])

        refused = tile(page, "springs", "old-springs")
        expect(refused).to_have_attribute("aria-disabled", "true")
        expect(answer_of(page, "springs")).to_contain_text("the old springs would sag")
        refused.click(force=True)
        expect(refused).to_have_attribute("aria-checked", "false")

        scarf = tile(page, "warmth", "scarf")
        scarf.focus()
        page.keyboard.press("ArrowRight")
        expect(tile(page, "warmth", "hot-wire")).to_be_focused()
        page.keyboard.press("Space")
        wait_until_taken(page, "warmth", "hot-wire")
        expect(tile(page, "warmth", "hot-wire")).to_be_focused()

        kept = price(page)
        page.reload()
        page.wait_for_selector("[data-price-low]")
        assert price(page) == kept
        wait_until_taken(page, "warmth", "hot-wire")
        go_to_part(page, "looks")
        page.wait_for_selector('[data-group="livery"]')

    with serving_screens(data, port) as address:
        # The page was open all the while; this is its first click on the new server.
        page.wait_for_selector("[data-testid=stApp][data-test-connection-state=CONNECTED]")
        tile(page, "livery", "nettle").click()
        wait_until_taken(page, "livery", "nettle")
        elsewhere = chromium.new_page()
        elsewhere.goto(f"{address}/consultation?build=B-0001&part=looks")
        wait_until_taken(elsewhere, "livery", "nettle")
        elsewhere.close()

        page.get_by_role("button", name="Let the workshop choose the rest").click()
        page.wait_for_selector("text=Everything is chosen.")
        page.get_by_role("button", name="Papers", exact=True).click()
        sheet = pages_of(page, "Download the spec sheet", tmp_path)
        pack = pages_of(page, "Download the handover pack", tmp_path)
    assert "B-0001" in sheet[0]
    assert "Clover float" in "".join(sheet)
    assert "Ann <b>Example</b>" in "".join(sheet)
    assert len(pack) > len(sheet)
    assert all("B-0001" in text for text in pack)


def test_a_refusal_says_why_and_a_way_out_is_taken_and_taken_back(page: Page, address: str):
    begin_talk(page, address)
    tile(page, "cells", "many-cells").click()
    wait_until_taken(page, "cells", "many-cells")
    answer = answer_of(page, "springs")
    expect(answer).to_contain_text("the old springs would sag")
    way = answer.get_by_role("button", name="Take this way out")
    expect(way).to_contain_text("Cells: Few cells instead of Many cells")
    for figure in ("Price", "Range", "Kerb mass", "Finish"):
        expect(way.locator(".difference", has_text=figure)).to_have_count(1)
    expect(answer).to_contain_text("Differences are against")
    way.focus()
    page.keyboard.press("Enter")
    wait_until_taken(page, "springs", "old-springs")
    wait_until_taken(page, "cells", "few-cells")
    expect(tile(page, "springs", "old-springs")).to_be_focused()
    said = page.locator('[data-group="springs"] .said')
    expect(said).to_contain_text("The old springs is chosen, and with it Cells: Few cells.")
    said.get_by_role("button", name="Take it back").click()
    wait_until_taken(page, "cells", "many-cells")
    expect(tile(page, "springs", "old-springs")).to_have_attribute("aria-disabled", "true")
    expect(said).to_have_count(0)


@pytest.mark.thorough
def test_no_way_out_alters_what_must_be_kept(page: Page, address: str):
    begin_talk(page, address)
    tile(page, "cells", "many-cells").click()
    wait_until_taken(page, "cells", "many-cells")
    keep = page.get_by_role("button", name="Cells, Many cells: must keep")
    expect(keep).to_have_attribute("aria-pressed", "false")
    keep.press("Enter")
    expect(keep).to_have_attribute("aria-pressed", "true")
    expect(keep).to_be_focused()
    answer = answer_of(page, "springs")
    expect(answer).to_contain_text("must keep")
    expect(answer.get_by_role("button", name="Take this way out")).to_have_count(0)
    keep.press("Enter")
    expect(keep).to_have_attribute("aria-pressed", "false")
    expect(answer.get_by_role("button", name="Take this way out")).to_have_count(1)


def test_a_refused_tile_answers_when_asked_and_falls_silent_again(page: Page, address: str):
    begin_talk(page, address)
    tile(page, "cells", "many-cells").click()
    wait_until_taken(page, "cells", "many-cells")
    ask = page.get_by_role("button", name="The old springs: Why not?")
    answer = answer_of(page, "springs")
    expect(ask).to_have_attribute("aria-expanded", "true")
    ask.click()
    expect(answer).to_have_count(0)
    expect(ask).to_have_attribute("aria-expanded", "false")
    tile(page, "springs", "old-springs").press("Space")
    expect(answer).to_contain_text("the old springs would sag")
    follows = page.get_by_role("button", name="Stiff springs: Why?")
    follows.click()
    expect(answer).to_contain_text("Follows from Many cells")
    assert follows.bounding_box()["height"] >= 44


def test_what_still_can_become_of_the_build_is_said_while_choices_are_open(
    page: Page, address: str
):
    begin_talk(page, address)
    outlook = page.locator(".outlook")
    expect(outlook).to_contain_text("from–to")
    expect(outlook).to_contain_text("still possible")
    expect(outlook).to_contain_text("If the workshop chooses the rest")
    page.get_by_role("button", name="Let the workshop choose the rest").click()
    page.wait_for_selector("text=Everything is chosen.")
    expect(outlook).to_have_count(0)


def test_two_quick_clicks_in_two_groups_are_both_kept(page: Page, address: str):
    begin_talk(page, address)
    for group, option in (("cells", "many-cells"), ("warmth", "scarf")):
        tile(page, group, option).wait_for()
    page.evaluate(
        """() => {
            const roots = [...document.querySelectorAll('*')].map(e => e.shadowRoot).filter(r => r);
            const find = name => roots.map(r => r.querySelector(`[data-option="${name}"]`))
                .find(found => found);
            find('many-cells').click();
            find('scarf').click();
        }"""
    )
    wait_until_taken(page, "cells", "many-cells")
    wait_until_taken(page, "warmth", "scarf")
    expect(page.locator(".notice")).to_have_count(0)


def test_a_change_on_another_screen_is_told_and_nothing_is_overwritten(
    chromium: Browser, page: Page, address: str
):
    begin_talk(page, address)
    other = chromium.new_page()
    other.goto(page.url)
    tile(other, "cells", "few-cells").click()
    wait_until_taken(other, "cells", "few-cells")
    other.close()
    tile(page, "cells", "many-cells").click()
    expect(page.locator(".notice.asked")).to_contain_text("Nothing was lost")
    wait_until_taken(page, "cells", "few-cells")


def test_a_choice_can_be_left_open_again_from_the_keyboard(page: Page, address: str):
    begin_talk(page, address)
    tile(page, "cells", "few-cells").click()
    wait_until_taken(page, "cells", "few-cells")
    page.get_by_role("button", name="Cells: leave it open again").press("Enter")
    page.wait_for_selector('[data-group="cells"] .note:has-text("Still open")')


@pytest.mark.parametrize(
    ("width", "height"), [pytest.param(1280, 900, marks=pytest.mark.thorough), (820, 1180)]
)
def test_the_price_stays_in_sight_while_the_talk_is_scrolled(
    page: Page, address: str, width: int, height: int
):
    begin_talk(page, address)
    page.set_viewport_size({"width": width, "height": height})
    page.locator('[data-testid="stMain"]').evaluate("main => main.scrollTo(0, 450)")
    page.wait_for_timeout(300)
    place = page.locator("[data-price-low]").bounding_box()
    assert place is not None
    assert place["y"] >= 0
    assert place["y"] + place["height"] <= height
    overflow = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert overflow <= 0


@pytest.mark.thorough
def test_back_from_the_talk_creates_no_second_build(page: Page, address: str):
    enquire(page, address, "Clover float", "Back and forth")
    page.go_back()
    page.wait_for_timeout(500)
    page.go_forward()
    page.wait_for_selector("[data-price-low]")
    began = build_on(page)
    page.goto(address)
    page.wait_for_selector(f"text={began}")
    page.goto(f"{address}/builds")
    page.wait_for_selector(f"text={began}")
    expect(page.get_by_text("Page not found")).to_have_count(0)
    expect(page.get_by_text("Back and forth")).to_have_count(1)
