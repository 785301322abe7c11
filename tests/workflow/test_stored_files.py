from pathlib import Path

import pytest

from configurator.errors import DocumentError
from configurator.workflow import stored_files
from configurator.workflow.stored_files import write_once


def test_nothing_but_the_whole_file_is_left_behind(tmp_path: Path) -> None:
    path = write_once(tmp_path / "new" / "folder", "sheet", ".pdf", b"whole")
    assert b"whole" == path.read_bytes()
    assert [path] == list(path.parent.iterdir())


def test_a_file_that_breaks_off_leaves_no_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(stored_files.os, "fsync", full)
    with pytest.raises(DocumentError, match="No space left on device") as caught:
        write_once(tmp_path, "sheet", ".pdf", b"whole")
    assert ["P009"] == [fault.code for fault in caught.value.faults]
    assert [] == list(tmp_path.iterdir())


def test_a_file_system_without_links_works_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_path: Path, _target: Path) -> None:
        raise OSError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "hardlink_to", refuse)
    names = [write_once(tmp_path, "sheet", ".pdf", content).name for content in (b"1", b"2", b"1")]
    assert ["sheet.pdf", "sheet-2.pdf", "sheet.pdf"] == names
    assert ["sheet-2.pdf", "sheet.pdf"] == sorted(path.name for path in tmp_path.iterdir())
