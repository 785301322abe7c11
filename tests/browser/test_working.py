from __future__ import annotations

import pytest
from playwright.sync_api import Page

from tests.browser.talk import begin_talk

pytestmark = pytest.mark.browser


def wait_until_still(page: Page) -> None:
    page.wait_for_selector("[data-testid=stApp][data-test-script-state=notRunning]")


def test_a_figure_leads_to_its_working_by_keyboard_and_back(page: Page, address: str) -> None:
    begin_talk(page, address)
    page.wait_for_selector("[data-figures-of]")
    link = page.get_by_role("link", name="How? Price, worked out")
    link.focus()
    link.press("Enter")
    page.wait_for_selector(".working-result")
    assert "fact=price_gbp" in page.url
    assert page.locator(".working h2").first.inner_text() == "Price with VAT"
    page.get_by_role("button", name="Back to the talk").press("Enter")
    page.wait_for_selector("[data-price-low]")


@pytest.mark.thorough
def test_another_figure_goes_into_the_address_in_one_step(page: Page, address: str) -> None:
    begin_talk(page, address)
    page.get_by_role("link", name="How? Price, worked out").click()
    page.wait_for_selector(".working-result")
    wait_until_still(page)
    before = page.evaluate("history.length")
    page.get_by_role("combobox").focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.type("Charging time")
    page.keyboard.press("Enter")
    page.wait_for_url("**fact=charging_hours**")
    page.locator(".working h2", has_text="Charging time").wait_for()
    wait_until_still(page)
    assert before + 1 == page.evaluate("history.length")
    page.reload()
    page.locator(".working h2", has_text="Charging time").wait_for()


@pytest.mark.parametrize("width", [pytest.param(1280, marks=pytest.mark.thorough), 820])
def test_the_working_needs_no_scrolling_sideways(page: Page, address: str, width: int) -> None:
    begin_talk(page, address)
    page.wait_for_selector("[data-figures-of]")
    page.set_viewport_size({"width": width, "height": 900})
    page.get_by_role("link", name="worked out").nth(1).click()
    page.wait_for_selector(".working-result")
    wait_until_still(page)
    wider = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    assert wider <= 0
