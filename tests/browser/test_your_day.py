from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.talk import begin_talk

pytestmark = pytest.mark.browser


def go_to_day(page: Page) -> None:
    page.get_by_role("button", name="Your day", exact=True).click()
    page.wait_for_selector(".day-said")


def wait_until_still(page: Page) -> None:
    page.wait_for_selector("[data-testid=stApp][data-test-script-state=notRunning]")


def test_a_day_is_slid_with_the_keyboard_answered_and_kept(page: Page, address: str) -> None:
    begin_talk(page, address)
    go_to_day(page)
    slider = page.get_by_role("slider", name="On country roads (km)")
    slider.focus()
    slider.press("Home")
    page.wait_for_selector('.day-said[data-fits="yes"]')
    wait_until_still(page)
    slider.focus()
    slider.press("End")
    page.wait_for_selector('.day-said[data-fits="no"]')
    wait_until_still(page)
    page.get_by_role("button", name="Keep this day").press("Enter")
    page.get_by_role("button", name="This day is kept").wait_for()
    page.reload()
    page.wait_for_selector('.day-said[data-fits="no"]')
    expect(page.get_by_role("button", name="This day is kept")).to_be_disabled()


def test_a_click_right_after_typing_keeps_what_was_typed(page: Page, address: str) -> None:
    begin_talk(page, address)
    go_to_day(page)
    page.get_by_role("spinbutton", name="Climbed in all (m)").fill("350")
    page.get_by_role("button", name="Keep this day").click()
    page.get_by_role("button", name="This day is kept").wait_for()
    wait_until_still(page)
    page.reload()
    page.wait_for_selector(".day-said")
    expect(page.get_by_role("spinbutton", name="Climbed in all (m)")).to_have_value("350")


@pytest.mark.parametrize(
    "width",
    [
        pytest.param(1280, marks=pytest.mark.thorough),
        pytest.param(820, marks=pytest.mark.thorough),
        400,
    ],
)
def test_the_day_needs_no_scrolling_sideways(page: Page, address: str, width: int) -> None:
    begin_talk(page, address)
    go_to_day(page)
    page.set_viewport_size({"width": width, "height": 900})
    wait_until_still(page)
    wider = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    assert wider <= 0
