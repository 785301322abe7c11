"""What a person does on the screens."""

from __future__ import annotations

from datetime import UTC, datetime
from urllib.parse import parse_qs, urlsplit

from playwright.sync_api import Locator, Page

from configurator.catalog.models.build import BuildInput, Customer
from configurator.record.database import open_record
from configurator.record.new_builds import add_build
from tests.browser.server import DATA_OF

Price = tuple[str, str]


def begin_talk(page: Page, address: str, name: str = "Ann Example") -> None:
    """Come to the talk about a Clover float, with an enquiry that is on record already."""
    record, now = open_record(DATA_OF[address]), datetime.now(UTC)
    build = BuildInput(
        reference="B-0000",
        customer=Customer(name=name),
        vehicle="clover-float",
        priced_on=now.date(),
    )
    reference = add_build(record, build, now=now).reference
    record.engine.dispose()
    page.goto(f"{address}/consultation?build={reference}")
    page.wait_for_selector("[data-price-low]")


def enquire(page: Page, address: str, vehicle: str, name: str = "Ann Example") -> None:
    """Start an enquiry on the screens and come to the talk."""
    page.goto(address)
    page.get_by_role("button", name="Start an enquiry").click()
    page.get_by_role("textbox", name="Customer’s name").fill(name)
    page.get_by_role("button", name=f"Choose the {vehicle}").click()
    page.get_by_role("button", name=f"{vehicle} it is").wait_for()
    page.get_by_role("button", name="Begin the talk").click()
    page.wait_for_selector("[data-price-low]")


def build_on(page: Page) -> str:
    """Read which build a page is about, from its address."""
    (reference,) = parse_qs(urlsplit(page.url).query)["build"]
    return reference


def price(page: Page) -> Price:
    """Read the from–to in the summary."""
    shown = page.locator("[data-price-low]")
    return (
        shown.get_attribute("data-price-low") or "",
        shown.get_attribute("data-price-high") or "",
    )


def wait_for_another_price(page: Page, before: Price) -> Price:
    """Wait until the summary shows another price."""
    page.wait_for_function(
        """before => {
            const shown = document.querySelector('[data-price-low]');
            return shown && (shown.dataset.priceLow !== before[0]
                || shown.dataset.priceHigh !== before[1]);
        }""",
        arg=list(before),
    )
    return price(page)


def tile(page: Page, group: str, option: str) -> Locator:
    """Find a tile of a group."""
    return page.locator(f'[data-group="{group}"] [data-option="{option}"]')


def answer_of(page: Page, group: str) -> Locator:
    """Find what a group says of why a tile is refused or follows."""
    return page.locator(f'[data-group="{group}"] .panel')


def wait_until_taken(page: Page, group: str, option: str) -> None:
    """Wait until the saved draft has an option, as the tiles show it again."""
    page.wait_for_selector(
        f'[data-group="{group}"][aria-busy="false"] [data-option="{option}"] .badge'
    )


def go_to_part(page: Page, part: str) -> None:
    """Go to a part of the talk."""
    page.locator(f'[data-part="{part}"]').click()
    page.wait_for_selector(f'[data-part="{part}"][aria-current="step"]')
