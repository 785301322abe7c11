from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.talk import begin_talk, price

pytestmark = pytest.mark.browser

JUNE = "Range, nine in ten beyond: The round in June"


def go_to_wishes(page: Page) -> None:
    page.get_by_role("button", name="Wishes", exact=True).press("Enter")
    page.wait_for_selector("[data-all-met]")
    wait_until_still(page)


def wait_until_still(page: Page) -> None:
    page.wait_for_selector("[data-testid=stApp][data-test-script-state=notRunning]")


def saved_as(page: Page, revision: int) -> None:
    """Wait until the answer on the screen is the one to a later draft."""
    page.wait_for_selector(f'[data-all-met][data-revision="{revision}"]')
    wait_until_still(page)


def revision(page: Page) -> int:
    return int(page.locator("[data-all-met]").get_attribute("data-revision") or "")


def wish(page: Page, about: str, amount: str) -> None:
    """Enter a wish with the keyboard alone."""
    before = revision(page)
    box = page.get_by_role("combobox", name="What is it about?")
    box.focus()
    page.keyboard.press("ControlOrMeta+A")
    page.keyboard.type(about)
    page.get_by_role("option", name=about).wait_for()
    page.keyboard.press("Enter")
    expect(box).to_have_value(about)
    wait_until_still(page)
    page.keyboard.press("Tab")
    expect(page.locator(".st-key-wish-new-line input")).to_be_focused()
    page.keyboard.type(amount)
    page.keyboard.press("Enter")
    saved_as(page, before + 1)


def prefer(page: Page, label: str) -> None:
    before = revision(page)
    page.get_by_role("combobox", name="Another option").fill(label)
    page.get_by_role("option", name=label).click()
    page.get_by_role("button", name="Add it").press("Enter")
    saved_as(page, before + 1)


def all_met(page: Page) -> str | None:
    return page.locator("[data-all-met]").get_attribute("data-all-met")


def test_a_wish_that_cannot_be_met_gives_way_and_a_build_is_taken_and_undone_by_keyboard(
    page: Page, address: str
):
    begin_talk(page, address)
    before = price(page)
    go_to_wishes(page)
    assert re.search(r"/wishes\?build=B-\d{4}$", page.url)
    assert "yes" == all_met(page)

    wish(page, JUNE, "900 km")
    assert "no" == all_met(page)
    expect(page.get_by_text("The wishes cannot all be met together")).to_be_visible()
    ease = page.get_by_role("button", name=re.compile(r"^Ask for at least"))
    least = re.findall(r"\d+", ease.inner_text())
    now = revision(page)
    ease.press("Enter")
    saved_as(page, now + 1)
    assert "yes" == all_met(page)
    expect(page.get_by_role("textbox", name=JUNE)).to_have_value("".join(least))

    page.reload()
    page.wait_for_selector('[data-all-met="yes"]')
    expect(page.get_by_role("textbox", name=JUNE)).to_have_value("".join(least))

    page.get_by_role("button", name=re.compile("Take this build")).first.press("Enter")
    page.wait_for_selector("text=Everything is chosen.")
    expect(page.get_by_text("The build is taken into the talk")).to_be_visible()
    low, high = price(page)
    assert low == high
    page.get_by_role("button", name="Undo last change").press("Enter")
    page.wait_for_selector(f'[data-price-low="{before[0]}"][data-price-high="{before[1]}"]')


@pytest.mark.thorough
def test_preferences_change_places_and_the_keyboard_stays_with_them(page: Page, address: str):
    begin_talk(page, address)
    go_to_wishes(page)
    prefer(page, "Livery: Nettle")
    prefer(page, "Box: Cold box")
    now = revision(page)
    page.get_by_role("button", name="Move up Box: Cold box").press("Enter")
    saved_as(page, now + 1)
    rows = page.locator('[class*="st-key-preference-"] b')
    expect(rows.first).to_have_text("1. ")
    expect(page.locator('[class*="st-key-preference-box"] b')).to_have_text("1. ")
    expect(page.get_by_role("button", name="Move up Box: Cold box")).to_be_disabled()


@pytest.mark.thorough
def test_a_choice_is_ticked_as_one_that_must_stay_with_the_space_bar(page: Page, address: str):
    begin_talk(page, address)
    go_to_wishes(page)
    page.get_by_role("button", name=re.compile("^Take 1")).press("Enter")
    page.wait_for_selector("text=Everything is chosen.")
    go_to_wishes(page)
    now = revision(page)
    tick = page.get_by_role("checkbox", name=re.compile("^Cells"))
    tick.press("Space")
    saved_as(page, now + 1)
    expect(tick).to_be_checked()
    expect(tick).to_be_focused()
    page.reload()
    expect(tick).to_be_checked()


@pytest.mark.parametrize(
    ("width", "height"), [pytest.param(1280, 900, marks=pytest.mark.thorough), (820, 1180)]
)
def test_the_chart_has_words_and_nothing_sticks_out(
    page: Page, address: str, width: int, height: int
):
    begin_talk(page, address)
    page.set_viewport_size({"width": width, "height": height})
    go_to_wishes(page)
    wish(page, JUNE, "100")
    chart = page.get_by_role("img", name=re.compile("^Price against range"))
    expect(chart).to_be_visible()
    rows = page.get_by_role("button", name=re.compile(r"^(Take|Chosen now) \d+$"))
    told = chart.get_attribute("alt") or ""
    assert rows.count() == len(re.findall(r"\d+: £", told)) > 0
    overflow = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    assert overflow <= 0
    for button in page.get_by_role("button").all():
        box = button.bounding_box()
        if box is not None:
            assert 0 <= box["x"]
            assert box["x"] + box["width"] <= width
