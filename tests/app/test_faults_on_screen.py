from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from configurator.app.screens import builds
from tests.app.conftest import Opener
from tests.app.screens import TINY, words


def broken_copy(folder: Path) -> Path:
    copy = folder / "broken"
    shutil.copytree(TINY, copy)
    cells = copy / "groups" / "cells.yaml"
    cells.write_text(cells.read_text("utf-8").replace("label: Cells", "lable: Cells"), "utf-8")
    return copy


def test_a_faulty_catalog_is_told_by_file_reason_and_remedy(open_screens: Opener, tmp_path: Path):
    screen = open_screens(broken_copy(tmp_path))
    said = words(screen)
    assert not screen.exception
    assert "The workshop cannot open yet" in said
    assert "groups/cells.yaml" in said
    assert "lable" in said


def test_a_missing_catalog_is_told_without_a_traceback(open_screens: Opener, tmp_path: Path):
    screen = open_screens(tmp_path / "nowhere")
    assert not screen.exception
    assert "The workshop cannot open yet" in words(screen)
    assert "Traceback" not in words(screen)


def test_a_mended_catalog_opens_at_the_next_look(open_screens: Opener, tmp_path: Path):
    copy = broken_copy(tmp_path)
    assert "cannot open yet" in words(open_screens(copy))
    shutil.copytree(TINY, copy, dirs_exist_ok=True)
    assert "No vehicle is in talk yet" in words(open_screens(copy))


def test_the_unexpected_is_said_calmly_and_its_details_go_to_the_log(
    open_screens: Opener, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
):
    def fail(*_arguments: object, **_names: object) -> None:
        message = "a secret detail"
        raise RuntimeError(message)

    monkeypatch.setattr(builds, "what_waits", fail)
    screen = open_screens()
    assert not screen.exception
    assert "Something went wrong that should not have" in words(screen)
    assert "secret detail" not in words(screen)
    assert "a secret detail" in caplog.text
