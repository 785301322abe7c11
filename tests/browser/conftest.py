from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.chromium import browser
from tests.browser.server import free_port, serving_screens


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    with browser() as started:
        yield started


@pytest.fixture
def page(chromium: Browser) -> Iterator[Page]:
    """A page at 1280 × 900 that asks nobody but this machine."""
    opened = chromium.new_page(viewport={"width": 1280, "height": 900})
    opened.set_default_timeout(30_000)
    elsewhere: list[str] = []
    faults: list[str] = []
    opened.on(
        "request",
        lambda request: (
            None
            if request.url.startswith(("http://127.0.0.1:", "data:", "blob:"))
            else elsewhere.append(request.url)
        ),
    )
    opened.on("pageerror", lambda error: faults.append(str(error)))
    yield opened
    opened.close()
    assert elsewhere == []
    assert faults == []


@pytest.fixture(scope="session")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The screens on the tiny catalog, for all tests that begin a build of their own."""
    with serving_screens(tmp_path_factory.mktemp("screens") / "data", free_port()) as served:
        yield served
