from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from configurator.record.database import open_record
from configurator.workflow.accounts import add_account
from tests.browser.server import free_port, serving_screens

pytestmark = pytest.mark.browser

FIRST = "four invented words"
SECOND = "five other invented words"


def _log_in(page: Page, name: str, password: str) -> None:
    page.get_by_label("Name").fill(name)
    page.get_by_label("Password").fill(password)
    page.get_by_role("button", name="Log in").click()


def _bar(page: Page) -> str:
    page.wait_for_selector(".st-key-who-acts button")
    return page.locator(".st-key-who-acts button").first.inner_text().split("\n")[0]


def test_from_the_first_account_to_two_people_in_their_roles(
    chromium: Browser, page: Page, tmp_path: Path
):
    data = tmp_path / "data"
    with serving_screens(data, free_port(), solo=None) as address:
        page.goto(address)
        expect(page.get_by_role("heading", name="The first account")).to_be_visible()
        page.get_by_label("Name").fill("Ann <b>Sample</b>")
        page.get_by_label("New password", exact=True).fill("short")
        page.get_by_label("New password once more").fill("short")
        page.get_by_role("button", name="Make the account and log in").click()
        expect(page.get_by_role("alert")).to_contain_text("12 to 1000 characters")
        page.get_by_label("Name").fill("Ann <b>Sample</b>")
        page.get_by_label("New password", exact=True).fill(FIRST)
        page.get_by_label("New password once more").fill(FIRST)
        page.keyboard.press("Enter")
        assert _bar(page).startswith("Ann <b>Sample</b>, manager")

        record = open_record(data)
        roles, now = ["consultant", "engineer"], datetime.now(UTC)
        add_account(record, "Bo Example", roles, SECOND, now=now)
        record.engine.dispose()

        context = chromium.new_context()
        other = context.new_page()
        other.goto(f"{address}/papers?build=B-0001")
        _log_in(other, "Bo Example", FIRST)
        expect(other.get_by_role("alert")).to_contain_text("do not go together")
        _log_in(other, "bo example", SECOND)
        assert _bar(other).startswith("Bo Example, consultant")
        assert "/papers?build=B-0001" in other.url
        assert [] == [c["name"] for c in context.cookies() if c["value"] in other.content()]
        assert "workshop-" not in str(other.evaluate("document.cookie"))

        other.locator(".st-key-who-acts button").first.click()
        other.get_by_text("Engineer", exact=True).click()
        expect(other.locator(".st-key-who-acts button").first).to_contain_text("engineer")
        other.reload()
        assert _bar(other).startswith("Bo Example, engineer")

        second_tab = context.new_page()
        second_tab.goto(address)
        assert _bar(second_tab).startswith("Bo Example, engineer")
        other.locator(".st-key-who-acts button").first.click()
        other.get_by_role("button", name="Log out").click()
        expect(other.get_by_role("heading", name="Log in")).to_be_visible()
        second_tab.get_by_role("button", name="Start an enquiry").click()
        expect(second_tab.get_by_text("Nobody is logged in at this screen")).to_be_visible()
        second_tab.reload()
        expect(second_tab.get_by_role("heading", name="Log in")).to_be_visible()
        context.close()

        page.reload()
        assert _bar(page).startswith("Ann <b>Sample</b>, manager")


WIDTHS = (1280, 820, 390)
WIDER = "document.documentElement.scrollWidth - window.innerWidth"


@pytest.mark.thorough
def test_the_bar_and_the_log_in_fit_every_screen(page: Page, tmp_path: Path):
    with serving_screens(tmp_path / "data", free_port(), solo=None) as address:
        page.goto(address)
        page.get_by_label("Name").fill("Ann Sample-Example of the Longer Names")
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 900})
            assert page.evaluate(WIDER) <= 0
        page.get_by_label("New password", exact=True).fill(FIRST)
        page.get_by_label("New password once more").fill(FIRST)
        page.keyboard.press("Enter")
        page.wait_for_selector(".st-key-who-acts button")
        page.wait_for_selector(".caution")
        for width in WIDTHS:
            page.set_viewport_size({"width": width, "height": 900})
            page.wait_for_timeout(300)
            assert page.evaluate(WIDER) <= 0
            box = page.locator(".st-key-who-acts button").first.bounding_box()
            assert box is not None
            assert box["height"] >= 44
            assert box["x"] + box["width"] <= width
