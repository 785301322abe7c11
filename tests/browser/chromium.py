"""The browser that the tests drive."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Browser, sync_playwright

ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]


def chromium_path() -> str:
    """Find Chromium; without one the test is skipped, in CI it fails."""
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    if path is not None:
        return path
    if os.environ.get("CI"):
        pytest.fail("no Chromium is installed; the browser tests must run here")
    pytest.skip("no Chromium is installed")


@contextmanager
def browser() -> Iterator[Browser]:
    """Start Chromium."""
    path = chromium_path()
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=path, args=ARGUMENTS)
        try:
            yield chromium
        finally:
            chromium.close()
