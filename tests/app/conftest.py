from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
import streamlit as st
from streamlit.testing.v1 import AppTest

from tests.app.screens import MAIN, TINY

Opener = Callable[..., AppTest]


@pytest.fixture
def open_screens(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Opener]:
    """Open the screens at their first page; the same data folder each time within a test."""

    def opened(catalog: Path = TINY) -> AppTest:
        monkeypatch.setattr(
            sys, "argv", [str(MAIN), "--catalog", str(catalog), "--data", str(tmp_path / "data")]
        )
        return AppTest.from_file(str(MAIN), default_timeout=60).run()

    yield opened
    st.cache_resource.clear()
