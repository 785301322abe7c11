"""Nothing prints over another or sticks out, on a desk, a tablet held upright and a telephone."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from configurator.catalog.load import load_catalog
from tests.browser.server import ROOT, free_port, serving_screens
from tests.browser.talk import enquire

pytestmark = pytest.mark.browser

WIDTHS = (1280, 820, 400)
PAGES = {
    "charging-and-driving": "table.times",
    "weights": "table.weights",
    "electrical-set": "table.electrical",
    "measured-on-the-road": "table.moved",
    "your-day": "table.legs",
    "working": "table.inputs",
    "survey": "table.surveyed",
    "quotation": "table.life",
    "papers": ".st-key-way-to-quotation",
    "wishes": ".st-key-wish-front",
    "consultation": ".st-key-summary-key",
    "enquiry": ".st-key-vehicles",
    "": ".st-key-ways-B-0001",
}
OF_FIGURES = {
    *("weights", "electrical-set", "measured-on-the-road", "your-day", "working", "wishes")
}
"""Pages whose tables are alike: the plain run looks at that of charging and driving."""
WIDER = """() => {
  const main = document.querySelector('[data-testid=stMain]');
  return Math.max(document.documentElement.scrollWidth - window.innerWidth,
    main.scrollWidth - main.clientWidth);
}"""
CUT = """() => [...document.querySelectorAll('[data-testid=stMain] :is(button, a) *')]
  .filter(words => words.scrollWidth > words.clientWidth + 1
    && getComputedStyle(words).textOverflow === 'ellipsis')
  .map(words => words.innerText)"""
OVERPRINTED = """() => {
  const rects = cell => {
    const range = document.createRange();
    range.selectNodeContents(cell);
    return [...range.getClientRects()].filter(rect => rect.width > 0 && rect.height > 0);
  };
  const meet = (a, b) => a.left < b.right - 1 && b.left < a.right - 1
    && a.top < b.bottom - 1 && b.top < a.bottom - 1;
  const found = [];
  for (const row of document.querySelectorAll('table tr')) {
    const cells = [...row.cells].map(cell => [cell.innerText.trim(), rects(cell)]);
    cells.forEach(([words, drawn], place) => {
      for (const [others, beside] of cells.slice(place + 1)) {
        if (drawn.some(a => beside.some(b => meet(a, b)))) found.push(`${words} | ${others}`);
      }
    });
  }
  return found;
}"""


@pytest.fixture(scope="module")
def built(chromium: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The screens on the demonstration catalog, with one build for which everything is chosen."""
    data = tmp_path_factory.mktemp("columns") / "data"
    with serving_screens(data, free_port(), ROOT / "catalog") as address:
        page = chromium.new_page()
        page.set_default_timeout(60_000)
        vehicle = load_catalog(ROOT / "catalog").vehicles[0]
        enquire(page, address, vehicle.label)
        page.get_by_role("button", name="Let the workshop choose the rest").click()
        page.wait_for_selector("text=Everything is chosen.")
        page.close()
        yield address


def show(page: Page, address: str, place: str) -> None:
    page.goto(f"{address}/{place}?build=B-0001")
    if place == "measured-on-the-road":
        trips = page.get_by_role("textbox", name="Trips")
        trips.fill((trips.get_attribute("placeholder") or "").replace("9.8", "8"))
        trips.press("Control+Enter")
    page.wait_for_selector(PAGES[place])
    page.wait_for_selector("[data-testid=stApp][data-test-script-state=notRunning]")


@pytest.mark.parametrize(
    "place",
    [
        pytest.param(place, marks=pytest.mark.thorough if place in OF_FIGURES else ())
        for place in PAGES
    ],
)
def test_nothing_prints_over_another_sticks_out_or_is_cut_and_one_button_at_most_is_loud(
    page: Page, built: str, place: str
) -> None:
    show(page, built, place)
    loud = page.locator("[data-testid=stMain] button[kind^=primary]").all_inner_texts()
    assert len(loud) <= 1, loud
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        page.wait_for_timeout(300)
        assert (width, []) == (width, page.evaluate(OVERPRINTED))
        assert (width, True) == (width, page.evaluate(WIDER) <= 0)
        assert (width, []) == (width, page.evaluate(CUT))
