"""Times that a person waits at the screens, measured in Chromium.

Run it from the repository as `python -m tests.benchmarks.bench_screens`. The last rows are an
empty app with one button, started and clicked in the same run: below that no screen can come. The
last column is the ratio to it.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

from playwright.sync_api import Browser, Locator, Page

from tests.browser.chromium import browser
from tests.browser.server import TINY, free_port, serving, serving_screens
from tests.browser.talk import begin_talk

CLICKS = 15
SETTLE_MS = 300
WARM_MS = 10_000
"""By then the thread that warms the engines after a start has ended; during these seconds a pick
shares the processor with it and takes about twice as long."""

EMPTY_APP = """
import streamlit as st
st.session_state.setdefault("number", 0)
if st.button("More"):
    st.session_state["number"] += 1
st.html(f'<p data-number="{st.session_state["number"]}">an empty app</p>')
"""

CLICK_UNTIL_CHANGED = """
([target, watched, attribute]) => new Promise(resolve => {
    const roots = [document, ...[...document.querySelectorAll('*')]
        .map(element => element.shadowRoot).filter(root => root)];
    const find = selector => roots.map(root => root.querySelector(selector)).find(found => found);
    const before = document.querySelector(watched).getAttribute(attribute);
    const started = performance.now();
    const look = () => {
        const shown = document.querySelector(watched);
        if (shown && shown.getAttribute(attribute) !== before) resolve(performance.now() - started);
        else requestAnimationFrame(look);
    };
    find(target).click();
    requestAnimationFrame(look);
})
"""


# Resolves with the times until the tiles, the price, every figure and every reason are those of the
# draft after the click.
CLICK_UNTIL_RENEWED = """
([target]) => new Promise(resolve => {
    const roots = [document, ...[...document.querySelectorAll('*')]
        .map(element => element.shadowRoot).filter(root => root)];
    const find = selector => roots.map(root => root.querySelector(selector)).find(found => found);
    const questions = () => [...document.querySelectorAll('*')]
        .map(element => element.shadowRoot?.querySelector('[data-group]')).filter(root => root);
    const revision = () => Math.min(...questions().map(root => Number(root.dataset.revision)));
    const price = () => document.querySelector('[data-price-low]');
    const figures = () => document.querySelector('[data-figures-of]');
    const before = revision(), priceBefore = price().outerHTML;
    const started = performance.now(), times = {};
    const note = (what, is) => {
        if (is && !(what in times)) times[what] = performance.now() - started;
    };
    const areExplained = () => questions().every(root => root.dataset.explained === 'true');
    const look = () => {
        note('tiles', revision() > before);
        const areNew = figures() && Number(figures().dataset.figuresOf) > before;
        // A pick that costs nothing leaves the price as it was; the figures tell that it is of now.
        note('price', areNew || (price() && price().outerHTML !== priceBefore));
        note('figures', areNew);
        note('reasons', 'tiles' in times && areExplained());
        if (Object.keys(times).length === 4) resolve(times);
        else requestAnimationFrame(look);
    };
    find(target).click();
    requestAnimationFrame(look);
})
"""
RENEWED = ("tiles", "price", "figures", "reasons")


def main() -> int:
    """Measure and print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--catalog", type=Path, default=TINY, help="folder of the catalog")
    catalog = parser.parse_args().catalog.resolve()
    with tempfile.TemporaryDirectory() as folder, browser() as chromium:
        rows = _screens(chromium, catalog, Path(folder))
        start, click = _floor(chromium, Path(folder))
    sys.stdout.write(f"screens on {catalog.name}, {os.cpu_count()} cores\n")
    for what, value in [*rows, start, click]:
        ratio = f"{value / click[1]:8.1f} x floor" if what.startswith("pick") else ""
        sys.stdout.write(f"{what:<62}{value:>8.0f} ms{ratio}\n")
    return 0


def _screens(chromium: Browser, catalog: Path, folder: Path) -> list[tuple[str, float]]:
    started = perf_counter()
    with serving_screens(folder / "data", free_port(), catalog) as address:
        page = _page(chromium)
        page.goto(address)
        page.wait_for_selector("text=No vehicle is in talk yet")
        first_page = 1000 * (perf_counter() - started)
        begun = perf_counter()
        begin_talk(page, address, _first_vehicle(page, address))
        first_talk = 1000 * (perf_counter() - begun)
        first, again = _picks(page)
    return [
        ("start-up to the first page", first_page),
        ("enquiry typed and sent to the first talk", first_talk),
        *_renewed("first time", first),
        *_renewed("seen before", again),
    ]


def _renewed(when: str, picks: list[dict[str, float]]) -> list[tuple[str, float]]:
    rows = [(f"pick to the new {what}, {when}", median(p[what] for p in picks)) for what in RENEWED]
    whole = sorted(max(pick.values()) for pick in picks)
    return [
        *rows,
        (f"pick to everything renewed, {when}, median of {len(whole)}", median(whole)),
        (f"pick to everything renewed, {when}, worst", whole[-1]),
    ]


def _picks(page: Page) -> tuple[list[dict[str, float]], list[dict[str, float]]]:
    """Pick in each group of the page, so that each draft is new; then two drafts in turn."""
    page.locator("[data-group]").first.wait_for()
    page.wait_for_selector("[data-figures-of]", state="attached")
    groups = page.locator("[data-group]").all()
    first = [
        _pick(page, option)
        for place in (-1, 0)
        for group in groups
        for option in _possible(group, "false")[place:][:1]
    ]
    richest = max(groups, key=lambda group: group.locator("[data-option]").count())
    two = [*_possible(richest, "false"), *_possible(richest, "true")][:2]
    again = [_pick(page, two[number % 2]) for number in range(CLICKS + 2)]
    return first, again[2:]


def _pick(page: Page, option: str) -> dict[str, float]:
    waited: dict[str, float] = page.evaluate(CLICK_UNTIL_RENEWED, [option])
    page.wait_for_timeout(SETTLE_MS)
    return waited


def _possible(group: Locator, is_picked: str) -> list[str]:
    """Tell where the options of a group stand that can be picked, or that are."""
    name = group.get_attribute("data-group")
    state = f'[aria-disabled="false"][aria-checked="{is_picked}"]'
    tiles = group.locator(f"[data-option]{state}")
    options = [tile.get_attribute("data-option") for tile in tiles.all()]
    return [f'[data-group="{name}"] [data-option="{option}"]' for option in options]


def _first_vehicle(page: Page, address: str) -> str:
    page.goto(f"{address}/enquiry")
    choose = page.get_by_role("button", name="Choose the").first
    choose.wait_for()
    return choose.inner_text().removeprefix("Choose the ")


def _floor(chromium: Browser, folder: Path) -> tuple[tuple[str, float], tuple[str, float]]:
    script = folder / "empty_app.py"
    script.write_text(EMPTY_APP, "utf-8")
    started = perf_counter()
    with serving(script, free_port(), folder / "empty.log") as address:
        page = _page(chromium)
        page.goto(address)
        page.wait_for_selector("[data-number]")
        first_page = 1000 * (perf_counter() - started)
        arguments = ["[data-testid=stButton] button", "[data-number]", "data-number"]
        clicks = []
        for _ in range(CLICKS):
            clicks.append(page.evaluate(CLICK_UNTIL_CHANGED, arguments))
            page.wait_for_timeout(SETTLE_MS)
    return (
        ("floor: an empty app to its first page", first_page),
        (f"floor: a click in an empty app (median of {CLICKS})", median(clicks)),
    )


def _page(chromium: Browser) -> Page:
    page = chromium.new_page(viewport={"width": 1280, "height": 900})
    page.set_default_timeout(300_000)
    return page


if __name__ == "__main__":
    sys.exit(main())
