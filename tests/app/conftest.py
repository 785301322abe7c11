from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from tests.app.screens import ALONE, MAIN, TINY

Opener = Callable[..., AppTest]


@pytest.fixture
def open_screens(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Opener]:
    """Open the screens at their first page; the same data folder each time within a test.

    Somebody works there alone, unless a test says otherwise.
    """

    def opened(catalog: Path = TINY, solo: str | None = ALONE) -> AppTest:
        folders = ["--catalog", str(catalog), "--data", str(tmp_path / "data")]
        alone = [] if solo is None else ["--solo", solo]
        monkeypatch.setattr(sys, "argv", [str(MAIN), *folders, *alone])
        return AppTest.from_file(str(MAIN), default_timeout=60).run()

    yield opened
    st.cache_resource.clear()
